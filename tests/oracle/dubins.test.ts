/** The shortest courses and the lower bounds that routes are measured against. */
import { describe, expect, it } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { directionAt } from '#geometry/curve/measure.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { routerFloor } from '../../fixtures/generate/routerFloors.ts'
import { dubinsPaths, endOfDubins, shortestDubins, type Pose } from './dubins.ts'
import { leastFreeLength, leastLengthOf } from './leastLength.ts'
import { seeded } from './seeded.ts'

const SEED = 1957
const pose = (x: number, y: number, headingRad: number): Pose => ({ x, y, headingRad })
const START = pose(0, 0, 0)

describe('shortest curvature-bounded paths in the plane', () => {
  it.each([
    // closed forms: straight on; half a circle; three arcs of pi/3, 5 pi/3, pi/3 to face about on the spot; a whole circle and a step aside
    [START, pose(4, 0, 0), 1, 4], [START, pose(0, 2, Math.PI), 1, Math.PI], [START, pose(0, 0, Math.PI), 1, 7 * Math.PI / 3],
    [START, pose(2, 2, Math.PI / 2), 1, Math.PI / 2 + Math.SQRT2], [START, pose(0, 1, 0), 1, 2 * Math.PI + 1],
    // two arcs of atan(3/4) + ... : circles 4 aside and 2 across part at 0.927295 = acos(0.6)
    [START, pose(4, 4, 0), 1, 4 + 2 * Math.acos(0.6)],
    // lengths found by two programs independent of this one, Walker's Dubins-Curves library among them
    [START, pose(4, 4, Math.PI / 2), 1, 5.8134370139], [pose(1, 1, Math.PI / 4), pose(-3, -3, -Math.PI / 4), 1, 9.47540184],
    [START, pose(1, 0, Math.PI), 1, 7.0519788562], [START, pose(10, 5, Math.PI / 2), 2, 11.6855963989],
    [START, pose(1000, 400, 0), 250, 1082.3133915548], [START, pose(3000, 1200, Math.PI / 2), 160, 3275.7612436017],
  ])('from %o to %o at radius %d: %d', (from, to, radius, length) => {
    expect(shortestDubins(from, to, radius).length).toBeCloseTo(length, 8)
  })

  it('the words of the cases above are those that the literature names', () => {
    const word = (to: Pose, radius = 1): string => shortestDubins(START, to, radius).word
    expect([word(pose(4, 4, 0)), word(pose(4, 4, Math.PI / 2)), word(pose(1000, 400, 0), 250), word(pose(1, 0.1, Math.PI)), word(pose(1, -0.1, Math.PI))]).toEqual(['LSR', 'LSL', 'LSR', 'RLR', 'LRL'])
    // to face about on the spot both ways round are as long
    expect(['RLR', 'LRL']).toContain(word(pose(0, 0, Math.PI)))
  })

  it('three arcs join only circles up to four radii apart, and are the shortest only with the middle one above half a turn', () => {
    // at 10 radii there is no LRL (a test of Walker's library)
    expect(dubinsPaths(START, pose(10, 0, 0), 1).map(({ word }) => word)).not.toContain('LRL')
    const random = seeded(SEED)
    let seen = 0
    for (let k = 0; k < 3000; k++) {
      const path = shortestDubins(START, drawn(random, 4), 1)
      if (path.word !== 'LRL' && path.word !== 'RLR') continue
      seen++
      expect(path.pieces[1]).toBeGreaterThan(Math.PI - 1e-9)
    }
    expect(seen).toBeGreaterThan(50)
  })

  it(`every path of every word ends where it should, seed ${SEED}`, () => {
    const random = seeded(SEED)
    const words = new Set<string>()
    for (let k = 0; k < 2000; k++) {
      const from = drawn(random, 6), to = drawn(random, 6), radius = 0.2 + 2 * random()
      for (const path of dubinsPaths(from, to, radius)) {
        words.add(path.word)
        const end = endOfDubins(from, path, radius)
        expect(Math.hypot(end.x - to.x, end.y - to.y)).toBeLessThan(1e-6)
        expect(Math.abs(Math.sin((end.headingRad - to.headingRad) / 2))).toBeLessThan(1e-6)
      }
    }
    expect([...words].sort()).toEqual(['LRL', 'LSL', 'LSR', 'RLR', 'RSL', 'RSR'])
  })

  it(`no way round by another pose is shorter, and there and back are as long, seed ${SEED}`, () => {
    const random = seeded(SEED)
    for (let k = 0; k < 5000; k++) {
      const from = drawn(random, 4), to = drawn(random, 4), by = drawn(random, 4)
      const direct = shortestDubins(from, to, 1).length
      expect(shortestDubins(from, by, 1).length + shortestDubins(by, to, 1).length).toBeGreaterThan(direct - 1e-8)
      expect(shortestDubins(turnedBack(to), turnedBack(from), 1).length).toBeCloseTo(direct, 8)
    }
  })
})

