import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import type { Run } from '#model/index.ts'
import { replaced } from '../../../editing/setOut.ts'

/** Runs as they would lie in the void as it is. */
export function placedOf(assembly: Assembly, runs: readonly Run[]): PlacedRun[] {
  return runs.flatMap((run) => replaced(assembly, assembly.job, run) ?? [])
}
