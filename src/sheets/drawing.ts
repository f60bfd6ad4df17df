/** From site to paper: a window of a plane on site, drawn at a scale. */
import { line, text, type Ink, type Mark, type Point } from './page.ts'

export interface Window {
  /** 1:n */
  readonly scale: number
  /** the site point, in the plane, that lies at `at` on the page; site v counts up, the page's y down */
  readonly site: readonly [number, number]
  readonly at: Point
}

export function onPaper({ scale, site, at }: Window, u: number, v: number): Point {
  return [at[0] + (u - site[0]) / scale, at[1] - (v - site[1]) / scale]
}

const TICK_MM = 1.2

/**
 * A chain of dimensions square to the page: places along it in mm of paper, and what is written between each two.
 * @param fixed where the chain lies across; `horizontal` its way
 */
export function dimensionChain(horizontal: boolean, places: readonly number[], fixed: number, words: readonly string[], ink: Ink = 'mark', sizeMm = 2.2): Mark[] {
  const at = (along: number, off = 0): Point => horizontal ? [along, fixed - off] : [fixed - off, along]
  const marks: Mark[] = [line([at(places[0]), at(places[places.length - 1])], 0.13, ink)]
  for (const place of places) {
    const [x, y] = at(place)
    marks.push(line([[x - TICK_MM / 2, y + TICK_MM / 2], [x + TICK_MM / 2, y - TICK_MM / 2]], 0.25, ink))
  }
  words.forEach((word, i) => {
    const middle = (places[i] + places[i + 1]) / 2
    marks.push(text(at(middle, 0.8), word, sizeMm, 'middle', { turnDeg: horizontal ? 0 : 90, ink }))
  })
  return marks
}

/** An arrow with a filled head at its far end. */
export function arrow(from: Point, to: Point, ink: Ink = 'black', widthMm = 0.25): Mark[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  if (length === 0) return []
  const dx = (to[0] - from[0]) / length, dy = (to[1] - from[1]) / length, head = Math.min(2.2, length / 2)
  const back: Point = [to[0] - head * dx, to[1] - head * dy], side = head * 0.32
  return [line([from, back], widthMm, ink), { kind: 'area', points: [to, [back[0] - side * dy, back[1] + side * dx], [back[0] + side * dy, back[1] - side * dx]], fill: ink }]
}

/** The datum, where 0,0 lies: a cross in a ring, with the ways that x and y count. */
export function datumMark([x, y]: Point): Mark[] {
  return [
    { kind: 'ellipse', at: [x, y], halfMm: [2, 2], turnDeg: 0, widthMm: 0.3, ink: 'mark' },
    ...arrow([x - 3, y], [x + 9, y], 'mark', 0.3), ...arrow([x, y + 3], [x, y - 9], 'mark', 0.3),
    text([x + 9.5, y + 0.8], 'x', 2.4, 'start', { ink: 'mark' }), text([x, y - 9.8], 'y', 2.4, 'middle', { ink: 'mark' }),
    text([x - 2.2, y + 4.4], 'datum 0,0', 2.2, 'end', { ink: 'mark' }),
  ]
}

/** A text on a white ground, so that it reads over what lies under it. */
export function tag(at: Point, words: string, widthMm: number, sizeMm = 2.2, ink: Ink = 'black'): Mark[] {
  const half = widthMm / 2 + 0.5
  return [
    { kind: 'area', points: [[at[0] - half, at[1] - sizeMm * 0.85], [at[0] + half, at[1] - sizeMm * 0.85], [at[0] + half, at[1] + sizeMm * 0.45], [at[0] - half, at[1] + sizeMm * 0.45]], fill: 'white', widthMm: 0.13, ink },
    text([at[0], at[1] + sizeMm * 0.1], words, sizeMm, 'middle', { ink }),
  ]
}
