import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { BoxIndex } from '#geometry/broad/boxIndex.ts'
import { BoxTree } from '#geometry/broad/boxTree.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { sortKeys } from '#geometry/broad/sortKeys.ts'
import { between, pick, seeded, type Draw } from '../../oracle/drawnElements.ts'

const SEED = 51

/** Every box that meets the asked one, looked at one by one. */
const scanned = (boxes: Float64Array, q: readonly number[]) => {
  const found: number[] = []
  for (let i = 0, b = 0; b < boxes.length; i++, b += 6) {
    if ([0, 1, 2].every((k) => boxes[b + k] <= q[3 + k] && boxes[b + 3 + k] >= q[k])) found.push(i)
  }
  return found
}

const box = (x: number, y: number, z: number, dx: number, dy: number, dz: number) => [x - dx / 2, y - dy / 2, z - dz / 2, x + dx / 2, y + dy / 2, z + dz / 2]
const many = (draw: Draw, count: number, one: (draw: Draw, i: number) => number[]) => Float64Array.from(Array.from({ length: count }, (_, i) => one(draw, i)).flat())

/** Fields of boxes that each index finds hard in its own way. */
const fields: [string, (draw: Draw) => Float64Array][] = [
  ['nothing', () => new Float64Array(0)],
  ['a single web', () => Float64Array.from(box(0, 0, 0, 2, 40, 300))],
  ['joists of a house: 10 m chords beside small webs', (draw) => many(draw, 600, (d, i) => (i % 10 === 0
    ? box(400 * (i / 10 >> 1), 5000, i % 20 ? 280 : 23, 97, 10_000, 47) : box(400 * Math.floor(i / 20), between(d, 0, 10_000), 152, 2, 40, 210)))],
  ['the same under a slab and beside a wall', (draw) => many(draw, 500, (d, i) => (i === 7 ? box(5000, 5000, 400, 12_000, 12_000, 200)
    : i === 8 ? box(-100, 5000, 0, 150, 12_000, 2600) : box(between(d, 0, 10_000), between(d, 0, 10_000), 152, 2, 40, 210)))],
  ['everything in one place', (draw) => many(draw, 500, (d) => box(7, 8, 9, between(d, 1, 50), 20, 20))],
  ['everything in the very same place', (draw) => many(draw, 300, () => box(7, 8, 9, 10, 20, 20))],
  ['two sites 500 km apart', (draw) => many(draw, 400, (d, i) => box(between(d, 0, 3000) + (i % 2) * 5e8, between(d, 0, 3000), between(d, 0, 300), 10, 40, 200))],
  ['points', (draw) => many(draw, 400, (d) => box(between(d, 0, 1000), between(d, 0, 1000), between(d, 0, 1000), 0, 0, 0))],
  ['points in a row', (draw) => many(draw, 400, (d) => box(between(d, 0, 1000), 5, 5, 0, 0, 0))],
  ['sizes from a screw to a street', (draw) => many(draw, 500, (d) => box(between(d, 0, 9000), between(d, 0, 9000), between(d, 0, 9000), 10 ** between(d, 0, 5), 10 ** between(d, 0, 4), 10 ** between(d, 0, 3)))],
]

const asked = (draw: Draw, boxes: Float64Array): number[] => {
  const i = 6 * Math.floor(draw() * boxes.length / 6)
  const at = boxes.length > 0 && draw() < 0.8 ? [boxes[i], boxes[i + 1], boxes[i + 2]] : [between(draw, -1000, 11_000), between(draw, -1000, 11_000), between(draw, -500, 500)]
  const reach = pick(draw, [0, 50, 500, 3000, 1e6])
  return box(at[0], at[1], at[2], pick(draw, [0, reach, 2000]), reach, pick(draw, [0, reach]))
}

describe.each(fields)(`%s (seed ${SEED})`, (_, field) => {
  test('finds exactly what a look at every box finds, each once', () => {
    const draw = seeded(SEED), boxes = field(draw), out = new IndexList(1)
    const index = new BoxIndex(boxes), tree = new BoxTree(boxes)
    for (let i = 0; i < 400; i++) {
      const [x0, y0, z0, x1, y1, z1] = asked(draw, boxes)
      const expected = scanned(boxes, [x0, y0, z0, x1, y1, z1])
      for (const finder of [index, tree]) {
        expect(finder.near(x0, y0, z0, x1, y1, z1, out)).toBe(expected.length)
        expect(Array.from(out.items.subarray(0, out.count)).sort((a, b) => a - b)).toEqual(expected)
      }
    }
  })

  test('handed to another thread it finds the same', () => {
    const draw = seeded(SEED), boxes = field(draw), a = new IndexList(), b = new IndexList()
    const index = new BoxIndex(boxes), there = new BoxIndex(structuredClone(index.packed))
    for (let i = 0; i < 20; i++) {
      const [x0, y0, z0, x1, y1, z1] = asked(draw, boxes)
      index.near(x0, y0, z0, x1, y1, z1, a)
      there.near(x0, y0, z0, x1, y1, z1, b)
      expect(b.items.slice(0, b.count)).toEqual(a.items.slice(0, a.count))
    }
  })
})

const sixOf = (most: number) => fc.array(fc.integer({ min: -most, max: most }), { minLength: 6, maxLength: 6 })

test(`a box exactly touching is found (seed ${SEED})`, () => {
  fc.assert(fc.property(fc.array(sixOf(4), { maxLength: 40 }), sixOf(5), (given, q) => {
    const boxes = Float64Array.from(given.flatMap((b) => [0, 1, 2].map((k) => Math.min(b[k], b[k + 3])).concat([0, 1, 2].map((k) => Math.max(b[k], b[k + 3])))))
    const out = new IndexList()
    const query = [0, 1, 2].map((k) => Math.min(q[k], q[k + 3])).concat([0, 1, 2].map((k) => Math.max(q[k], q[k + 3])))
    new BoxIndex(boxes).near(query[0], query[1], query[2], query[3], query[4], query[5], out)
    expect(Array.from(out.items.subarray(0, out.count)).sort((a, b) => a - b)).toEqual(scanned(boxes, query))
  }), { seed: SEED, numRuns: 2000 })
})

test('keys are sorted, equal ones in their given order', () => {
  const draw = seeded(SEED)
  const keys = Uint32Array.from({ length: 5000 }, () => Math.floor(draw() * pick(draw, [10, 1000, 2 ** 30])))
  const expected = Array.from(keys.keys()).sort((a, b) => keys[a] - keys[b] || a - b)
  expect(Array.from(sortKeys(keys))).toEqual(expected)
})
