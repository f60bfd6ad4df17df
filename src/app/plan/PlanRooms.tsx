import { memo } from 'react'
import type { Job, Point2 } from '#model/index.ts'
import { isPick, type PlanPick } from './planPick.ts'
import { edgesOf, nearestOnEdge } from './snapPoint.ts'
import { linePath, ringsPath } from './svgPath.ts'

interface Picked { readonly pick: PlanPick | null }

export const PlanRooms = memo(({ rooms, pick }: { readonly rooms: Job['rooms'] } & Picked) => rooms.map(({ id, outline, doors }) => (
  <g key={id} data-pick={`room:${id}`} className={isPick(pick, 'room', id) ? 'plan-room is-picked' : 'plan-room'}>
    <path d={ringsPath([outline])} />
    {doors.map((door, i) => <path key={i} className="plan-door" d={doorPath(outline, door.at, door.widthMm)} />)}
  </g>
)))

export const PlanZones = memo(({ zones, pick }: { readonly zones: Job['zones'] } & Picked) => zones.map(({ id, outline, holes }) => (
  // only its edge is touched, so that rooms below it can be
  <g key={id} data-pick={`zone:${id}`} className={isPick(pick, 'zone', id) ? 'plan-zone is-picked' : 'plan-zone'}>
    <path className="plan-zone-area" d={ringsPath([outline, ...holes])} fillRule="evenodd" />
    <path className="plan-reach" d={ringsPath([outline, ...holes])} />
  </g>
)))

/** The leaf as wide as the door, standing open, and the quarter circle that it swings. */
function doorPath(outline: readonly Point2[], at: Point2, widthMm: number): string {
  let best: { readonly offMm: number, readonly along: Point2 } | null = null
  for (const edge of edgesOf(outline)) {
    const on = nearestOnEdge(edge, at), offMm = Math.hypot(on[0] - at[0], on[1] - at[1])
    const [[ax, ay], [bx, by]] = edge, long = Math.hypot(bx - ax, by - ay)
    if (long > 0 && (best === null || offMm < best.offMm)) best = { offMm, along: [(bx - ax) / long, (by - ay) / long] }
  }
  const [x, y] = best?.along ?? [1, 0]
  const half = widthMm / 2
  const hinge: Point2 = [at[0] - x * half, at[1] - y * half], shut: Point2 = [at[0] + x * half, at[1] + y * half]
  const open: Point2 = [hinge[0] - y * widthMm, hinge[1] + x * widthMm]
  return `${linePath([shut, hinge, open])}A${widthMm} ${widthMm} 0 0 0 ${shut[0]} ${shut[1]}`
}
