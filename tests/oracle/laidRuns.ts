/**
 * A slow judge of laid runs that shares no distance with src: signed distances of points (solidDistance.ts, curveDistance.ts), bracketed
 * along every leg and bend by halving, so that no miss deeper than BRACKET_MM is passed over. Where a run may touch what its own
 * spigot is on, and for the void, points every STEP_MM are looked at. For runs of semi-rigid duct from spigot to spigot.
 */
import { assemble } from '#assembly/assemble.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, STATION } from '#geometry/curve/centreline.ts'
import { BOX, CYLINDER, PRISM, TUBE, type SolidSet } from '#geometry/solid/solidSet.ts'
import type { Job, SolidClass } from '#model/index.ts'
import { pointToElement } from './curveDistance.ts'
import { bracketLeast, elementPoint, prismDistance, signedDistance } from './solidDistance.ts'

type Point = readonly [number, number, number]
type Distance = (p: Point) => number

export interface Miss { readonly runId: string, readonly what: string, readonly mm: number }

export const BRACKET_MM = 0.01
const STEP_MM = 2, VOID_STEP_MM = 10
/** a run just at what is asked is no miss, mm */
const ROUNDING_MM = 1e-6
const MOST_SAMPLES = 200_000
/** a bend this short tells nothing of its radius, mm; a tenth of a degree between two pieces is more than a thousandth of a bend turns */
const SHORT_MM = 2, KINK_RAD = 0.0018

/** What the laid runs lack, by name of what they lack it to. */
export function missesOf(job: Job, runIds: readonly string[]): Miss[] {
  const { solids, parts, runs, zones } = assemble(job)
  const misses: Miss[] = []
  const required = (className: SolidClass): number => requiredMm(job, className)
  const bodies = Array.from({ length: solids.count }, (_, i) => ({ bounds: [...solids.bounds.subarray(6 * i, 6 * i + 6)], distance: distanceTo(solids, i), owner: parts.ownerIdOf(i), className: parts.classOf(i) }))
  const rooms = Array.from({ length: zones.count }, (_, i) => prismDistance(zones.data, zones.offset[i]))
  for (const placed of runs) {
    if (!runIds.includes(placed.run.id)) continue
    const { run: { id, waypoints }, type, from, to, centreline: { elements, count, lengthMm }, outerRadiusMm } = placed
    if (type.kind !== 'semi-rigid' || !isSpigot(from) || !isSpigot(to)) throw new Error(`missesOf: run ${id} is not semi-rigid from spigot to spigot`)
    const note = (what: string, mm: number): void => { if (mm > ROUNDING_MM) misses.push({ runId: id, what, mm }) }
    note('its first mouth', apart(waypoints[0].at, from.at))
    note('its last mouth', apart(waypoints.at(-1)!.at, to.at))
    misses.push(...shapeMisses(placed, job))
    const zoneMm = ([from, to] as const).map(({ equipment, spigot }) => outerRadiusMm + required(equipment.kind) + spigot.lengthMm)
    const boxes = Array.from({ length: count }, (_, k) => boxOf(elements, k * ELEMENT_STRIDE))
    for (const { bounds, distance, owner, className } of bodies) {
      const neededMm = outerRadiusMm + required(className), isOwn = [from, to].map(({ equipment }) => equipment.id === owner)
      for (let k = 0; k < count; k++) {
        if (!isNear(boxes[k], bounds, neededMm + 1)) continue
        const e = k * ELEMENT_STRIDE
        if (isOwn[0] || isOwn[1]) {
          for (let at = 0; at <= elements[e + LENGTH]; at += STEP_MM) {
            const station = elements[e + STATION] + at
            if (isOwn[0] && station < zoneMm[0] || isOwn[1] && station > lengthMm - zoneMm[1]) continue
            note(owner, neededMm - distance(elementPoint(elements, e, at / elements[e + LENGTH])))
          }
        } else note(owner, neededMm - BRACKET_MM - bracketLeast(elements, e, distance, BRACKET_MM, MOST_SAMPLES).low)
      }
    }
    for (const other of runs) {
      if (other === placed) continue
      const neededMm = outerRadiusMm + other.outerRadiusMm + required('duct'), theirs = other.centreline
      for (let k = 0; k < count; k++) {
        const near = Array.from({ length: theirs.count }, (_, j) => j * ELEMENT_STRIDE).filter((e) => isNear(boxes[k], boxOf(theirs.elements, e), neededMm + 1))
        if (near.length > 0) note(other.run.id, neededMm - BRACKET_MM - bracketLeast(elements, k * ELEMENT_STRIDE, (p) => Math.min(...near.map((e) => pointToElement(theirs.elements, e, p))), BRACKET_MM, MOST_SAMPLES).low)
      }
    }
    for (let k = 0; rooms.length > 0 && k < count; k++) {
      const e = k * ELEMENT_STRIDE, length = elements[e + LENGTH]
      for (let at = 0; at <= length; at += VOID_STEP_MM) {
        const station = elements[e + STATION] + at
        if (station < zoneMm[0] || station > lengthMm - zoneMm[1]) continue
        const middle = elementPoint(elements, e, at / length)
        for (const way of ALL_ROUND) {
          const skin: Point = [middle[0] + outerRadiusMm * way[0], middle[1] + outerRadiusMm * way[1], middle[2] + outerRadiusMm * way[2]]
          const outMm = Math.min(...rooms.map((room) => room(skin)))
          if (outMm > 0) note('the void', outMm)
        }
      }
    }
  }
  return misses
}

