/** Which names are written on the plan: the weightier first, and none over another. Pure. */
import type { Point2 } from '#model/index.ts'

export interface Name {
  readonly key: string
  readonly words: string
  /** where its middle is to stand, px */
  readonly at: Point2
  /** smaller goes first */
  readonly weight: number
}

const LINE_PX = 20
/** of a letter at 16 px, on the wide side */
const LETTER_PX = 9

export function namesThatFit(names: readonly Name[], widthPx: number, heightPx: number): Name[] {
  const taken: (readonly [number, number, number, number])[] = []
  const kept: Name[] = []
  for (const name of names.toSorted((a, b) => a.weight - b.weight)) {
    const [x, y] = name.at, half = name.words.length * LETTER_PX / 2
    const box = [x - half, y - LINE_PX / 2, x + half, y + LINE_PX / 2] as const
    if (box[2] < 0 || box[0] > widthPx || box[3] < 0 || box[1] > heightPx) continue
    if (taken.some(other => box[0] < other[2] && box[2] > other[0] && box[1] < other[3] && box[3] > other[1])) continue
    taken.push(box)
    kept.push(name)
  }
  return kept
}
