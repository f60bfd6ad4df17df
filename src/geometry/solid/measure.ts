import { ELEMENT_STRIDE, LENGTH } from '../curve/centreline.ts'
import { ringsOf } from './degenerate.ts'
import { ringAreaMm2, ringLengthMm } from './ring.ts'
import { BOX, CYLINDER, PRISM } from './solidSet.ts'
import type { SolidSet } from './solidSet.ts'

export interface SolidMeasure {
  readonly volumeMm3: number
  readonly areaMm2: number
  /** the two half spheres of a tube's round ends, not counted in the other two; 0 for other kinds */
  readonly endsVolumeMm3: number
  readonly endsAreaMm2: number
}

/**
 * Volume and surface area of a solid, exact.
 * A tube is measured from end to end of its centreline by Pappus's centroid theorem (section times the path of its
 * centre), its round ends apart. Where a tube meets itself, or turns a sharp corner, what overlaps counts twice.
 */
export function measureSolid(set: SolidSet, solidIndex: number): SolidMeasure {
  const { data } = set, s = set.offset[solidIndex]
  switch (set.kind[solidIndex]) {
    case BOX: {
      const a = 2 * data[s + 3], b = 2 * data[s + 4], c = 2 * data[s + 5]
      return withoutEnds(a * b * c, 2 * (a * b + b * c + c * a))
    }
    case PRISM: {
      const height = data[s + 13] - data[s + 12], rings = ringsOf(data, s)
      const area = rings.reduce((sum, ring) => sum + ringAreaMm2(ring), 0)
      const around = rings.reduce((sum, ring) => sum + ringLengthMm(ring), 0)
      return withoutEnds(area * height, 2 * area + around * height)
    }
    case CYLINDER: {
      const radius = data[s + 6], length = 2 * data[s + 7]
      return withoutEnds(Math.PI * radius * radius * length, 2 * Math.PI * radius * (length + radius))
    }
    default: {
      const radius = data[s]
      let length = 0
      for (let i = 0; i < data[s + 1]; i++) length += data[s + 2 + i * ELEMENT_STRIDE + LENGTH]
      return {
        volumeMm3: Math.PI * radius * radius * length, areaMm2: 2 * Math.PI * radius * length,
        endsVolumeMm3: 4 / 3 * Math.PI * radius ** 3, endsAreaMm2: 4 * Math.PI * radius * radius,
      }
    }
  }
}

function withoutEnds(volumeMm3: number, areaMm2: number): SolidMeasure {
  return { volumeMm3, areaMm2, endsVolumeMm3: 0, endsAreaMm2: 0 }
}