describe('what no course can be shorter than', () => {
  it('is exact where a course turns the same way and as far at both ends: the plane’s own shortest', () => {
    // (4, 4) facing up: LSL, arcs of 45 degrees at both ends of a straight of 4 sqrt 2 less two tangents: D + 2 (pi/4 - sin pi/4)
    expect(leastFreeLength([0, 0, 0], [1, 0, 0], [4, 4, 0], [0, 1, 0], 1)).toBeCloseTo(shortestDubins(START, pose(4, 4, Math.PI / 2), 1).length, 9)
    // half a circle to a point beside it
    expect(leastFreeLength([0, 0, 0], [1, 0, 0], [0, 2, 0], [-1, 0, 0], 1)).toBeCloseTo(Math.PI, 9)
    // straight on, and with ends that may point anywhere
    expect(leastFreeLength([0, 0, 0], [1, 0, 0], [7, 0, 0], [1, 0, 0], 1)).toBeCloseTo(7, 9)
    expect(leastFreeLength([0, 0, 0], null, [3, 4, 12], null, 1)).toBeCloseTo(13, 9)
  })

  it(`is never above the shortest in the plane, and at least the straight line, seed ${SEED}`, () => {
    const random = seeded(SEED)
    let close = 0
    for (let k = 0; k < 5000; k++) {
      const from = drawn(random, 12), to = drawn(random, 12)
      const bound = leastFreeLength([from.x, from.y, 0], heading(from), [to.x, to.y, 0], heading(to), 1)
      const shortest = shortestDubins(from, to, 1).length
      expect(bound).toBeLessThan(shortest + 1e-8)
      expect(bound).toBeGreaterThan(Math.hypot(to.x - from.x, to.y - from.y) - 1e-8)
      if (bound > 0.98 * shortest) close++
    }
    // worth something: in a third of them within 2 %
    expect(close).toBeGreaterThan(1600)
  })

  it(`no rounded course in space is shorter, seed ${SEED}`, () => {
    const random = seeded(SEED)
    let judged = 0, tightest = Infinity
    for (let k = 0; k < 4000; k++) {
      const corners = 2 + Math.floor(4 * random())
      const points = Array.from({ length: 3 * corners }, () => 12 * random() - 6)
      const { centreline, bends } = centrelineThrough(points, Array.from({ length: corners }, () => 1))
      if (bends.some(({ radiusMm }) => radiusMm < 1)) continue
      const out: [number, number, number] = [0, 0, 0], into: [number, number, number] = [0, 0, 0]
      directionAt(centreline, 0, out)
      directionAt(centreline, centreline.lengthMm, into)
      const at = (i: number): [number, number, number] => [points[3 * i], points[3 * i + 1], points[3 * i + 2]]
      const bound = leastFreeLength(at(0), out, at(corners - 1), into, 1)
      expect(centreline.lengthMm).toBeGreaterThan(bound - 1e-7)
      judged++
      if (bends.length > 0) tightest = Math.min(tightest, centreline.lengthMm / bound)
    }
    expect(judged).toBeGreaterThan(1000)
    // so close that a bound a few per cent too large would have been found out
    expect(tightest).toBeLessThan(1.01)
  })

  it('of the runs of a floor: straight, in space, and in the plane where their ends lie in one', () => {
    const { runs } = assemble(routerFloor({ family: 'aligned', runs: 19, seed: SEED }))
    for (const run of runs) {
      const { straightMm, freeMm, planarMm } = leastLengthOf(run)
      expect(straightMm).toBeGreaterThan(0)
      expect(freeMm).toBeGreaterThanOrEqual(straightMm - 1e-6)
      if (planarMm !== null) expect(planarMm).toBeGreaterThanOrEqual(freeMm - 1e-6)
      // the fixed ducts are laid, and lie in the plane of their ends where they have one bend
      if (run.run.locked === true) expect(run.centreline.lengthMm).toBeGreaterThanOrEqual(freeMm - 1e-6)
    }
    const first = runs.find(({ run }) => run.id === 'T1-D1')!
    // up 810 from the unit and 260 along, laid square: 610 + 60 of straight and a quarter circle of 200
    expect(first.centreline.lengthMm).toBeCloseTo(610 + 60 + 100 * Math.PI, 6)
    // shorter with an arc at each end and a straight between: the circles' middles are 810 - 200 and 260 - 200 apart, the arcs together a quarter turn
    expect(leastLengthOf(first).planarMm).toBeCloseTo(Math.hypot(610, 60) + 100 * Math.PI, 6)
  })
})

function drawn(random: () => number, size: number): Pose {
  return pose(size * (random() - 0.5), size * (random() - 0.5), 2 * Math.PI * random())
}

function heading({ headingRad }: Pose): [number, number, number] {
  return [Math.cos(headingRad), Math.sin(headingRad), 0]
}

function turnedBack({ x, y, headingRad }: Pose): Pose {
  return pose(x, y, headingRad + Math.PI)
}
