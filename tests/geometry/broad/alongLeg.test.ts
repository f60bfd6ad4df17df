import { expect, test } from 'vitest'
import { BoxIndex } from '#geometry/broad/boxIndex.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE } from '#geometry/clearance/answer.ts'
import { legBox } from '#geometry/clearance/legBox.ts'
import { START_X } from '#geometry/curve/centreline.ts'
import { between, legFrom, pick, seeded, type Vec } from '../../oracle/drawnElements.ts'
import { packBox } from '../../oracle/drawnSolids.ts'

const SEED = 907
const WORLD: [Vec, Vec, Vec] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]]

test.each([
  ['a flat floor', 300],
  ['a tall stack', 8_000],
])(`%s: a look along a leg misses no member within reach, names each once, and names none that a box round the leg does not hold (seed ${SEED})`, (_, height) => {
  const draw = seeded(SEED), out = new IndexList(1), around = new IndexList(1), answer = new Float64Array(ANSWER_SIZE)
  const boxes: number[] = [], packed: Float64Array[] = []
  for (let i = 0; i < 600; i++) {
    const at: Vec = [between(draw, 0, 9_000), between(draw, 0, 9_000), between(draw, 0, height)]
    const half: Vec = i % 20 === 0 ? [i % 40 === 0 ? 5_000 : 48, i % 40 === 0 ? 48 : 5_000, 24] : [pick(draw, [1, 20, 150, 0]), pick(draw, [1, 20, 150]), between(draw, 0, 150)]
    boxes.push(...at.map((c, k) => c - half[k]), ...at.map((c, k) => c + half[k]))
    packed.push(packBox(at, half, WORLD))
  }
  const index = new BoxIndex(Float64Array.from(boxes))
  let named = 0, held = 0
  for (let n = 0; n < 500; n++) {
    const start: Vec = [between(draw, -500, 9_500), between(draw, -500, 9_500), between(draw, -200, height + 200)]
    const step = pick<Vec>(draw, [[0, 0, 0], [between(draw, -4_000, 4_000), 0, 0], [0, between(draw, -4_000, 4_000), 0], [between(draw, -4_000, 4_000), between(draw, -4_000, 4_000), between(draw, -100, 100)], [between(draw, -4_000, 4_000), between(draw, -4_000, 4_000), between(draw, -4_000, 4_000)]])
    const end: Vec = [start[0] + step[0], start[1] + step[1], start[2] + step[2]]
    const reach = pick(draw, [0, 1, 70, 500, Infinity]), leg = legFrom(start, end)
    index.nearLeg(leg, START_X, reach, out)
    const found = new Set(out.items.subarray(0, out.count))
    expect(found.size).toBe(out.count)
    packed.forEach((box, i) => { if (legBox(leg, 0, box, 0, reach, answer) <= reach) expect(found.has(i), `box ${i} of look ${n}`).toBe(true) })
    const grow = reach + 1e-5
    index.near(...start.map((c, k) => Math.min(c, end[k]) - grow) as Vec, ...start.map((c, k) => Math.max(c, end[k]) + grow) as Vec, around)
    const inBox = new Set(around.items.subarray(0, around.count))
    for (const i of found) expect(inBox.has(i)).toBe(true)
    if (reach === Infinity) continue
    named += found.size
    held += inBox.size
  }
  expect(named).toBeLessThan(0.9 * held)
})
