import { describe, expect, it } from 'vitest'
import { sheetDistance } from '#geometry/envelope/sheetDistance.ts'
import { SIDE, TOP, UNDERSIDE, voidEnvelope, voidHolds } from '#geometry/envelope/voidEnvelope.ts'
import type { VoidEnvelope } from '#geometry/envelope/voidEnvelope.ts'
import { ringsOf } from '#geometry/solid/degenerate.ts'
import { ringAreaMm2, ringHolds } from '#geometry/solid/ring.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import { boundaryFaces, faceArea, holds, placed, randomZones, rectZone, seeded, turnedPlace, unplaced, zoneSet } from './zoneGrid.ts'
import type { GridZone, Place } from './zoneGrid.ts'

const areaOf = ({ sheets }: VoidEnvelope, i: number) => {
  const s = sheets.offset[i]
  if (sheets.kind[i] === BOX) return 4 * sheets.data[s + 3] * sheets.data[s + 5]
  return ringAreaMm2(ringsOf(sheets.data, s)[0])
}
const totalArea = (envelope: VoidEnvelope, face?: number) =>
  [...envelope.sheetFace].reduce((sum, f, i) => face === undefined || f === face ? sum + areaOf(envelope, i) : sum, 0)
const envelopeOf = (zones: GridZone[], place?: Place) => voidEnvelope(zoneSet(zones, place))

/** A random point of a sheet, and its direction out of the zone. */
function pointOn({ sheets, sheetFace }: VoidEnvelope, i: number, random: () => number) {
  const { data } = sheets, s = sheets.offset[i]
  if (sheets.kind[i] === BOX) {
    const a = (2 * random() - 1) * data[s + 3], b = (2 * random() - 1) * data[s + 5]
    return { at: [data[s] + a * data[s + 6], data[s + 1] + a * data[s + 7], data[s + 2] + b], out: [data[s + 9], data[s + 10], 0] }
  }
  const [ring] = ringsOf(data, s)
  const weights = Array.from({ length: ring.length / 2 }, () => -Math.log(1 - random()))
  const all = weights.reduce((a, b) => a + b)
  const x = weights.reduce((sum, w, k) => sum + w * ring[2 * k], 0) / all, y = weights.reduce((sum, w, k) => sum + w * ring[2 * k + 1], 0) / all
  return { at: [x, y, data[s + 12]], out: [0, 0, sheetFace[i] === TOP ? 1 : -1] }
}

describe('the envelope of a ceiling void', () => {
  const room = rectZone([0, 0, 4000, 3000], 2400, 2700)

  it('one room has an underside, a top and four walls', () => {
    const envelope = envelopeOf([room])
    expect([...envelope.sheetFace].sort()).toEqual([UNDERSIDE, TOP, SIDE, SIDE, SIDE, SIDE])
    expect(totalArea(envelope, UNDERSIDE)).toBe(12e6)
    expect(totalArea(envelope, SIDE)).toBeCloseTo(14_000 * 300, 6)
    expect([...envelope.sheetZone]).toEqual([0, 0, 0, 0, 0, 0])
  })

  it('two equal rooms side by side have no wall between them', () => {
    const envelope = envelopeOf([rectZone([0, 0, 1500, 3000], 2400, 2700), rectZone([1500, 0, 4000, 3000], 2400, 2700)])
    expect(totalArea(envelope)).toBeCloseTo(totalArea(envelopeOf([room])), 6)
    expect(totalArea(envelope, SIDE)).toBeCloseTo(14_000 * 300, 6)
  })

  it('a lower ceiling next door leaves the step as wall, above and below', () => {
    // neighbour from 2300 to 2600: wall 2600-2700 belongs to the first room, 2300-2400 to the second
    const envelope = envelopeOf([room, rectZone([4000, 0, 6000, 3000], 2300, 2600)])
    const steps = [...envelope.sheetFace.keys()].filter(i => envelope.sheetFace[i] === SIDE && envelope.sheets.data[envelope.sheets.offset[i]] === 4000)
      .map(i => {
        const s = envelope.sheets.offset[i], { data } = envelope.sheets
        return [envelope.sheetZone[i], data[s + 2] - data[s + 5], data[s + 2] + data[s + 5]]
      })
    expect(steps).toEqual([[0, 2600, 2700], [1, 2300, 2400]])
  })

  it('a boxing under a void opens the underside above it and keeps the rest', () => {
    const envelope = envelopeOf([room, rectZone([1000, 1000, 2000, 3000], 2100, 2400)])
    expect(totalArea(envelope, UNDERSIDE)).toBeCloseTo(12e6, 6)
    expect(totalArea(envelope, TOP)).toBeCloseTo(12e6, 6)
    expect(totalArea(envelope, SIDE)).toBeCloseTo(14_000 * 300 + 6000 * 300, 6)
  })

  it('the same zone given twice counts once', () => {
    const envelope = envelopeOf([room, room])
    expect(totalArea(envelope)).toBe(totalArea(envelopeOf([room])))
  })

  it('a room turned in plan keeps one sheet for each face', () => {
    for (let degrees = 1; degrees < 90; degrees += 11) {
      expect(envelopeOf([room], turnedPlace(degrees * Math.PI / 180, 12_345.6, -789)).sheets.count).toBe(6)
    }
  })

  it('no zones, and zones without height, make no sheets', () => {
    expect(envelopeOf([]).sheets.count).toBe(0)
    expect(envelopeOf([rectZone([0, 0, 4000, 3000], 2400, 2400)]).sheets.count).toBe(0)
  })

  it('refuses a zone that does not stand upright', () => {
    const tilted = zoneSet([room])
    tilted.data[11] = 0
    expect(() => voidEnvelope(tilted)).toThrow('must be an upright prism')
  })
})

