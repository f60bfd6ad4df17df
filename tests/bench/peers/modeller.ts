/**
 * A solid modeller (manifold-3d): boxes and tubes as closed meshes, and the gap between two of them by minGap, which is 0 however
 * deep they overlap. Which pairs to ask about it is told by our own index, at no cost to it. One house only: it takes about a second.
 */
import Module, { type Manifold, type ManifoldToplevel } from 'manifold-3d'
import { IndexList } from '#geometry/broad/indexList.ts'
import type { SolidGrid } from '#geometry/broad/solidGrid.ts'
import { ELEMENT_STRIDE, type Centreline } from '#geometry/curve/centreline.ts'
import { meshOfSolid } from '#geometry/mesh/meshOfSolid.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { NEAR_MM, OUTER_RADIUS_MM } from '../instance.ts'
import { SAGITTA_MM, type PeerAnswer } from './pieces.ts'

let library: ManifoldToplevel
export async function initModeller(): Promise<void> {
  library = await Module()
  library.setup()
}

export interface ModelledScene {
  readonly solids: readonly Manifold[]
  readonly tubes: readonly Manifold[]
  /** pairs worth asking about: run, solid, run, solid, ... and run, run, ... */
  readonly solidPairs: readonly number[]
  readonly runPairs: readonly number[]
}

export function modelledScene(set: SolidSet, curves: readonly Centreline[], grid: SolidGrid): ModelledScene {
  const builder = new SolidSetBuilder()
  for (const curve of curves) builder.addTube(curve, OUTER_RADIUS_MM)
  const tubeSet = builder.build(), found = new IndexList()
  const solidPairs: number[] = [], runPairs: number[] = []
  curves.forEach(({ elements, count }, run) => {
    const near = new Set<number>()
    for (let i = 0; i < count; i++) {
      const size = grid.nearElement(elements, i * ELEMENT_STRIDE, OUTER_RADIUS_MM + NEAR_MM, found)
      for (let j = 0; j < size; j++) near.add(found.items[j])
    }
    for (const solid of near) solidPairs.push(run, solid)
    for (let other = run + 1; other < curves.length; other++) runPairs.push(run, other)
  })
  return {
    solids: Array.from({ length: set.count }, (_, i) => asManifold(set, i)),
    tubes: curves.map((_, run) => asManifold(tubeSet, run)), solidPairs, runPairs,
  }
}

export function askModeller({ solids, tubes, solidPairs, runPairs }: ModelledScene): PeerAnswer {
  const toSolids = new Map<number, number>(), toRuns = new Map<number, number>()
  for (let i = 0; i < solidPairs.length; i += 2) {
    const gap = tubes[solidPairs[i]].minGap(solids[solidPairs[i + 1]], NEAR_MM)
    if (gap < NEAR_MM) toSolids.set(solidPairs[i] * solids.length + solidPairs[i + 1], gap)
  }
  for (let i = 0; i < runPairs.length; i += 2) {
    const gap = tubes[runPairs[i]].minGap(tubes[runPairs[i + 1]], NEAR_MM)
    if (gap < NEAR_MM) toRuns.set(runPairs[i] * tubes.length + runPairs[i + 1], gap)
  }
  return { solids: toSolids, runs: toRuns }
}

function asManifold(set: SolidSet, solid: number): Manifold {
  const { positions, indices } = meshOfSolid(set, solid, { chordErrorMm: SAGITTA_MM })
  const mesh = new library.Mesh({ numProp: 3, vertProperties: Float32Array.from(positions), triVerts: Uint32Array.from(indices) })
  mesh.merge()
  return new library.Manifold(mesh)
}
