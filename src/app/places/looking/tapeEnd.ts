import type { Assembly } from '#assembly/assembly.ts'
import type { TapeEnd } from '#checks/tape.ts'
import type { Selection } from '#scene/selection.ts'

/** What was touched as an end of the tape; null for what has no surface. */
export function endOf(assembly: Assembly, selection: Selection | null): TapeEnd | null {
  if (selection?.kind === 'solid') return { kind: 'solid', solidIndex: selection.solidIndex }
  if (selection?.kind !== 'run') return null
  const runIndex = assembly.runs.findIndex(({ run }) => run.id === selection.runId)
  return runIndex < 0 ? null : { kind: 'run', runIndex }
}
