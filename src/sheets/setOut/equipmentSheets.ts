/** A drawing for the unit and for each manifold: where it stands from two walls, and which way its spigots face. */
import type { CheckContext } from '#checks/context.ts'
import { arrow, onPaper, tag, type Window } from '../drawing.ts'
import { drawingRoom, framed, scaleFor } from '../framed.ts'
import { fitted, textWidthMm } from '../letters.ts'
import type { SheetOptions } from '../options.ts'
import { area, circle, line, text, type Mark, type Point, type Sheet } from '../page.ts'
import { cellWords } from '../table.ts'
import { bodiesOf, wayWords, type Body } from './bodies.ts'

/** An arrow's length on paper, mm; round the drawing there is room for it and a name. */
const ARROW_MM = 7
const ROUND_MM = 14

export function equipmentSheets(context: CheckContext, options: SheetOptions): Sheet[] {
  return bodiesOf(context).filter(({ equipment: { kind } }) => kind === 'unit' || kind === 'manifold').map((body) => equipmentSheet(context, options, body))
}

function equipmentSheet({ assembly: { job } }: CheckContext, options: SheetOptions, body: Body): Sheet {
  const { equipment, outline, bottomMm, topMm, spigots, standing: { room: inRoom, walls } } = body
  const room = drawingRoom(options), listMm = Math.min(room.widthMm * 0.36, 110), widthMm = room.widthMm - listMm - 4
  const drawn: Point[] = [...outline, ...walls.flatMap(({ sideFoot, middleFoot }) => [sideFoot, middleFoot]), ...spigots.map(({ placed: { at } }): Point => [at[0], at[1]])]
  const xs = drawn.map(([x]) => x), ys = drawn.map(([, y]) => y)
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  const scale = scaleFor(maxX - minX, maxY - minY, widthMm - 2 * ROUND_MM, room.heightMm - 10 - 2 * ROUND_MM, 5)
  const window: Window = { scale, site: [(minX + maxX) / 2, (minY + maxY) / 2], at: [room.x + widthMm / 2, room.y + 8 + (room.heightMm - 8) / 2] }
  const at = ([x, y]: Point): Point => onPaper(window, x, y)
  const marks: Mark[] = [text([room.x, room.y + 4], fitted(`${equipment.name}, seen from above`, 4, widthMm, true), 4, 'start', { isBold: true })]
  for (const { wall: [a, b], sideFoot, middleFoot } of walls) {
    // as much of the wall's face as lies beside the drawing
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]), way: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length]
    const along = (p: Point): number => (p[0] - a[0]) * way[0] + (p[1] - a[1]) * way[1]
    const from = Math.max(0, Math.min(along(sideFoot), along(middleFoot)) - 8 * scale), to = Math.min(length, Math.max(along(sideFoot), along(middleFoot)) + 8 * scale)
    const face = [from, to].map((s): Point => at([a[0] + s * way[0], a[1] + s * way[1]]))
    marks.push(line(face, 0.7))
    for (let s = from; s <= to - 2 * scale; s += 3 * scale) {
      const p = at([a[0] + s * way[0], a[1] + s * way[1]]), q = at([a[0] + (s + 2 * scale) * way[0] + 2 * scale * way[1], a[1] + (s + 2 * scale) * way[1] - 2 * scale * way[0]])
      marks.push(line([p, q], 0.13, 'grey'))
    }
  }
  marks.push(area(outline.map(at), 'pale', 0.4))
  for (const { middleMm, sideMm, middleFoot, sideFoot, sideAt } of walls) {
    marks.push(...measured(at(middleFoot), at([equipment.centre[0], equipment.centre[1]]), cellWords(middleMm, 0)), ...measured(at(sideFoot), at(sideAt), cellWords(sideMm, 0)))
  }
  const [cx, cy] = at([equipment.centre[0], equipment.centre[1]])
  marks.push(line([[cx - 3, cy], [cx + 3, cy]], 0.18), line([[cx, cy - 3], [cx, cy + 3]], 0.18))
  const listed: string[][] = []
  for (const { placed: { at: mouth, axis, spigot }, runs } of spigots) {
    const p = at([mouth[0], mouth[1]]), level = Math.hypot(axis[0], axis[1])
    if (level > 0.2) marks.push(...arrow(p, [p[0] + ARROW_MM * axis[0], p[1] - ARROW_MM * axis[1]]))
    else marks.push(circle(p, Math.max(0.8, spigot.diameterMm / 2 / scale), 0.25), axis[2] > 0 ? circle(p, 0.5, 0.2, 'black', 'black') : line([[p[0] - 0.7, p[1] - 0.7], [p[0] + 0.7, p[1] + 0.7]], 0.25))
    const label = fitted(spigot.id, 2.3, 12)
    marks.push(...tag([p[0] + (level > 0.2 ? (ARROW_MM + 4) * axis[0] : 0), p[1] - (level > 0.2 ? (ARROW_MM + 2.5) * axis[1] : -1 - spigot.diameterMm / 2 / scale)], label, textWidthMm(label, 2.3), 2.3))
    listed.push([spigot.id, cellWords(spigot.diameterMm, 0), wayWords(axis), cellWords(mouth[2], 0), runs.length === 0 ? 'blank off' : runs.map(({ id }) => id).join(', ')])
  }
  const left = room.x + room.widthMm - listMm
  let y = room.y + 4
  const say = (words: string, isBold = false): void => {
    marks.push(text([left, y], fitted(words, 2.4, listMm, isBold), 2.4, 'start', { isBold }))
    y += 4
  }
  say(inRoom === null ? 'It stands in no room of the job: from the datum' : `In ${inRoom.name}`, true)
  if (walls.length === 0) say(`middle at x ${cellWords(equipment.centre[0], 0)}, y ${cellWords(equipment.centre[1], 0)}`)
  for (const { name, sideMm, middleMm } of walls) say(`${name}: ${cellWords(sideMm, 0)} to its side, ${cellWords(middleMm, 0)} to its middle`)
  say(`underside at ${cellWords(bottomMm, 0)}, top at ${cellWords(topMm, 0)} above the datum`)
  y += 2
  const starts = [0, 0.16, 0.27, 0.66, 0.8]
  for (const cells of [['Spigot', 'Ø', 'Faces', 'Level', 'Run'], ...listed]) {
    if (y > room.y + room.heightMm) break
    cells.forEach((cell, c) => marks.push(text([left + starts[c] * listMm, y], fitted(cell, 2.4, ((starts[c + 1] ?? 1) - starts[c]) * listMm - 1), 2.4, 'start', { isBold: cells[0] === 'Spigot' && cells[1] === 'Ø' })))
    y += 3.6
  }
  return framed(job, options, { id: `stands-${equipment.id}`, title: `${equipment.name}: where it stands`, marks, scale })
}

/** A dimension along any line, its figure beside the middle. */
function measured(from: Point, to: Point, words: string): Mark[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  if (length < 0.5) return []
  const middle: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
  let turnDeg = -Math.atan2(to[1] - from[1], to[0] - from[0]) * 180 / Math.PI
  if (turnDeg > 90.01) turnDeg -= 180
  if (turnDeg < -89.99) turnDeg += 180
  const rad = turnDeg * Math.PI / 180
  const off: Point = [middle[0] - Math.sin(rad) * 0.8, middle[1] - Math.cos(rad) * 0.8]
  const ticks = [from, to].map(([x, y]): Mark => line([[x - 0.7, y + 0.7], [x + 0.7, y - 0.7]], 0.25, 'mark'))
  return [line([from, to], 0.13, 'mark'), ...ticks, text(off, words, 2.6, 'middle', { turnDeg, ink: 'mark' })]
}
