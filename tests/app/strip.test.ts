import { describe, expect, test } from 'vitest'
import { desk } from '#app/desk.ts'
import { viewing } from '#app/places/looking/viewing.ts'
import { followTouches } from '#app/places/strip/unrolled.ts'
import { checkJob } from '#checks/index.ts'
import { contextFor } from '#checks/context.ts'
import { clearancesAt, stripOf } from '#checks/strip.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { assemble } from '#assembly/assemble.ts'
import { spoken } from '#app/places/strip/readout.ts'
import { stationNear } from '#geometry/curve/stationNear.ts'
import { ductEdges, keptNames, stripScale } from '#app/places/strip/stripScale.ts'
import { clashing } from '../browser/jobs.ts'
import { between, seeded } from '../oracle/drawnElements.ts'
import { smallVoid, smallVoidJob } from '../scene/smallVoid.ts'

const SEED = 411

describe('a run unrolled', () => {
  test('stretched, the whole run lies in the width; at true scale a millimetre is as long along as up', () => {
    const strip = stripOf(contextFor(smallVoid()), 0)
    const stretched = stripScale(strip, 1_000, 240, false), plain = stripScale(strip, 1_000, 240, true)
    expect(stretched.x(0)).toBe(28)
    expect(stretched.x(strip.lengthMm)).toBeCloseTo(1_000 - 28, 9)
    expect(plain.pxPerMmAlong).toBe(plain.pxPerMmUp)
    for (const scale of [stretched, plain]) {
      expect(scale.stationAt(scale.x(1_234))).toBeCloseTo(1_234, 9)
      expect(scale.stationAt(-50)).toBe(0)
      expect(scale.stationAt(1e6)).toBe(strip.lengthMm)
      // the joists, 2400 to 2704, lie on the paper
      expect(scale.y(2_704)).toBeGreaterThanOrEqual(56 - 1e-9)
      expect(scale.y(2_400)).toBeLessThanOrEqual(scale.height - 32 + 1e-9)
    }
  })

  test('the edges of a level duct of 90 mm lie 45 mm above and below its centre', () => {
    for (const { highMm, lowMm } of ductEdges(stripOf(contextFor(smallVoid()), 0))) {
      expect(highMm).toBeCloseTo(2_545, 6)
      expect(lowMm).toBeCloseTo(2_455, 6)
    }
  })

  test('the edges of a duct that falls 3 in 5 lie further apart upright than its diameter, by 5 to 4', () => {
    const strip = { centre: [0, 50, 100].map((stationMm) => ({ stationMm, heightMm: 2_500 - 0.6 * stationMm })), outerRadiusMm: 40 }
    for (const { stationMm, highMm } of ductEdges(strip)) expect(highMm - (2_500 - 0.6 * stationMm)).toBeCloseTo(50, 9)
  })

  test(`the place of a run nearest to a touch is no further than any of its sampled places (seed ${SEED})`, () => {
    const { centreline } = assemble(smallVoidJob(clashing())).runs[1]
    const draw = seeded(SEED), at = [0, 0, 0]
    for (let i = 0; i < 200; i++) {
      const [x, y, z] = [between(draw, 500, 2_000), between(draw, -200, 2_200), between(draw, 2_300, 2_700)]
      const away = (stationMm: number): number => {
        pointAt(centreline, stationMm, at)
        return Math.hypot(at[0] - x, at[1] - y, at[2] - z)
      }
      const found = away(stationNear(centreline, x, y, z))
      for (let s = 0; s <= 400; s++) expect(found).toBeLessThan(away(centreline.lengthMm * s / 400) + 1e-9)
    }
  })

  test('what a screen reader says at the pointer is what the checks measure there', () => {
    const at = clearancesAt(contextFor(smallVoid()), 0, 660)
    const words = spoken(at)
    expect(words).toMatch(/^660 mm along\. Above: /)
    expect(words).toContain(`${Math.round((at.above.freeMm ?? NaN) * 10) / 10} mm to ${at.above.part?.name}`)
    expect(words).toContain(`Below: ${Math.round((at.below.freeMm ?? NaN) * 10) / 10} mm to ${at.below.part?.name}`)
  })

  test('names that would run into one another are left out, but never that of a bend that is too tight', () => {
    expect(keptNames([0, 30, 100], () => 50)).toEqual([true, false, true])
    expect(keptNames([0, 30, 100], () => 50, (i) => i === 1)).toEqual([false, true, true])
  })
})

describe('what is picked out on the way to the strip', () => {
  test('a finding unrolls its own run, with the pointer where it lies, and so does the next one that is picked out', () => {
    const assembly = assemble(smallVoidJob(clashing()))
    const findings = checkJob(assembly).filter(({ parts }) => parts.some(({ id }) => assembly.runs.some(({ run }) => run.id === id)))
    expect(findings.length).toBeGreaterThan(1)
    desk.setState({ open: { fileName: 'void', job: assembly.job, assembly }, verdict: { findings } as never, selection: { kind: 'finding', id: findings.at(-1)!.id } })
    viewing.setState({ stripRunId: null, stationMm: 0 })
    const end = followTouches()
    const look = (finding: (typeof findings)[number]): void => {
      const { stripRunId, stationMm } = viewing.getState()
      expect(finding.parts.map(({ id }) => id)).toContain(stripRunId)
      const { centreline } = assembly.runs.find(({ run }) => run.id === stripRunId)!
      const at = [0, 0, 0]
      pointAt(centreline, stationMm, at)
      const off = (place: ArrayLike<number>): number => Math.hypot(place[0] - finding.mark.x, place[1] - finding.mark.y, place[2] - finding.mark.z)
      // nowhere else on the run is nearer to the mark
      for (let s = 0; s <= centreline.lengthMm; s += 5) {
        const other = [0, 0, 0]
        pointAt(centreline, s, other)
        expect(off(at)).toBeLessThanOrEqual(off(other) + 1e-6)
      }
    }
    look(findings.at(-1)!)
    desk.setState({ selection: { kind: 'finding', id: findings[0].id } })
    look(findings[0])
    end()
    desk.setState({ selection: null, open: null, verdict: null })
  })
})
