import { describe, expect, test } from 'vitest'
import { fitted, panned, pinched, siteMatrix, toScreen, toSite, zoomedAt, type PlanFrame } from '#app/plan/planFrame.ts'
import { hullOf } from '#app/plan/hull.ts'
import { cornersOf, moveBy, nudgeOf, removalOf } from '#app/plan/moving.ts'
import { namesThatFit, type Box, type Name } from '#app/plan/names.ts'
import { collarRing, equipmentRing, footprintOf } from '#app/plan/outlines.ts'
import { boundsOf } from '#app/plan/planBounds.ts'
import { halfway, pointsAlong } from '#app/plan/runLine.ts'
import { scaleBar } from '#app/plan/scaleBar.ts'
import { pixelOfSite, siteOfPixel, underlayMatrix } from '#app/plan/underlayPlace.ts'
import { apply } from '#commands/index.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import type { Point2 } from '#model/index.ts'
import { workshopJob } from '../commands/workshopJob.ts'
import { seededNumbers } from '../oracle/fitSample.ts'

// told by the names of the tests that use them
const PLACES_SEED = 20_251, HULL_SEED = 77
const FRAME: PlanFrame = { centre: [2_000, 1_000], pxPerMm: 0.1, widthPx: 800, heightPx: 600 }

test('a collar of no length, as a file may have it, is drawn as the line of its mouth', () => {
  const ring = collarRing([1_000, 500, 2_500], [1, 0, 0], 90, 0)
  expect(boundsOf(ring).map((value) => Math.round(value))).toEqual([1_000, 455, 1_000, 545])
})

describe('where the plan stands on the screen', () => {
  test('y goes up: a point north of the middle is above it, a point east of it to its right', () => {
    expect(toScreen(FRAME, [2_000, 1_000])).toEqual([400, 300])
    expect(toScreen(FRAME, [3_000, 2_000])).toEqual([500, 200])
  })

  test(`from site to screen and back is where it was, in any frame (seed ${PLACES_SEED})`, () => {
    const next = seededNumbers(PLACES_SEED)
    for (let i = 0; i < 200; i++) {
      const frame: PlanFrame = { centre: [next() * 1e5 - 5e4, next() * 1e5 - 5e4], pxPerMm: 0.002 + next() * 4, widthPx: 390, heightPx: 844 }
      const site: Point2 = [frame.centre[0] + (next() - 0.5) * 1e4, frame.centre[1] + (next() - 0.5) * 1e4]
      const back = toSite(frame, toScreen(frame, site))
      expect(Math.hypot(back[0] - site[0], back[1] - site[1])).toBeLessThan(1e-6)
      const [a, b, c, d, e, f] = siteMatrix(frame).slice(7, -1).split(' ').map(Number)
      const [px, py] = toScreen(frame, site)
      expect(Math.hypot(a * site[0] + c * site[1] + e - px, b * site[0] + d * site[1] + f - py)).toBeLessThan(1e-6)
    }
  })

  test('the wheel keeps what is under the pointer under it', () => {
    const at: Point2 = [130, 470]
    const before = toSite(FRAME, at), after = toSite(zoomedAt(FRAME, at, 3.7), at)
    expect(Math.hypot(after[0] - before[0], after[1] - before[1])).toBeLessThan(1e-9)
    expect(zoomedAt(FRAME, at, 3.7).pxPerMm).toBeCloseTo(0.37, 12)
  })

  test('however far the wheel is turned, a wall stays between a hair and the whole screen', () => {
    expect(zoomedAt(FRAME, [0, 0], 1e9).pxPerMm).toBe(5)
    expect(zoomedAt(FRAME, [0, 0], 1e-9).pxPerMm).toBe(0.001)
  })

  test('a drag carries the paper with the hand', () => {
    const site = toSite(FRAME, [100, 100])
    expect(toScreen(panned(FRAME, 37, -12), site).map(Math.round)).toEqual([137, 88])
  })

  test('two fingers keep their places on the paper when they move apart and aside', () => {
    const before: [Point2, Point2] = [[300, 300], [500, 300]], now: [Point2, Point2] = [[250, 350], [650, 350]]
    const after = pinched(FRAME, before, now)
    for (const finger of [0, 1]) {
      const was = toSite(FRAME, before[finger]), is = toSite(after, now[finger])
      expect(Math.hypot(is[0] - was[0], is[1] - was[1])).toBeLessThan(1e-9)
    }
  })

  test('all of a job is in sight, clear of the buttons and the scale bar, on a desk and on a phone', () => {
    for (const [width, height] of [[1_000, 790], [390, 345], [820, 590]]) {
      const frame = fitted([-500, 0, 8_000, 4_500], width, height)
      const [left, bottom] = toScreen(frame, [-500, 0]), [right, top] = toScreen(frame, [8_000, 4_500])
      expect(left).toBeGreaterThan(20)
      expect(right).toBeLessThan(width - 20)
      expect(top).toBeGreaterThan(height * 0.1)
      expect(bottom).toBeLessThan(height - height * 0.1)
    }
  })

  test('the scale bar is a round length that has room', () => {
    expect(scaleBar(0.1, 220)).toMatchObject({ lengthMm: 2_000, lengthPx: 200, words: '2 m' })
    expect(scaleBar(1, 220)).toMatchObject({ lengthMm: 200, words: '200 mm' })
    expect(scaleBar(0.45, 220).words).toBe('200 mm')
    for (const pxPerMm of [0.001, 0.013, 0.2, 0.77, 5]) {
      const { lengthPx } = scaleBar(pxPerMm, 220)
      expect(lengthPx).toBeLessThanOrEqual(220)
      expect(lengthPx).toBeGreaterThan(220 / 2.51)
    }
  })

  test('no name is written over another nor over a mark: the weightier stays, the other goes a line up or down, or is left out', () => {
    const names: readonly Name[] = [
      { key: 'a', words: 'Stair 1', at: [100, 100], weight: 3 }, { key: 'b', words: 'Living room', at: [110, 105], weight: 0 },
      { key: 'c', words: 'Joist 2', at: [300, 100], weight: 3 }, { key: 'd', words: 'Far away', at: [-400, 100], weight: 0 },
    ]
    const kept = (marked: readonly Box[] = []) => namesThatFit(names, 800, 600, marked).map(({ key, at }) => [key, ...at]).toSorted()
    expect(kept()).toEqual([['a', 100, 78], ['b', 110, 105], ['c', 300, 100]])
    expect(kept([[60, 60, 140, 80], [60, 116, 140, 150], [290, 0, 310, 600]])).toEqual([['b', 110, 105]])
    // the name of a joist a line off would stand at the next joist
    const joist: Name = { key: 'j', words: 'Joist 1', at: [100, 100], weight: 3, stays: true }
    expect(namesThatFit([...names, joist], 800, 600).map(({ key }) => key)).not.toContain('j')
    expect(namesThatFit([joist], 800, 600)).toEqual([joist])
    // along the joist there is room: it is named there, and not a line off
    expect(namesThatFit([...names, { ...joist, orElse: [[105, 100], [500, 100]] }], 800, 600).find(({ key }) => key === 'j')?.at).toEqual([500, 100])
  })
})

