/** The points of a run on its strip: where they are drawn, and where on site a place on the strip is. Pure. */
import type { PlacedRun } from '#assembly/assembly.ts'
import { stationNear } from '#geometry/curve/stationNear.ts'
import type { Xyz } from '#scene/frame.ts'

export interface StripPoint {
  readonly index: number
  /** along the run: the middle of its bend, or where it lies on a straight */
  readonly stationMm: number
  /** its own, which a bend does not reach */
  readonly heightMm: number
}

export function stripPointsOf({ run: { waypoints }, bends, centreline }: Pick<PlacedRun, 'run' | 'bends' | 'centreline'>): StripPoint[] {
  return waypoints.map(({ at }, index) => ({
    index, heightMm: at[2],
    stationMm: index === 0 ? 0 : index === waypoints.length - 1 ? centreline.lengthMm
      : bends.find(({ waypointIndex }) => waypointIndex === index)?.stationMm ?? stationNear(centreline, ...at),
  }))
}

/** Two points of a run are never brought nearer than this in plan, mm. */
const APART_MM = 1

/**
 * A point moved on the upright surface that the strip is: on along the leg after it, back along the leg before it, as far in
 * plan as that leg goes; and to a height. Beyond an end it goes straight on.
 * @param points of the whole run, as they were when it was taken hold of
 * @param alongMm the way along the run, mm; negative is back
 * @param heightMm above the datum
 */
export function movedOnStrip(points: readonly Xyz[], index: number, alongMm: number, heightMm: number): Xyz {
  const [x, y] = points[index]
  const neighbour = points[alongMm > 0 ? index + 1 : index - 1]
  const towards = neighbour ?? points[alongMm > 0 ? index - 1 : index + 1]
  const dx = towards[0] - x, dy = towards[1] - y, planMm = Math.hypot(dx, dy), legMm = Math.hypot(planMm, towards[2] - points[index][2])
  // a riser has no way in plan
  if (planMm < APART_MM) return [x, y, heightMm]
  const wantedMm = Math.abs(alongMm) * planMm / legMm
  const share = neighbour === undefined ? -wantedMm / planMm : Math.min(wantedMm, Math.max(0, planMm - APART_MM)) / planMm
  return [x + dx * share, y + dy * share, heightMm]
}

/** 5 mm, with Shift 50: on and back along the run, up and down. Null for other keys. */
export function stepOnStrip(key: string, isFar: boolean): { readonly alongMm: number, readonly upMm: number } | null {
  const step = isFar ? 50 : 5
  switch (key) {
    case 'ArrowRight': return { alongMm: step, upMm: 0 }
    case 'ArrowLeft': return { alongMm: -step, upMm: 0 }
    case 'ArrowUp': return { alongMm: 0, upMm: step }
    case 'ArrowDown': return { alongMm: 0, upMm: -step }
    default: return null
  }
}

/** Which leg a place along the run lies on: the number that a new point there gets. */
export function newPointAt(points: readonly StripPoint[], stationMm: number): number {
  const next = points.findIndex((point) => point.stationMm > stationMm)
  return Math.min(Math.max(next < 0 ? points.length - 1 : next, 1), points.length - 1)
}
