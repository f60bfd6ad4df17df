/** What is free round a run at one place: straight up, down, left and right of it, square to its way. */
import type { BoxIndex } from '#geometry/broad/boxIndex.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { directionAt, pointAt } from '#geometry/curve/measure.ts'
import { TOP, UNDERSIDE } from '#geometry/envelope/voidEnvelope.ts'
import { rayDistance } from '#geometry/ray/rayDistance.ts'
import { rayToTube, tubeHolds } from '#geometry/ray/rayToTube.ts'
import { distanceToSolid } from '#geometry/solid/inside.ts'
import { SAME_POINT_MM } from '#geometry/tolerance.ts'
import type { CheckContext } from './context.ts'
import type { PartRef, Place } from './finding.ts'
import { placeOf, runRef, solidRef } from './refs.ts'

export interface FreeWay {
  /** from the duct's surface to the first surface that way, mm; negative when that lies within the duct, null when nothing lies that way */
  readonly freeMm: number | null
  readonly part: PartRef | null
  /** where the ray meets it */
  readonly at: Place | null
}

export interface ClearancesAt {
  readonly stationMm: number
  /** on the centreline, and the way of the run there */
  readonly at: Place
  readonly direction: Place
  /** square to the run: as nearly up as that allows (along +x where the run itself goes straight up or down), and its left */
  readonly up: Place
  readonly left: Place
  readonly above: FreeWay
  readonly below: FreeWay
  readonly leftOf: FreeWay
  readonly rightOf: FreeWay
}

/** Nothing is looked for further than this, mm. */
const FARTHEST_MM = 20_000

/** @param stationMm brought back to the run's own. Own spigots, sleeves and holes are left out where the run may touch them. */
export function clearancesAt(context: CheckContext, runIndex: number, stationMm: number): ClearancesAt {
  const { centreline } = context.runs[runIndex].placed
  const station = Math.min(Math.max(stationMm, 0), centreline.lengthMm)
  const at: Vec = [0, 0, 0], direction: Vec = [0, 0, 0]
  pointAt(centreline, station, at)
  directionAt(centreline, station, direction)
  const up = uprightTo(direction)
  // left of the way is up x direction
  const left: Vec = [up[1] * direction[2] - up[2] * direction[1], up[2] * direction[0] - up[0] * direction[2], up[0] * direction[1] - up[1] * direction[0]]
  const look = (way: Vec): FreeWay => firstThatWay(context, runIndex, station, at, way)
  return {
    stationMm: station, at: placeOf(at), direction: placeOf(direction), up: placeOf(up), left: placeOf(left),
    above: look(up), below: look(opposite(up)), leftOf: look(left), rightOf: look(opposite(left)),
  }
}

type Vec = [number, number, number]

function opposite([x, y, z]: Vec): Vec {
  return [-x, -y, -z]
}

function uprightTo([x, y, z]: Vec): Vec {
  const level = Math.hypot(x, y)
  if (level < 1e-9) return [1, 0, 0]
  const ux = 0 - z * x, uy = 0 - z * y, uz = 1 - z * z, size = Math.hypot(ux, uy, uz)
  return [ux / size, uy / size, uz / size]
}

const found = new IndexList()
const reaches = [300, 1_200, FARTHEST_MM]

function firstThatWay(context: CheckContext, runIndex: number, stationMm: number, at: Vec, way: Vec): FreeWay {
  const { placed, contacts } = context.runs[runIndex]
  const { solids } = context.assembly
  let t = Infinity, part: PartRef | null = null
  const offer = (mm: number, ref: () => PartRef): void => {
    if (!(mm < t)) return
    t = mm
    part = ref()
  }
  const mayTouch = (solidIndex: number): boolean => (contacts.get(solidIndex) ?? []).some(({ fromMm, toMm }) => stationMm >= fromMm && stationMm <= toMm)
  for (const reachMm of reaches) {
    const [x, y, z] = [at[0] + reachMm * way[0], at[1] + reachMm * way[1], at[2] + reachMm * way[2]]
    nearRay(context.grid.index, at, [x, y, z])
    for (let i = 0; i < found.count; i++) {
      const solidIndex = found.items[i]
      if (context.isSound[solidIndex] === 0 || mayTouch(solidIndex)) continue
      const isInside = distanceToSolid(solids, solidIndex, at[0], at[1], at[2], foot) < 0
      offer(isInside ? 0 : rayDistance(solids, solidIndex, at, way), () => solidRef(context.assembly, solidIndex))
    }
    if (t <= reachMm) break
  }
  context.runs.forEach(({ placed: other }, otherIndex) => {
    if (otherIndex === runIndex) return
    const { elements, count } = other.centreline
    const mm = rayToTube(elements, 0, count, other.outerRadiusMm, at, way)
    // a ray that starts in the other duct meets it at once
    if (mm < t) offer(tubeHolds(elements, 0, count, other.outerRadiusMm, at[0], at[1], at[2]) ? 0 : mm, () => runRef(other))
  })
  offerVoid(context, at, way, offer)
  if (part === null || t > FARTHEST_MM) return { freeMm: null, part: null, at: null }
  return { freeMm: t - placed.outerRadiusMm, part, at: { x: at[0] + t * way[0], y: at[1] + t * way[1], z: at[2] + t * way[2] } }
}

const foot = new Float64Array(3)

const rayEnds = new Float64Array(6)

function nearRay(index: BoxIndex, from: Vec, to: Vec): void {
  rayEnds.set(from)
  rayEnds.set(to, 3)
  index.nearLeg(rayEnds, 0, SAME_POINT_MM, found)
}

function offerVoid({ envelope, assembly }: CheckContext, at: Vec, way: Vec, offer: (mm: number, ref: () => PartRef) => void): void {
  if (envelope === null) return
  const { sheets, sheetZone, sheetFace, grid } = envelope
  nearRay(grid.index, at, [at[0] + FARTHEST_MM * way[0], at[1] + FARTHEST_MM * way[1], at[2] + FARTHEST_MM * way[2]])
  for (let i = 0; i < found.count; i++) {
    const sheet = found.items[i]
    offer(rayDistance(sheets, sheet, at, way), () => {
      const { id, name } = assembly.job.zones[sheetZone[sheet]], face = sheetFace[sheet]
      const side = face === UNDERSIDE ? 'underside' : face === TOP ? 'top' : 'side'
      return { id, part: side, name: `the ${side} of ${name}` }
    })
  }
}
