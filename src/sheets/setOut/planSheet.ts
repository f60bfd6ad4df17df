/** The plan: joists with their datum ends, rooms, equipment, and every run at its true width with its number. */
import type { PlacedJoist } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import { joistWidthMm } from '#checks/refs.ts'
import { ARC, ELEMENT_STRIDE, END_X, KIND, LENGTH, START_X } from '#geometry/curve/centreline.ts'
import { pointAt, pointOfElement } from '#geometry/curve/measure.ts'
import type { Centreline } from '#geometry/curve/centreline.ts'
import { datumMark, dimensionChain, onPaper, tag, type Window } from '../drawing.ts'
import { drawingRoom, framed, scaleFor } from '../framed.ts'
import { fitted, textWidthMm } from '../letters.ts'
import type { SheetOptions } from '../options.ts'
import { area, line, text, type Mark, type Point, type Sheet } from '../page.ts'
import { footprint } from './footprint.ts'

/** Round the drawing for dimensions and the names at the joists' ends, mm of paper. */
const ROUND_MM = 15
/** A bend is drawn with chords as near as this on paper, mm. */
const CHORD_MM = 0.05
/** The datum is drawn when it lies no further from what is drawn than this share of its size. */
const DATUM_NEAR = 0.3

export function planSheet(context: CheckContext, options: SheetOptions): Sheet {
  const { assembly } = context, { job, solids, parts, joists } = assembly
  const joistOutlines = joists.map(outlineOf)
  const equipment = Array.from({ length: solids.count }, (_, i) => i).filter((i) => parts.kindOf(i) === 'body')
  const bodies = equipment.map((i) => ({ id: parts.ownerIdOf(i), outline: footprint(solids, i) }))
  const rooms = job.rooms.map(({ name, outline }) => ({ name, outline }))
  const ways = context.runs.map(({ placed }) => wayInPlan(placed.centreline))
  const drawn: Point[] = [...joistOutlines.flat(), ...bodies.flatMap(({ outline }) => outline), ...rooms.flatMap(({ outline }) => outline), ...ways.flat()]
  const [minX, maxX] = range(drawn.map(([x]) => x)), [minY, maxY] = range(drawn.map(([, y]) => y))
  const showsDatum = outside(0, minX, maxX) <= DATUM_NEAR * (maxX - minX) && outside(0, minY, maxY) <= DATUM_NEAR * (maxY - minY)
  const lowX = showsDatum ? Math.min(0, minX) : minX, highX = showsDatum ? Math.max(0, maxX) : maxX
  const lowY = showsDatum ? Math.min(0, minY) : minY, highY = showsDatum ? Math.max(0, maxY) : maxY
  const room = drawingRoom(options)
  const scale = scaleFor(highX - lowX, highY - lowY, room.widthMm - 2 * ROUND_MM, room.heightMm - 2 * ROUND_MM)
  const window: Window = {
    scale, site: [(lowX + highX) / 2, (lowY + highY) / 2], at: [room.x + room.widthMm / 2, room.y + room.heightMm / 2],
  }
  const paper = (points: readonly (readonly number[])[]): Point[] => points.map(([x, y]) => onPaper(window, x, y))
  const marks: Mark[] = []
  for (const { outline } of rooms) marks.push(line([...paper(outline), paper(outline)[0]], 0.18, 'grey', [1.5, 0.8]))
  for (const outline of joistOutlines) marks.push(area(paper(outline), 'white', 0.13, 'grey'))
  ways.forEach((way, i) => {
    const points = paper(way)
    marks.push({ kind: 'line', points, widthMm: Math.max(0.3, 2 * context.runs[i].placed.outerRadiusMm / scale), ink: 'pale', isRound: true }, { kind: 'line', points, widthMm: 0.25, ink: 'black', isRound: true })
  })
  for (const { outline } of bodies) marks.push(area(paper(outline), 'white', 0.35))
  for (const { name, outline } of rooms) marks.push(text(onPaper(window, ...middleOf(outline)), name, 2.8, 'middle', { ink: 'grey' }))
  joists.forEach((joist) => marks.push(...datumEnd(joist, window)))
  // by their numbers, as names would lie over each other; the lists have both
  bodies.forEach(({ id, outline }) => {
    const [x, y] = onPaper(window, ...middleOf(outline)), words = fitted(id, 2.5, 24)
    const sides = [0, 1].map((k) => (Math.max(...outline.map((point) => point[k])) - Math.min(...outline.map((point) => point[k]))) / scale)
    // along the body where it stands on end and is long enough that its name is seen to be its own
    const nameMm = textWidthMm(words, 2.5, true), isUp = sides[1] > sides[0] && nameMm > sides[0] && 3 * sides[1] > nameMm
    marks.push(text(isUp ? [x + 0.9, y] : [x, y + 0.9], words, 2.5, 'middle', { isBold: true, turnDeg: isUp ? 90 : 0 }))
  })
  context.runs.forEach(({ placed: { run, centreline } }, i) => {
    const at: [number, number, number] = [0, 0, 0]
    // not all in one place where runs lie side by side
    pointAt(centreline, centreline.lengthMm * (0.4 + 0.07 * (i % 5)), at)
    marks.push(...tag(onPaper(window, at[0], at[1]), fitted(run.id, 2.6, 20), Math.min(20, textWidthMm(run.id, 2.6)), 2.6))
  })
  if (showsDatum) marks.push(...datumMark(onPaper(window, 0, 0)))
  const left = onPaper(window, minX, 0)[0], right = onPaper(window, maxX, 0)[0], high = onPaper(window, 0, maxY)[1], low = onPaper(window, 0, minY)[1]
  if (drawn.length > 0) {
    marks.push(...dimensionChain(true, [left, right], low + 12, [`${Math.round(maxX - minX)}`]), ...dimensionChain(false, [low, high], left - 11, [`${Math.round(maxY - minY)}`]))
    marks.push(...chainOfJoists(joists, window, right + 8))
  }
  return framed(job, options, { id: 'plan', title: `Plan: joists and runs${showsDatum ? '' : ` (middle of the drawing at x ${Math.round(window.site[0])} y ${Math.round(window.site[1])})`}`, marks, scale })
}

