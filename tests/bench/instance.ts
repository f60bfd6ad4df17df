/**
 * One size of the work, ready to be asked about: houses of 30 open-web joists, about 2,000 boxes, and 20 runs of 90 mm duct
 * each (fixtures/generate/houseJob.ts), as the product makes solids and runs of them. 'blind': laid without looking, so that
 * nearly every run clashes; 'threaded': 18 of 20 clear their house's joists and each other.
 */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import type { Centreline } from '#geometry/curve/centreline.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import type { Job } from '#model/index.ts'
import { houseJob } from '../../fixtures/generate/houseJob.ts'

export type Density = 'blind' | 'threaded'
export const OUTER_RADIUS_MM = 45
/** clearances below this are asked for */
export const NEAR_MM = 25

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
  const laid = houseJob({ seed: SEED, houses: HOUSES[size], threaded: density === 'threaded' ? 18 : 0 })
  // so that the product's checks look as far as everything else here does
  const job: Job = { ...laid, settings: { ...laid.settings, clearanceMm: NEAR_MM, clearances: [] } }
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