describe('random zones on a grid, as drawn and turned', () => {
  const seed = 20_251
  it(`every sheet is truly boundary, none is missing and none is doubled (seed ${seed})`, () => {
    const random = seeded(seed)
    for (let n = 0; n < 160; n++) {
      const zones = randomZones(random)
      const place = n % 2 === 0 ? turnedPlace(0, 0, 0) : turnedPlace(random() * 7, random() * 20_000, random() * 20_000)
      const envelope = envelopeOf(zones, place)
      // truly boundary at every point tried and of the right area altogether: so all of the boundary, each part once
      const area = boundaryFaces(zones).reduce((sum, face) => sum + faceArea(face), 0)
      expect(Math.abs(totalArea(envelope) - area) / area, `zones ${n}`).toBeLessThan(1e-9)
      for (let i = 0; i < envelope.sheets.count; i++) {
        for (let k = 0; k < 6; k++) {
          const { at, out } = pointOn(envelope, i, random)
          const sides = [1e-4, -1e-4].map(h => {
            const [x, y] = unplaced(place, at[0] + h * out[0], at[1] + h * out[1])
            return holds(zones, x, y, at[2] + h * out[2])
          })
          expect(sides, `zones ${n}, sheet ${i}`).toEqual([false, true])
        }
        const zone = zones[envelope.sheetZone[i]], z = envelope.sheets.bounds[6 * i + 2]
        if (envelope.sheetFace[i] === UNDERSIDE) expect(z).toBe(zone.bottom)
        if (envelope.sheetFace[i] === TOP) expect(z).toBe(zone.top)
      }
    }
  })

  it(`a point is in the void when it is in any zone (seed ${seed + 1})`, () => {
    const random = seeded(seed + 1)
    for (let n = 0; n < 100; n++) {
      const zones = randomZones(random), place = turnedPlace(random() * 7, 5000, 5000)
      const envelope = envelopeOf(zones, place)
      for (let k = 0; k < 50; k++) {
        const x = random() * 4200 - 100, y = random() * 4200 - 100, z = 2350 + random() * 700
        expect(voidHolds(envelope, ...placed(place, x, y), z)).toBe(holds(zones, x, y, z))
      }
    }
  })
})

