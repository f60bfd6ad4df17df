import type { PlacedRun } from '#assembly/assembly.ts'
import type { Point2 } from '#model/index.ts'
import { toScreen, type PlanFrame } from './planFrame.ts'

/** The points of the run that is picked out, numbered as on its strip. In screen px. */
export function RunPoints({ frame, placed: { run } }: { readonly frame: PlanFrame, readonly placed: PlacedRun }) {
  const places = run.waypoints.map(({ at }) => toScreen(frame, [at[0], at[1]]))
  const hasRoom = numbersWithRoom(places)
  return <g className="plan-points" pointerEvents="none">{numberedLast(hasRoom).map((i) => <PointMark key={i} at={places[i]} number={hasRoom[i] ? i + 1 : null} />)}</g>
}

/** @param number null where there is no room for it */
export function PointMark({ at: [x, y], number, isHeld = false }: { readonly at: Point2, readonly number: number | null, readonly isHeld?: boolean }) {
  const half = number === null ? 6 : 11
  return (
    <>
      <rect x={x - half} y={y - half} width={2 * half} height={2 * half} rx="3" className={isHeld ? 'is-held' : undefined} />
      {number !== null && <text x={x} y={y}>{number}</text>}
    </>
  )
}

/** In which order they are drawn: no number is covered. */
export function numberedLast(hasRoom: readonly boolean[]): number[] {
  return hasRoom.map((_, i) => i).sort((a, b) => Number(hasRoom[a]) - Number(hasRoom[b]))
}

const ROOM_PX = 22

/** Which points can be numbered without covering one another: of two too near to each other the first, but the held one always. */
export function numbersWithRoom(places: readonly Point2[], held = -1): boolean[] {
  const kept: Point2[] = held in places ? [places[held]] : []
  return places.map((at, i) => {
    if (i === held) return true
    if (kept.some(([x, y]) => Math.max(Math.abs(x - at[0]), Math.abs(y - at[1])) < ROOM_PX)) return false
    kept.push(at)
    return true
  })
}
