import { useEffect, useMemo } from 'react'
import { DoubleSide, LineBasicMaterial, MeshLambertMaterial } from 'three'
import type { Material } from 'three'
import { PENCIL } from './palette.ts'

export interface VoidMaterials {
  /** coloured per instance */
  readonly boxes: Material
  readonly fadedBoxes: Material
  /** coloured per vertex */
  readonly merged: Material
  readonly fadedMerged: Material
  /** for what stands round the void, per instance and per vertex */
  readonly thinBoxes: Material
  readonly thinMerged: Material
  readonly fadedThinBoxes: Material
  readonly fadedThinMerged: Material
  readonly pencil: Material
  readonly fadedPencil: Material
}

/** Few materials, shared by all: swapping one is what fades a thing. */
export function useMaterials(): VoidMaterials {
  const made = useMemo(() => {
    // in one pass: both faces of a ghost look alike, whichever comes first
    const ghost = { transparent: true, depthWrite: false, forceSinglePass: true } as const
    return {
      boxes: new MeshLambertMaterial({ side: DoubleSide }),
      fadedBoxes: new MeshLambertMaterial({ ...ghost, side: DoubleSide, opacity: 0.12 }),
      merged: new MeshLambertMaterial({ vertexColors: true, side: DoubleSide }),
      fadedMerged: new MeshLambertMaterial({ ...ghost, vertexColors: true, opacity: 0.22 }),
      thinBoxes: new MeshLambertMaterial({ ...ghost, opacity: 0.3 }),
      thinMerged: new MeshLambertMaterial({ ...ghost, vertexColors: true, opacity: 0.3 }),
      fadedThinBoxes: new MeshLambertMaterial({ ...ghost, opacity: 0.06 }),
      fadedThinMerged: new MeshLambertMaterial({ ...ghost, vertexColors: true, opacity: 0.06 }),
      pencil: new LineBasicMaterial({ color: PENCIL, transparent: true, opacity: 0.5 }),
      fadedPencil: new LineBasicMaterial({ color: PENCIL, transparent: true, opacity: 0.1, depthWrite: false }),
    }
  }, [])
  useEffect(() => () => { for (const material of Object.values(made)) material.dispose() }, [made])
  return made
}
