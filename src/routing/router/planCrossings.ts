/** Where one run passes over another, seen in plan. */
import type { PlacedRun } from '#assembly/assembly.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, TURN, type Centreline } from '#geometry/curve/centreline.ts'
import { pointOfElement } from '#geometry/curve/measure.ts'

export interface PlanCrossing {
  readonly overId: string
  readonly underId: string
  /** plan, mm */
  readonly at: readonly [number, number]
  /** from the upper duct's underside to the lower one's top, mm */
  readonly gapMm: number
}

/** Bends are looked at in chords of so much turn: what they cut off is less than a millimetre for any duct. */
const CHORD_RAD = Math.PI / 36

/** Every crossing of one of the first runs with another of them, or with one of the others. */
export function planCrossings(runs: readonly PlacedRun[], others: readonly PlacedRun[] = []): PlanCrossing[] {
  const chains = [...runs, ...others].map(({ centreline }) => chainOf(centreline))
  const all = [...runs, ...others]
  const crossings: PlanCrossing[] = []
  for (let i = 0; i < runs.length; i++) for (let j = i + 1; j < all.length; j++) {
    const a = chains[i], b = chains[j]
    if (a.box[0] > b.box[2] || a.box[2] < b.box[0] || a.box[1] > b.box[3] || a.box[3] < b.box[1]) continue
    eachMeeting(a.xyz, b.xyz, (x, y, za, zb) => {
      const [over, under] = za >= zb ? [all[i], all[j]] : [all[j], all[i]]
      crossings.push({ overId: over.run.id, underId: under.run.id, at: [x, y], gapMm: Math.abs(za - zb) - over.outerRadiusMm - under.outerRadiusMm })
    })
  }
  return crossings
}

interface Chain { readonly xyz: readonly number[], readonly box: readonly [number, number, number, number] }

function chainOf({ elements, count }: Centreline): Chain {
  const xyz: number[] = [], point = [0, 0, 0]
  let x0 = Infinity, y0 = Infinity, x1 = -Infinity, y1 = -Infinity
  for (let i = 0, e = 0; i < count; i++, e += ELEMENT_STRIDE) {
    const steps = elements[e + KIND] === ARC ? Math.max(1, Math.ceil(elements[e + TURN] / CHORD_RAD)) : 1
    for (let k = i === 0 ? 0 : 1; k <= steps; k++) {
      pointOfElement(elements, e, elements[e + LENGTH] * k / steps, point)
      xyz.push(point[0], point[1], point[2])
      x0 = Math.min(x0, point[0])
      x1 = Math.max(x1, point[0])
      y0 = Math.min(y0, point[1])
      y1 = Math.max(y1, point[1])
    }
  }
  return { xyz, box: [x0, y0, x1, y1] }
}

/** Half-open at the far end of each piece, so that a crossing at a joint counts once. */
function eachMeeting(a: readonly number[], b: readonly number[], take: (x: number, y: number, za: number, zb: number) => void): void {
  for (let i = 0; i + 3 < a.length; i += 3) for (let j = 0; j + 3 < b.length; j += 3) {
    const ux = a[i + 3] - a[i], uy = a[i + 4] - a[i + 1], wx = b[j + 3] - b[j], wy = b[j + 4] - b[j + 1]
    const sine = ux * wy - uy * wx
    if (sine === 0) continue
    const dx = b[j] - a[i], dy = b[j + 1] - a[i + 1], s = (dx * wy - dy * wx) / sine, t = (dx * uy - dy * ux) / sine
    if (s >= 0 && s < 1 && t >= 0 && t < 1) take(a[i] + s * ux, a[i + 1] + s * uy, a[i + 2] + s * (a[i + 5] - a[i + 2]), b[j + 2] + t * (b[j + 5] - b[j + 2]))
  }
}