describe('things seen from straight above', () => {
  test('a plumb stack is a circle, a box turned by 90\u00b0 changes its sides', () => {
    const stack = footprintOf({ kind: 'cylinder', from: [500, 600, 0], to: [500, 600, 2_400], diameterMm: 110 })
    if (stack.kind !== 'area') throw new Error('a stack has an area')
    for (const [x, y] of stack.rings[0]) expect(Math.hypot(x - 500, y - 600)).toBeCloseTo(55, 9)
    expect(boundsOf(equipmentRing({ centre: [0, 0, 0], sizeMm: [600, 200, 100], rotationDeg: [0, 0, 90] })).map(Math.round)).toEqual([-100, -300, 100, 300])
  })

  test('a box that leans covers what all its corners cover', () => {
    // 600 long and 200 high, leaning by 45 degrees: (600 + 200) / sqrt 2 long from above
    const [minX, , maxX] = boundsOf(equipmentRing({ centre: [0, 0, 0], sizeMm: [600, 100, 200], rotationDeg: [0, 45, 0] }))
    expect(maxX - minX).toBeCloseTo(800 / Math.SQRT2, 9)
  })

  test('a prism that was moved and turned is drawn where it is, with its hole', () => {
    const print = footprintOf({ kind: 'prism', outline: [[0, 0], [100, 0], [100, 50], [0, 50]], holes: [[[10, 10], [10, 20], [20, 20]]], bottomMm: 0, topMm: 10, origin: [1_000, 0, 0], rotationDeg: [0, 0, 90] })
    if (print.kind !== 'area') throw new Error('a prism has an area')
    expect(boundsOf(print.rings[0]).map(Math.round)).toEqual([950, 0, 1_000, 100])
    expect(print.rings).toHaveLength(2)
  })

  test(`the outline round points holds every one of them (seed ${HULL_SEED})`, () => {
    const next = seededNumbers(HULL_SEED)
    const points = Array.from({ length: 120 }, (): Point2 => [next() * 1_000, next() * 1_000])
    const ring = hullOf(points)
    ring.forEach(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length]
      for (const [x, y] of points) expect((bx - ax) * (y - ay) - (by - ay) * (x - ax)).toBeGreaterThan(-1e-6)
    })
  })

  test('a run is drawn within a third of a millimetre of its bend', () => {
    const { centreline } = centrelineThrough([0, 0, 0, 1_000, 0, 0, 1_000, 1_000, 0], [0, 300, 0])
    const points = pointsAlong(centreline)
    expect(points.at(-1)).toEqual([1_000, 1_000])
    // middles of the drawn steps lie farthest off the arc about (700, 300)
    const steps = points.slice(1).map(([x, y], i): Point2 => [(x + points[i][0]) / 2, (y + points[i][1]) / 2]).filter(([x, y]) => x > 700 && y < 300)
    expect(steps.length).toBeGreaterThan(10)
    for (const [x, y] of steps) expect(Math.abs(Math.hypot(x - 700, y - 300) - 300)).toBeLessThan(0.33)
    expect(halfway([[0, 0], [100, 0], [100, 300]])).toEqual([100, 100])
  })
})

