import { describe, expect, test } from 'vitest'
import { legAt, pulledTo, wayThroughAt, wayUnderThumb } from '#scene/reach.ts'
import type { Xyz } from '#scene/frame.ts'
import { smallVoid } from '../scene/smallVoid.ts'

const assembly = smallVoid()
const towards = (from: Xyz, to: Xyz) => ({ from, direction: [to[0] - from[0], to[1] - from[1], to[2] - from[2]] as Xyz })
/** Corners of an opening along its joist, mm. */
const reachOf = (joistIndex: number, number: number) => {
  const xs = assembly.joists[joistIndex].openings.find((one) => one.number === number)!.opening.verticesXy.filter((_, i) => i % 2 === 0)
  return { from: Math.min(...xs), to: Math.max(...xs) }
}

describe('what a touch is meant for', () => {
  test('seen aslant it is the opening that the ray goes through, of the first joist in its way', () => {
    for (let x = 300; x <= 3_700; x += 37) {
      // joist J1 stands on the line y 400, its middle at z 2,552 (tests/scene/smallVoid.ts)
      const way = wayThroughAt(assembly, towards([x, -1_500, 3_200], [x, 400, 2_552]))
      if (way?.kind !== 'opening') throw new Error(`no opening at ${x} mm`)
      expect(way.joistIndex).toBe(0)
      const { from, to } = reachOf(0, way.number)
      // on a web the nearer of its two neighbours: 40 mm of web stand half a width from either
      expect(x).toBeGreaterThan(from - 40)
      expect(x).toBeLessThan(to + 40)
    }
  })

  test('seen from straight above it is the opening under the chord, and a bay between two chords', () => {
    const down = (x: number, y: number) => ({ from: [x, y, 9_000] as Xyz, direction: [0, 0, -1] as Xyz })
    expect(wayThroughAt(assembly, down(1_300, 1_040))).toMatchObject({ kind: 'opening', joistIndex: 1 })
    // chords are 97 mm wide: 60 mm off the middle is beside one, and still meant for it where a finger is that wide
    expect(wayThroughAt(assembly, down(1_300, 1_060))).toBeNull()
    expect(wayThroughAt(assembly, down(1_300, 1_060), 40)).toMatchObject({ joistIndex: 1 })
    expect(wayThroughAt(assembly, down(1_300, 700), 40)).toBeNull()
  })

  test('a thumb from afar is meant for the opening whose middle is nearest within 22 px, and for none beyond that', () => {
    // 25 mm to the pixel, from straight above: bays are 24 px wide, openings 12 px
    const toPx = ([x, y]: Xyz): [number, number] => [x / 25, -y / 25]
    const thumb = (x: number, y: number) => wayUnderThumb(assembly, { x: x / 25, y: -y / 25, toPx, ray: { from: [x, y, 9_000], direction: [0, 0, -1] } })
    const { from, to } = reachOf(1, 4)
    expect(thumb((from + to) / 2, 1_240)).toEqual({ kind: 'opening', joistIndex: 1, number: 4 })
    expect(thumb((from + to) / 2, 1_360)).toEqual({ kind: 'opening', joistIndex: 2, number: expect.any(Number) })
    expect(thumb((from + to) / 2, -400)).toBeNull()
  })

  test('near by, where an opening is wider than a thumb, it is the one that is touched and not the nearest middle', () => {
    // two pixels to the millimetre, square on from the south: joists stand behind one another
    const toPx = ([x, , z]: Xyz): [number, number] => [2 * x, -2 * z]
    const { from, to } = reachOf(0, 4)
    for (const x of [from + 60, (from + to) / 2, to - 60]) {
      // half-way up, where an opening between two slanting webs is half as wide
      const at: Xyz = [x, 0, 2_552]
      const met = wayThroughAt(assembly, { from: at, direction: [0, 1, 0] })
      expect(wayUnderThumb(assembly, { x: 2 * x, y: -2 * 2_552, toPx, ray: { from: at, direction: [0, 1, 0] } })).toEqual(met)
      expect(met).toMatchObject({ joistIndex: 0 })
    }
  })

  test('a point pulled level keeps its height, one pulled up and down its place in plan', () => {
    const at: Xyz = [1_000, 500, 2_500], eye: Xyz = [1_000, -2_500, 4_500]
    expect(pulledTo(towards(eye, [1_200, 700, 2_500]), at, 'level')!.map((value) => Math.round(value * 1e6) / 1e6)).toEqual([1_200, 700, 2_500])
    const lifted = pulledTo(towards(eye, [1_000, 500, 2_640]), at, 'upright')!
    expect(lifted[0]).toBe(1_000)
    expect(lifted[1]).toBe(500)
    expect(lifted[2]).toBeCloseTo(2_640, 6)
    // edge-on there is no telling
    expect(pulledTo({ from: [0, 0, 9_000], direction: [0, 0, -1] }, at, 'upright')).toBeNull()
    expect(pulledTo({ from: [0, 0, 2_500], direction: [1, 0, 0] }, at, 'level')).toBeNull()
  })

  test('a tap on a duct is a place on the axis of its leg, nearest to the ray', () => {
    const leg = legAt(assembly.runs[0], { from: [990, 800, 9_000], direction: [0, 0, -1] })!
    expect(leg.point).toBe(1)
    expect(leg.at[0]).toBeCloseTo(975, 9)
    expect(leg.at[1]).toBeCloseTo(800, 9)
    expect(legAt(assembly.runs[0], { from: [1_300, 800, 9_000], direction: [0, 0, -1] })).toBeNull()
  })
})
