/** The edges of boxes as line segments: what makes pale timber read as timber in bright light. */
import type { Assembly } from '#assembly/assembly.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import type { Frame } from './frame.ts'
import { MM_PER_UNIT } from './frame.ts'

/** Above this many boxes the lines would run into one another, and are left out. */
export const MOST_OUTLINED = 6_000

/** corner signs of the 12 edges of a box, two corners each, along u, v, w */
const EDGES: readonly number[] = [
  ...[[-1, -1], [-1, 1], [1, -1], [1, 1]].flatMap(([a, b]) => [-1, a, b, 1, a, b]),
  ...[[-1, -1], [-1, 1], [1, -1], [1, 1]].flatMap(([a, b]) => [a, -1, b, a, 1, b]),
  ...[[-1, -1], [-1, 1], [1, -1], [1, 1]].flatMap(([a, b]) => [a, b, -1, a, b, 1]),
]

/** @returns scene x, y, z of both ends of each line; empty when there are too many boxes */
export function pencilLinesOf(assembly: Assembly, frame: Frame, only?: readonly number[]): Float32Array {
  const { solids } = assembly
  const chosen = only ?? Array.from({ length: solids.count }, (_, i) => i)
  const boxes = chosen.filter((i) => solids.kind[i] === BOX)
  if (boxes.length > MOST_OUTLINED) return new Float32Array(0)
  const out = new Float32Array(boxes.length * EDGES.length)
  let o = 0
  for (const solid of boxes) {
    const s = solids.offset[solid]
    for (let k = 0; k < EDGES.length; k += 3) {
      for (let row = 0; row < 3; row++) {
        let at = solids.data[s + row] - frame.originMm[row]
        for (let axis = 0; axis < 3; axis++) at += EDGES[k + axis] * solids.data[s + 3 + axis] * solids.data[s + 6 + axis * 3 + row]
        out[o++] = at / MM_PER_UNIT
      }
    }
  }
  return out
}