describe('what is picked out is moved and taken away by commands', () => {
  const job = workshopJob()

  test('a room goes with its doors, a zone with its holes, and comes back by going back', () => {
    for (const pick of [{ kind: 'room', id: job.rooms[0].id }, { kind: 'zone', id: job.zones[0].id }] as const) {
      const there = apply(job, moveBy(job, pick, [120, -35])!)
      if (!there.ok) throw new Error(there.why)
      const [was, now] = pick.kind === 'room' ? [job.rooms[0], there.job.rooms[0]] : [job.zones[0], there.job.zones[0]]
      expect(now.outline).toEqual(was.outline.map(([x, y]) => [x + 120, y - 35]))
      const back = apply(there.job, moveBy(there.job, pick, [-120, 35])!)
      expect(back).toEqual({ ok: true, job })
    }
  })

  test('everything that can be picked out can be taken away, but a finding', () => {
    for (const [kind, id] of [['room', job.rooms[0].id], ['zone', job.zones[0].id], ['joist', job.joistFields[0].joists[0].id], ['field', job.joistFields[0].id], ['run', job.runs[2].id]] as const) {
      const outcome = apply(job, removalOf({ kind, id })!)
      expect(outcome.ok ? '' : outcome.why).toBe('')
    }
    expect(removalOf({ kind: 'finding', id: 'x' })).toBeNull()
  })

  test('joists and runs are not dragged: they stand where they were measured', () => {
    expect(moveBy(job, { kind: 'joist', id: 'J1' }, [10, 0])).toBeNull()
    expect(moveBy(job, { kind: 'run', id: 'N1' }, [10, 0])).toBeNull()
  })

  test('an arrow key goes 10 mm, with Alt 1 mm, and up is up', () => {
    expect(nudgeOf('ArrowUp', false)).toEqual([0, 10])
    expect(nudgeOf('ArrowLeft', true)).toEqual([-1, 0])
    expect(nudgeOf('a', false)).toBeNull()
  })

  test('a room that is picked out offers every corner', () => {
    const { id, outline } = job.rooms[0]
    expect(cornersOf(job, { kind: 'room', id }).map(({ at }) => at)).toEqual(outline)
    expect(cornersOf(job, null)).toEqual([])
  })
})

describe('a picture under the plan', () => {
  test('its two marks lie where they were said to, and every point comes back', () => {
    const marks = [{ pixel: [100, 700], at: [0, 0] }, { pixel: [900, 700], at: [4_000, 0] }] as const
    const copy = marks.map(({ pixel, at }) => ({ pixel: [...pixel], at: [...at] })) as unknown as Parameters<typeof underlayMatrix>[0]
    expect(siteOfPixel(copy, [900, 700])).toEqual([4_000, 0])
    // 5 mm to a picture point; what is higher in the picture is farther up on site
    expect(siteOfPixel(copy, [100, 100])).toEqual([0, 3_000])
    expect(pixelOfSite(copy, [2_000, 1_000])).toEqual([500, 500])
  })

  test('a picture that was taken askew is turned straight, and never mirrored', () => {
    const marks: Parameters<typeof underlayMatrix>[0] = [{ pixel: [0, 0], at: [1_000, 1_000] }, { pixel: [300, 400], at: [1_500, 1_000] }]
    const [a, b, c, d] = underlayMatrix(marks)
    // one turn and one scale, with the picture's down turned to up: the matrix has a negative determinant, 1 mm to a point
    expect(a * d - b * c).toBeCloseTo(-1, 12)
    const back = pixelOfSite(marks, siteOfPixel(marks, [123, 45]))
    expect(Math.hypot(back[0] - 123, back[1] - 45)).toBeLessThan(1e-9)
  })
})
