/** Which names are written on the plan: the weightier first, and none over another nor over a mark. Pure. */
import type { Point2 } from '#model/index.ts'

export interface Name {
  readonly key: string
  readonly words: string
  /** where its middle is to stand, px */
  readonly at: Point2
  /** smaller goes first */
  readonly weight: number
  /** where else it may stand, px */
  readonly orElse?: readonly Point2[]
  /** a line off it would name its neighbour: joists, runs */
  readonly stays?: boolean
}

const LINE_PX = 20
/** of a letter at 16 px, on the wide side */
const LETTER_PX = 9

/** left, top, right, bottom, px */
export type Box = readonly [number, number, number, number]

/** where a name goes that has no room at its own place: some lines up or down */
const LINES = [0, -1, 1, -2, 2], NO_OTHER = [0]

/** @param marked where nothing may be written */
export function namesThatFit(names: readonly Name[], widthPx: number, heightPx: number, marked: readonly Box[] = []): Name[] {
  const taken = [...marked]
  const kept: Name[] = []
  for (const name of names.toSorted((a, b) => a.weight - b.weight)) {
    const half = name.words.length * LETTER_PX / 2
    const places = [name.at, ...name.orElse ?? []].flatMap((at) => (name.stays === true ? NO_OTHER : LINES).map((line): Point2 => [at[0], at[1] + line * (LINE_PX + 2)]))
    for (const [x, y] of places) {
      const box: Box = [x - half, y - LINE_PX / 2, x + half, y + LINE_PX / 2]
      if (box[2] < 0 || box[0] > widthPx || box[3] < 0 || box[1] > heightPx) continue
      if (taken.some(other => box[0] < other[2] && box[2] > other[0] && box[1] < other[3] && box[3] > other[1])) continue
      taken.push(box)
      kept.push({ ...name, at: [x, y] })
      break
    }
  }
  return kept
}
