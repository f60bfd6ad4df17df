import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { straightRun } from '#geometry/curve/build.ts'
import type { Centreline } from '#geometry/curve/centreline.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import {
  NO_ZONES, SPARE_ANSWER_SIZE, SPARE_MM, SPARE_ON_CURVE_X, SPARE_ON_SHEET_X, SPARE_SHEET, SPARE_STATION, spareInVoid,
} from '#geometry/envelope/spareInVoid.ts'
import { SIDE, UNDERSIDE, voidEnvelope } from '#geometry/envelope/voidEnvelope.ts'
import { AS_DRAWN, boundaryFaces, faceDistance, holds, placed, randomZones, rectZone, seeded, turnedPlace, unplaced, zoneSet } from './zoneGrid.ts'
import type { GridZone, Place } from './zoneGrid.ts'

const answer = new Float64Array(SPARE_ANSWER_SIZE)
const spareOf = (run: Centreline, zones: GridZone[], place: Place = AS_DRAWN, from = 0, to = Infinity) =>
  spareInVoid(run, voidEnvelope(zoneSet(zones, place)), from, to, answer)
const faceOf = (zones: GridZone[]) => voidEnvelope(zoneSet(zones)).sheetFace[answer[SPARE_SHEET]]

const room = rectZone([0, 0, 4000, 3000], 2400, 2700)

describe('how far inside the void a run stays', () => {
  it('in one room a straight run has the least of six distances to spare', () => {
    const random = seeded(5), point = () => [random() * 4000, random() * 3000, 2400 + random() * 300]
    for (let n = 0; n < 200; n++) {
      const a = point(), b = point()
      const six = [a, b].flatMap(([x, y, z]) => [x, 4000 - x, y, 3000 - y, z - 2400, 2700 - z])
      expect(spareOf(straightRun(a, b), [room])).toBeCloseTo(Math.min(...six), 9)
    }
  })

  it('says where, which sheet and how far along', () => {
    expect(spareOf(straightRun([500, 600, 2500], [500, 2500, 2460]), [room])).toBeCloseTo(60, 9)
    expect(Array.from(answer.subarray(SPARE_ON_CURVE_X, SPARE_ON_CURVE_X + 3), v => Math.round(v))).toEqual([500, 2500, 2460])
    expect(Array.from(answer.subarray(SPARE_ON_SHEET_X, SPARE_ON_SHEET_X + 3), v => Math.round(v))).toEqual([500, 2500, 2400])
    expect(answer[SPARE_STATION]).toBeCloseTo(Math.hypot(1900, 40), 9)
    expect(answer[SPARE_MM]).toBeCloseTo(60, 9)
    expect(faceOf([room])).toBe(UNDERSIDE)
  })

  it('looks only at the stretch asked for', () => {
    const run = straightRun([500, 600, 2500], [500, 2500, 2420])
    expect(spareOf(run, [room])).toBeCloseTo(20, 9)
    expect(spareOf(run, [room], AS_DRAWN, 0, run.lengthMm / 2)).toBeCloseTo(60, 9)
    expect(answer[SPARE_STATION]).toBeCloseTo(run.lengthMm / 2, 9)
    expect(spareOf(run, [room], AS_DRAWN, run.lengthMm / 4, run.lengthMm / 4)).toBeCloseTo(80, 9)
  })

  it('without zones there is nothing to leave', () => {
    expect(spareOf(straightRun([0, 0, 0], [1, 0, 0]), [])).toBe(Infinity)
    expect(answer[SPARE_SHEET]).toBe(NO_ZONES)
  })

  it('two equal rooms in line take a run through both as one long room does', () => {
    const two = [rectZone([0, 0, 1500, 3000], 2400, 2700), rectZone([1500, 0, 4000, 3000], 2400, 2700)]
    const run = centrelineThrough([300, 300, 2550, 2000, 1500, 2500, 3500, 500, 2580], [0, 400, 0]).centreline
    expect(spareOf(run, two)).toBe(spareOf(run, [room]))
  })

  it('a run along the seam between two rooms is in the void, however they are turned', () => {
    const two = [rectZone([0, 0, 1500, 3000], 2400, 2700), rectZone([1500, 0, 4000, 3000], 2400, 2700)]
    for (let n = 0; n < 50; n++) {
      const place = turnedPlace(n * 0.13, 17_000.3, -4_000.7)
      const run = straightRun([...placed(place, 1500, 400), 2550], [...placed(place, 1500, 2600), 2550])
      expect(spareOf(run, two, place)).toBeCloseTo(150, 9)
      expect(spareOf(run, two, place, 1000, 1000)).toBeCloseTo(150, 9)
    }
  })

  it('at a step in the ceiling the run must clear the lower top and the higher underside', () => {
    const zones = [room, rectZone([4000, 0, 6000, 3000], 2300, 2600)]
    // level at 2500: 100 above the first underside, 100 below the second top
    expect(spareOf(straightRun([500, 1500, 2500], [5500, 1500, 2500]), zones)).toBeCloseTo(100, 9)
    // at 2560 the edge of the step at (4000, 2600) is nearest: 40
    expect(spareOf(straightRun([500, 1500, 2560], [5500, 1500, 2560]), zones)).toBeCloseTo(40, 9)
  })

  it('a run that hangs below the ceiling is out by how far it hangs', () => {
    expect(spareOf(straightRun([500, 1500, 2380], [3500, 1500, 2380]), [room])).toBeCloseTo(-20, 9)
    expect(spareOf(straightRun([500, 1500, 2450], [3500, 1500, 2350]), [room])).toBeCloseTo(-50, 9)
    expect(answer[SPARE_STATION]).toBeCloseTo(Math.hypot(3000, 100), 6)
  })

  it('a run that leaves through a wall is out by the far point of the loop, not by what it passes on the way', () => {
    const run = centrelineThrough([3500, 1000, 2550, 4600, 1000, 2550, 4600, 2000, 2550, 3500, 2000, 2550], [0, 200, 200, 0]).centreline
    expect(spareOf(run, [room])).toBeCloseTo(-600, 4)
    expect(faceOf([room])).toBe(SIDE)
  })

  it('a run across the gap between two rooms is out by half the gap', () => {
    const zones = [rectZone([0, 0, 1500, 3000], 2400, 2700), rectZone([1580, 0, 4000, 3000], 2400, 2700)]
    expect(spareOf(straightRun([500, 1500, 2550], [3500, 1500, 2550]), zones)).toBeCloseTo(-40, 4)
    expect(answer[SPARE_STATION]).toBeCloseTo(1040, 2)
  })

  it('a gap of 0.4 mm is no gap, and one of 0.6 mm is', () => {
    const apart = (gap: number) => [rectZone([0, 0, 1500, 3000], 2400, 2700), rectZone([1500 + gap, 0, 4000, 3000], 2400, 2700)]
    const run = straightRun([500, 1500, 2550], [3500, 1500, 2550])
    expect(spareOf(run, apart(0.4))).toBeCloseTo(150, 9)
    expect(spareOf(run, apart(0.6))).toBeCloseTo(-0.3, 4)
  })

  it('a level bend hanging below the ceiling, where every point is equally deep, is answered soon and exactly', () => {
    const run = centrelineThrough([500, 500, 2370, 2500, 500, 2370, 2500, 2500, 2370], [0, 900, 0]).centreline
    expect(spareOf(run, [room])).toBeCloseTo(-30, 9)
  })
})