/** From joist to joist of the field nearest to the right, where its joists run along x. The others are in the table of crossings. */
function chainOfJoists(joists: readonly PlacedJoist[], window: Window, fixed: number): Mark[] {
  const endOf = ({ origin, along, lengthMm }: PlacedJoist): number => Math.max(origin[0], origin[0] + along[0] * lengthMm)
  const last = joists.reduce<PlacedJoist | null>((best, joist) => best === null || endOf(joist) > endOf(best) ? joist : best, null)
  const field = joists.filter((joist) => joist.field === last?.field && Math.abs(joist.along[0]) > 1 - 1e-9)
  if (field.length < 2) return []
  const levels = field.map(({ origin }) => origin[1]).sort((a, b) => a - b)
  const words = levels.slice(1).map((y, i) => String(Math.round((y - levels[i]) * 10) / 10))
  const leastMm = Math.min(...levels.slice(1).map((y, i) => (y - levels[i]) / window.scale))
  return leastMm < 3.5 ? [] : dimensionChain(false, levels.map((y) => onPaper(window, 0, y)[1]), fixed, words, 'mark', 2.3)
}

/** A triangle at the end that the elevations measure from, and the joist's number. */
function datumEnd({ origin, along, joist, section }: PlacedJoist, window: Window): Mark[] {
  const [x, y] = onPaper(window, origin[0], origin[1]), dx = along[0], dy = -along[1]
  const half = Math.max(0.8, ('chordWidthMm' in section ? section.chordWidthMm : 60) / window.scale / 2)
  const turnDeg = Math.atan2(along[1], along[0]) * 180 / Math.PI, isBack = Math.abs(turnDeg) > 90.001
  const at: Point = [x - dx * 1.6 + (isBack ? -1 : 1) * dy * -0.6, y - dy * 1.6 + (isBack ? -1 : 1) * dx * 0.6]
  return [
    { kind: 'area', points: [[x, y], [x - 1.4 * dx + half * dy, y - 1.4 * dy - half * dx], [x - 1.4 * dx - half * dy, y - 1.4 * dy + half * dx]], fill: 'mark' },
    text(at, fitted(joist.id, 2.5, 12), 2.5, isBack ? 'start' : 'end', { turnDeg: isBack ? turnDeg + 180 : turnDeg }),
  ]
}

function outlineOf(joist: PlacedJoist): Point[] {
  const { origin: [ox, oy], along: [dx, dy], lengthMm } = joist, half = joistWidthMm(joist) / 2
  const corner = (a: number, n: number): Point => [ox + a * dx - n * dy, oy + a * dy + n * dx]
  return [corner(0, -half), corner(lengthMm, -half), corner(lengthMm, half), corner(0, half)]
}

/** The centreline seen from above, bends as short chords. */
export function wayInPlan({ elements, count }: Centreline): Point[] {
  const points: Point[] = [[elements[START_X], elements[START_X + 1]]]
  const at: [number, number, number] = [0, 0, 0]
  for (let i = 0; i < count; i++) {
    const e = i * ELEMENT_STRIDE
    const steps = elements[e + KIND] === ARC ? Math.max(4, Math.ceil(Math.sqrt(elements[e + LENGTH] / CHORD_MM / 8))) : 1
    for (let k = 1; k < steps; k++) {
      pointOfElement(elements, e, elements[e + LENGTH] * k / steps, at)
      points.push([at[0], at[1]])
    }
    points.push([elements[e + END_X], elements[e + END_X + 1]])
  }
  return points
}

function middleOf(outline: readonly (readonly number[])[]): [number, number] {
  const [minX, maxX] = range(outline.map(([x]) => x)), [minY, maxY] = range(outline.map(([, y]) => y))
  return [(minX + maxX) / 2, (minY + maxY) / 2]
}

function range(values: readonly number[]): [number, number] {
  let low = Infinity, high = -Infinity
  for (const value of values) {
    low = Math.min(low, value)
    high = Math.max(high, value)
  }
  return low <= high ? [low, high] : [0, 1000]
}

const outside = (value: number, low: number, high: number): number => Math.max(0, low - value, value - high)