describe('random zones of any outline', () => {
  const seed = 808
  it(`every sheet is boundary, and wherever the void ends there is a sheet (seed ${seed})`, () => {
    const random = seeded(seed), foot = new Float64Array(3)
    for (let n = 0; n < 80; n++) {
      // stars of 3 to 7 corners, so that walls cross at every angle
      const zones = Array.from({ length: 2 + Math.floor(4 * random()) }, () => {
        const corners = 3 + Math.floor(5 * random()), x = 1000 + 2000 * random(), y = 1000 + 2000 * random(), level = Math.floor(3 * random())
        const ring = Array.from({ length: corners }, (_, i) => {
          const r = 200 + 1300 * random(), t = (i + 0.8 * random()) * 2 * Math.PI / corners
          return [x + r * Math.cos(t), y + r * Math.sin(t)]
        }).flat()
        return { rings: [ring], rects: [], hole: null, bottom: 2400 + 100 * level, top: 2600 + 100 * level }
      })
      const envelope = voidEnvelope(zoneSet(zones))
      // where two walls cross at a small angle, the wedge narrower than ZONES_TOUCH_MM between them is filled
      const filled = [...zones, ...envelope.prisms.slice(zones.length)]
      const isIn = (x: number, y: number, z: number) =>
        filled.some(zone => z > zone.bottom && z < zone.top && ringHolds(zone.rings[0], x, y))
      for (let i = 0; i < envelope.sheets.count; i++) {
        for (let k = 0; k < 4; k++) {
          const { at, out } = pointOn(envelope, i, random)
          const sides = [1e-5, -1e-5].map(h => isIn(at[0] + h * out[0], at[1] + h * out[1], at[2] + h * out[2]))
          expect(sides, `zones ${n}, sheet ${i}`).toEqual([false, true])
        }
      }
      for (let k = 0; k < 60; k++) {
        let a = [4000 * random(), 4000 * random(), 2350 + 500 * random()], b = [4000 * random(), 4000 * random(), 2350 + 500 * random()]
        const first = isIn(a[0], a[1], a[2])
        if (first === isIn(b[0], b[1], b[2])) continue
        for (let step = 0; step < 50; step++) {
          const m = a.map((v, axis) => (v + b[axis]) / 2)
          if (isIn(m[0], m[1], m[2]) === first) a = m
          else b = m
        }
        const nearest = Math.min(...Array.from({ length: envelope.sheets.count }, (_, i) => sheetDistance(envelope.sheets, i, a[0], a[1], a[2], foot)))
        expect(nearest, `zones ${n}`).toBeLessThan(1e-6)
      }
    }
  })
})

describe('zones that nearly touch, as from a plan typed to the millimetre', () => {
  const foot = new Float64Array(3)
  const nearest = ({ sheets }: VoidEnvelope, x: number, y: number, z: number) =>
    Math.min(...Array.from({ length: sheets.count }, (_, i) => sheetDistance(sheets, i, x, y, z, foot)))

  it('a slit of 0.3 mm between two rooms is no wall, and one of 0.6 mm is two', () => {
    const apart = (gap: number) => envelopeOf([rectZone([0, 0, 2000, 3000], 2400, 2700), rectZone([2000 + gap, 0, 4000, 3000], 2400, 2700)])
    expect(nearest(apart(0.3), 2000.15, 1500, 2550)).toBeCloseTo(150, 9)
    expect(voidHolds(apart(0.3), 2000.15, 1500, 2550)).toBe(true)
    expect(nearest(apart(0.6), 2000.3, 1500, 2550)).toBeCloseTo(0.3, 9)
    expect(voidHolds(apart(0.6), 2000.3, 1500, 2550)).toBe(false)
  })

  it('a slit leaves the walls of both rooms where they were drawn', () => {
    const envelope = envelopeOf([rectZone([0, 0, 2000, 3000], 2400, 2700), rectZone([2000.3, 0, 4000, 3000.4], 2400, 2700)])
    expect(nearest(envelope, 1000, 2950, 2550)).toBeCloseTo(50, 9)
    expect(nearest(envelope, 3000, 2950, 2550)).toBeCloseTo(50.4, 9)
  })

  it('a slit between a void and the boxing under it is no floor', () => {
    const envelope = envelopeOf([rectZone([0, 0, 4000, 3000], 2400, 2700), rectZone([1000, 1000, 2000, 2000], 2100, 2399.7)])
    expect(nearest(envelope, 1500, 1500, 2399.85)).toBeGreaterThan(299)
    expect(nearest(envelope, 2500, 1500, 2450)).toBeCloseTo(50, 9)
  })

  it('no chimney is left where three or four rooms nearly meet', () => {
    const random = seeded(77)
    for (let n = 0; n < 120; n++) {
      const jog = () => Math.round(random() * 3) / 10
      // four rooms round (2000, 1500), or three with one along the whole lower side; each corner out by 0 to 0.3 mm
      const lower = n % 2 === 0
        ? [rectZone([0, 0, 2000 - jog(), 1500 - jog()], 2400, 2700), rectZone([2000 + jog() / 2, 0, 4000, 1500 - jog()], 2400, 2700)]
        : [rectZone([0, 0, 4000, 1500 - jog()], 2400, 2700)]
      const upper = [rectZone([0, 1500, 2000 - jog(), 3000], 2400, 2700), rectZone([2000 + jog() / 2, 1500 + jog() / 2, 4000, 3000], 2400, 2700)]
      const place = turnedPlace(n % 3, 0, 0)
      const envelope = envelopeOf([...lower, ...upper], place)
      for (let k = 0; k < 20; k++) {
        const [x, y] = placed(place, 1999.5 + random(), 1499.5 + random())
        expect(nearest(envelope, x, y, 2550), `rooms ${n}`).toBeCloseTo(150, 6)
        expect(voidHolds(envelope, x, y, 2550), `rooms ${n}`).toBe(true)
      }
    }
  })
})
