/** One size of the work, ready to be asked about: the solids and runs as the product makes them from a job. */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import type { Centreline } from '#geometry/curve/centreline.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import type { Job } from '#model/index.ts'
import { houseJob, type Density } from './house.ts'

export type Size = 'S' | 'M' | 'L'
export const HOUSES: Record<Size, number> = { S: 1, M: 10, L: 100 }

export interface Instance {
  readonly size: Size
  readonly density: Density
  readonly job: Job
  readonly assembly: Assembly
  /** without the bodies that hold the runs' ends: what the peers are asked about too */
  readonly solids: SolidSet
  readonly curves: readonly Centreline[]
  readonly elementCount: number
}

const SEED = 20_260

const made = new Map<string, Instance>()

export function instanceOf(size: Size, density: Density): Instance {
  const key = `${size} ${density}`
  const there = made.get(key)
  if (there !== undefined) return there
  const job = houseJob({ seed: SEED, houses: HOUSES[size], density })
  const assembly = assemble(job)
  const instance = {
    size, density, job, assembly, solids: joistsOnly(assembly),
    curves: assembly.runs.map(({ centreline }) => centreline),
    elementCount: assembly.runs.reduce((sum, { centreline }) => sum + centreline.count, 0),
  }
  made.set(key, instance)
  return instance
}

/** Joists come first in a set, so the others are its tail. */
function joistsOnly({ solids, joists }: Assembly): SolidSet {
  const count = joists[joists.length - 1].endSolid
  return {
    count, kind: solids.kind.slice(0, count), offset: solids.offset.slice(0, count + 1),
    data: solids.data.slice(0, solids.offset[count]), bounds: solids.bounds.slice(0, 6 * count),
  }
}
