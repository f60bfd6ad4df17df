/** Loose solids and ceiling zones -> packed solids. */
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import type { SolidSetBuilder } from '#geometry/solid/build.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import type { Job, LooseSolid } from '#model/index.ts'
import type { Parts } from './parts.ts'
import { unitOf } from './place.ts'

/** @returns where each loose solid lies in the set, by its id */
export function addLooseSolids(job: Job, builder: SolidSetBuilder, parts: Parts): Map<string, number> {
  const indexOf = new Map<string, number>()
  for (const solid of job.solids) {
    indexOf.set(solid.id, addShape(solid.shape, builder))
    parts.add(parts.addOwner(solid.id, solid.name), 'whole', solid.class)
  }
  return indexOf
}

function addShape(shape: LooseSolid['shape'], builder: SolidSetBuilder): number {
  switch (shape.kind) {
    case 'box':
      return builder.addBox(shape.centre, shape.sizeMm.map((size) => size / 2), axesOfRotation(...shape.rotationDeg))
    case 'prism':
      return builder.addPrism(shape.origin, axesOfRotation(...shape.rotationDeg), shape.bottomMm, shape.topMm, ringsOf(shape))
    case 'cylinder': {
      const { from, to } = shape
      const axis = unitOf([to[0] - from[0], to[1] - from[1], to[2] - from[2]])
      const length = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2])
      return builder.addCylinder([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2, (from[2] + to[2]) / 2], axis, shape.diameterMm / 2, length / 2)
    }
    case 'tube': {
      const { centreline } = centrelineThrough(shape.points.flat(), shape.points.map(() => shape.bendRadiusMm))
      return builder.addTube(centreline, shape.diameterMm / 2)
    }
  }
}

export function addZones(job: Job, builder: SolidSetBuilder): void {
  for (const zone of job.zones) builder.addPrism([0, 0, 0], axesOfRotation(0, 0, 0), zone.undersideMm, zone.topMm, ringsOf(zone))
}

function ringsOf({ outline, holes }: { readonly outline: readonly (readonly number[])[], readonly holes: readonly (readonly (readonly number[])[])[] }): number[][] {
  return [outline.flat(), ...holes.map((hole) => hole.flat())]
}