/** A run somewhere about the zones: legs and bends, mostly within the void's heights. */
function randomRun(random: () => number, place: Place): Centreline {
  const corners = 2 + Math.floor(random() * 4)
  const x = random() * 4000, y = random() * 4000, level = 2400 + 600 * random()
  const points = Array.from({ length: corners }, () =>
    [...placed(place, x + (random() - 0.5) * 2500, y + (random() - 0.5) * 2500), level + (random() - 0.5) * (random() < 0.3 ? 800 : 100)]).flat()
  return centrelineThrough(points, Array.from({ length: corners }, () => random() < 0.2 ? 0 : 50 + 400 * random())).centreline
}

describe('random runs in random zones', () => {
  const seed = 60_606
  it(`the spare is the least, or deepest, of points tried all along the run (seed ${seed})`, () => {
    const random = seeded(seed), p = [0, 0, 0]
    let inside = 0, outside = 0, insideThinner = 0
    for (let n = 0; n < 160; n++) {
      const zones = randomZones(random), faces = boundaryFaces(zones)
      const place = n % 2 === 0 ? AS_DRAWN : turnedPlace(random() * 7, 9000 * random(), 9000 * random())
      const run = randomRun(random, place), from = random() < 0.5 ? 0 : random() * run.lengthMm, to = from + random() * (run.lengthMm - from)
      const spare = spareOf(run, zones, place, from, to)
      // halfway between two stations tried, the distance differs by at most half a step
      const steps = 400, step = (to - from) / steps
      let sampled = Infinity
      for (let i = 0; i <= steps; i++) {
        pointAt(run, from + i * step, p)
        const [x, y] = unplaced(place, p[0], p[1])
        let nearest = Infinity
        for (const face of faces) nearest = Math.min(nearest, faceDistance(face, x, y, p[2]))
        sampled = Math.min(sampled, holds(zones, x, y, p[2]) ? nearest : -nearest)
      }
      expect(spare, `run ${n}`).toBeLessThanOrEqual(sampled + 1e-4)
      expect(sampled - spare, `run ${n}`).toBeLessThanOrEqual(step / 2 + 1e-4)
      if (spare > 0) inside++
      else outside++
      // the answer's own point, station and sheet agree with it
      pointAt(run, answer[SPARE_STATION], p)
      for (let k = 0; k < 3; k++) expect(answer[SPARE_ON_CURVE_X + k], `run ${n}`).toBeCloseTo(p[k], 6)
      const apart = Math.hypot(...[0, 1, 2].map(k => answer[SPARE_ON_SHEET_X + k] - p[k]))
      expect(apart, `run ${n}`).toBeCloseTo(Math.abs(spare), 6)
      if (spare > 20) {
        insideThinner++
        tubeStaysIn(run, from, to, spare - 1e-3, zones, place, random)
      }
    }
    // the draw must try both answers
    expect(inside).toBeGreaterThan(15)
    expect(outside).toBeGreaterThan(40)
    expect(insideThinner).toBeGreaterThan(6)
  })

  /** Points of the tube tried against the zones themselves. */
  function tubeStaysIn(run: Centreline, from: number, to: number, radius: number, zones: GridZone[], place: Place, random: () => number) {
    const p = [0, 0, 0]
    for (let i = 0; i < 500; i++) {
      pointAt(run, from + (to - from) * random(), p)
      const h = 2 * random() - 1, t = random() * 2 * Math.PI, r = radius * Math.sqrt(1 - h * h)
      const [x, y] = unplaced(place, p[0] + r * Math.cos(t), p[1] + r * Math.sin(t)), z = p[2] + radius * h
      // a hair off the grid's own planes, where 'in a zone' is 'in none of them'
      expect(holds(zones, x + 1e-4, y + 1e-4, z + 1e-4) || holds(zones, x - 1e-4, y - 1e-4, z - 1e-4), `at ${x}, ${y}, ${z}`).toBe(true)
    }
  }

  const job = fc.integer({ min: 1, max: 1e9 }).map(seed => {
    const random = seeded(seed)
    return { zones: randomZones(random), run: (place: Place) => randomRun(seeded(seed + 1), place), random }
  })

  it('turning the whole plan changes nothing', () => {
    fc.assert(fc.property(job, fc.double({ min: -4, max: 4, noNaN: true }), ({ zones, run }, angle) => {
      const place = turnedPlace(angle, 3000, -8000)
      expect(spareOf(run(place), zones, place)).toBeCloseTo(spareOf(run(AS_DRAWN), zones), 3)
    }), { seed: 1, numRuns: 100 })
  })

  it('a plan typed a few tenths out, with slits and overlaps between all its zones, changes the spare by a few tenths', () => {
    fc.assert(fc.property(job, fc.double({ min: -4, max: 4, noNaN: true }), ({ zones, run, random }, angle) => {
      const out = () => 0.3 * random() - 0.15
      const typed = zones.map((zone): GridZone => {
        const dx = out(), dy = out(), dz = out()
        return { ...zone, rings: zone.rings.map(ring => ring.map((v, i) => v + (i % 2 === 0 ? dx : dy))), bottom: zone.bottom + dz, top: zone.top + dz }
      })
      const place = turnedPlace(angle, 0, 0)
      // each zone moved by up to 0.15 mm along x, y and z: 0.26 mm; a slit is closed straight across
      expect(Math.abs(spareOf(run(place), typed, place) - spareOf(run(AS_DRAWN), zones))).toBeLessThan(0.3)
    }), { seed: 4, numRuns: 200 })
  })

  it('the order of the zones does not matter', () => {
    fc.assert(fc.property(job, ({ zones, run, random }) => {
      const shuffled = zones.map(zone => ({ zone, key: random() })).sort((a, b) => a.key - b.key).map(({ zone }) => zone)
      expect(spareOf(run(AS_DRAWN), shuffled)).toBeCloseTo(spareOf(run(AS_DRAWN), zones), 3)
    }), { seed: 2, numRuns: 100 })
  })

  it('drawing a zone as two, cut in plan or in height, changes nothing', () => {
    fc.assert(fc.property(job, fc.boolean(), ({ zones, run, random }, isLevel) => {
      const split = zones.flatMap((zone): GridZone[] => {
        if (isLevel) {
          const z = zone.bottom + random() * (zone.top - zone.bottom)
          return [{ ...zone, top: z }, { ...zone, bottom: z }]
        }
        const [[x0, y0, x1, y1], ...rest] = zone.rects
        if (rest.length > 0 || zone.hole) return [zone]
        const x = x0 + random() * (x1 - x0)
        return [rectZone([x0, y0, x, y1], zone.bottom, zone.top), rectZone([x, y0, x1, y1], zone.bottom, zone.top)]
      })
      expect(spareOf(run(AS_DRAWN), split)).toBeCloseTo(spareOf(run(AS_DRAWN), zones), 3)
    }), { seed: 3, numRuns: 100 })
  })
})