/** Bends no tighter than the duct takes and straights at the spigots, from points and directions alone; the pieces join without a kink. */
function shapeMisses({ run: { id }, type, from, to, centreline: { elements, count } }: PlacedRun, { settings: { connection, straightAtSpigot } }: Job): Miss[] {
  if (type.kind !== 'semi-rigid') return []
  const misses: Miss[] = []
  for (let k = 0; k < count; k++) {
    const e = k * ELEMENT_STRIDE
    if (elements[e + KIND] === ARC && elements[e + LENGTH] > SHORT_MM) {
      const [a, b, c] = [0, 0.5, 1].map((part) => elementPoint(elements, e, part))
      const radiusMm = circleThrough(a, b, c)
      if (radiusMm < type.minBendRadiusMm - BRACKET_MM) misses.push({ runId: id, what: `bend ${k}`, mm: type.minBendRadiusMm - radiusMm })
    }
    if (k === 0) continue
    const before = e - ELEMENT_STRIDE, gapMm = apart(elementPoint(elements, before, 1), elementPoint(elements, e, 0))
    const kink = apart(directionAt(elements, before, 1), directionAt(elements, e, 0))
    if (gapMm > ROUNDING_MM) misses.push({ runId: id, what: `joint ${k}`, mm: gapMm })
    if (kink > KINK_RAD) misses.push({ runId: id, what: `kink ${k}`, mm: kink })
  }
  for (const [end, k, part] of [[from, 0, 0], [to, count - 1, 1]] as const) {
    if (!isSpigot(end)) continue
    const e = k * ELEMENT_STRIDE, out = directionAt(elements, e, part), cos = (part === 0 ? 1 : -1) * out.reduce((sum, value, i) => sum + value * end.axis[i], 0)
    const offDeg = Math.acos(Math.min(1, cos)) * 180 / Math.PI
    if (offDeg > connection.offDeg) misses.push({ runId: id, what: `axis of ${end.name}`, mm: offDeg })
    const straightMm = straightAtSpigot[end.equipment.kind === 'unit' ? 'unitDiameters' : 'otherDiameters'] * type.outerDiameterMm
    const missingMm = elements[e + KIND] === ARC ? straightMm : straightMm - elements[e + LENGTH]
    if (missingMm > ROUNDING_MM) misses.push({ runId: id, what: `straight at ${end.name}`, mm: missingMm })
  }
  return misses
}

function requiredMm({ settings: { clearanceMm, clearances } }: Job, className: SolidClass): number {
  const speaks = (one: string): boolean => one === className || one === 'any'
  const own = clearances.filter(({ between: [a, b] }) => (a === 'duct' || a === 'any') && speaks(b) || (b === 'duct' || b === 'any') && speaks(a))
  const named = (k: number) => own.filter(({ between }) => between.filter((one) => one !== 'any').length === k).at(-1)
  return (named(2) ?? named(1) ?? named(0))?.mm ?? clearanceMm
}

function distanceTo({ kind, data, offset }: SolidSet, i: number): Distance {
  if (kind[i] === BOX || kind[i] === CYLINDER || kind[i] === PRISM) return signedDistance(kind[i] as typeof BOX, data, offset[i])
  if (kind[i] !== TUBE) throw new Error(`distanceTo: solid ${i} is of kind ${kind[i]}`)
  const s = offset[i], elements = Array.from({ length: data[s + 1] }, (_, k) => s + 2 + k * ELEMENT_STRIDE)
  return (p) => Math.min(...elements.map((e) => pointToElement(data, e, p))) - data[s]
}

const ALL_ROUND: readonly Point[] = [-1, 0, 1].flatMap((x) => [-1, 0, 1].flatMap((y) => [-1, 0, 1].flatMap((z): Point[] => {
  const size = Math.hypot(x, y, z)
  return size === 0 ? [] : [[x / size, y / size, z / size]]
})))

function apart(a: readonly number[], b: readonly number[]): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
}

/** Over a thousandth of the piece. */
function directionAt(elements: Float64Array, e: number, part: 0 | 1): number[] {
  const p = elementPoint(elements, e, part === 0 ? 0 : 0.999), q = elementPoint(elements, e, part === 0 ? 0.001 : 1), size = apart(p, q)
  return q.map((value, i) => (value - p[i]) / size)
}

/** Radius of the circle through three points: the product of the sides over four times the area. */
function circleThrough(a: Point, b: Point, c: Point): number {
  const [ux, uy, uz] = b.map((value, i) => value - a[i]), [wx, wy, wz] = c.map((value, i) => value - a[i])
  return apart(a, b) * apart(b, c) * apart(c, a) / (2 * Math.hypot(uy * wz - uz * wy, uz * wx - ux * wz, ux * wy - uy * wx))
}

function boxOf(elements: Float64Array, e: number): number[] {
  const points = Array.from({ length: 17 }, (_, k) => elementPoint(elements, e, k / 16)), strayMm = elements[e + KIND] === ARC ? elements[e + LENGTH] / 16 : 0
  return [...[0, 1, 2].map((i) => Math.min(...points.map((p) => p[i])) - strayMm), ...[0, 1, 2].map((i) => Math.max(...points.map((p) => p[i])) + strayMm)]
}

function isNear(a: readonly number[], b: readonly number[], reachMm: number): boolean {
  return [0, 1, 2].every((i) => a[i] - reachMm <= b[i + 3] && b[i] - reachMm <= a[i + 3])
}
