import { describe, expect, it } from 'vitest'
import { HOLE_RULES, largestDiameterMm, type HoleRuleId } from '#checks/holeRules.ts'
import { sentenceOf } from '#checks/wording.ts'
import type { JobInput } from '#model/index.ts'
import { findingsOf, oneJoist, together } from './smallJob.ts'

type Section = NonNullable<JobInput['sections']>[number]
type Hole = NonNullable<JobInput['holes']>[number]
type TimberRule = 'uk-classic' | 'uk-capped' | 'nhbc-6.4.18' | 'irc-r502.8'

const timber = (depthMm: number): Section => ({ kind: 'solid-timber', id: 's', name: 'timber', depthMm, widthMm: 47 })
const hole = (alongMm: number, heightMm: number, diameterMm: number, id = 'H1'): Hole => ({ id, joist: 'J1', alongMm, heightMm, diameterMm })

/** Which limits the holes of one joist break, as 'H1:diameter'. */
const broken = (section: Section, lengthMm: number, holes: Hole[], solidTimber: TimberRule = 'uk-capped', bearingMm = 0): string[] =>
  findingsOf(together(oneJoist(section, { lengthMm, bearingMm }), { holes, settings: { holeRules: { solidTimber } } }))
    .filter((finding) => finding.severity === 'stop').map((finding) => finding.id.replace('hole-outside-rule:', '')).sort()

describe('the largest hole', () => {
  it.each([[150, 37.5], [200, 50], [225, 56.25], [250, 62.5], [275, 65], [300, 65]])('a %d mm joist takes %d mm by the capped rule', (depth, most) => {
    // LABC, Notching and drilling joists: table of depths 150 to 300 (225: printed as 56.3)
    expect(largestDiameterMm(HOLE_RULES['uk-capped'], depth, 0)).toBeCloseTo(most, 1)
    const exact = Math.min(depth / 4, 65)
    expect(broken(timber(depth), 4000, [hole(1200, depth / 2, exact)])).toEqual([])
    expect(broken(timber(depth), 4000, [hole(1200, depth / 2, exact + 0.1)])).toEqual(['H1:diameter'])
  })

  it('a 75 mm hole in a 235 mm joist passes the American rule and fails every British one', () => { // IRC 2x10 case: 235 / 3 = 78.3
    const holes = [hole(1200, 117.5, 75)]
    expect(broken(timber(235), 4000, holes, 'irc-r502.8')).toEqual([])
    for (const rule of ['uk-classic', 'uk-capped', 'nhbc-6.4.18'] as const) expect(broken(timber(235), 4000, holes, rule)).toEqual(['H1:diameter'])
  })

  it('a 75 mm hole fails the capped rule even in a 300 mm joist', () => { // LABC cap 65 mm
    expect(broken(timber(300), 4000, [hole(1200, 150, 75)])).toEqual(['H1:diameter'])
  })

  it('a third of the depth by the American rule, to the millimetre from both sides', () => { // IRC R502.8.1
    expect(broken(timber(235), 4000, [hole(200, 117.5, 235 / 3)], 'irc-r502.8')).toEqual([])
    expect(broken(timber(235), 4000, [hole(200, 117.5, 235 / 3 + 0.1)], 'irc-r502.8')).toEqual(['H1:diameter'])
  })

  it.each(['uk-classic', 'nhbc-6.4.18'] as const)('%s takes a quarter of the depth, and speaks of no joist over 250 mm', (rule) => { // BS 5268-2 2.10.4; NHBC 6.4.18 Table 6
    expect(broken(timber(250), 4000, [hole(1200, 125, 62.5)], rule)).toEqual([])
    expect(broken(timber(250), 4000, [hole(1200, 125, 62.6)], rule)).toEqual(['H1:diameter'])
    expect(broken(timber(251), 4000, [hole(1200, 125.5, 62)], rule)).toEqual(['H1:joist-depth'])
  })
})

describe('where along the joist', () => {
  it.each([[2000, 500, 800], [3000, 750, 1200], [4000, 1000, 1600], [4500, 1125, 1800]])('a span of %d mm takes holes from %d to %d mm', (span, from, to) => {
    // LABC, Notching and drilling joists: table of spans 2000 to 4500; the same shares in BS 5268-2 2.10.4 and NHBC 6.4.18
    for (const rule of ['uk-classic', 'uk-capped', 'nhbc-6.4.18'] as const) {
      const at = (alongMm: number) => broken(timber(220), span, [hole(alongMm, 110, 50)], rule)
      expect(at(from)).toEqual([])
      expect(at(from - 0.1)).toEqual(['H1:zone-near'])
      expect(at(to)).toEqual([])
      expect(at(to + 0.1)).toEqual(['H1:zone-far'])
      // the same from the other support
      expect(at(span - from)).toEqual([])
      expect(at(span - from + 0.1)).toEqual(['H1:zone-near'])
      expect(at(span - to)).toEqual([])
      expect(at(span - to - 0.1)).toEqual(['H1:zone-far'])
    }
  })

  it('the span lies between the bearings', () => {
    // 4200 long on two bearings of 100: span 4000, so 1000 to 1600 from the support is 1100 to 1700 along the joist
    const at = (alongMm: number) => broken(timber(220), 4200, [hole(alongMm, 110, 50)], 'uk-capped', 100)
    expect(at(1100)).toEqual([])
    expect(at(1099)).toEqual(['H1:zone-near'])
    expect(at(1700)).toEqual([])
    expect(at(1701)).toEqual(['H1:zone-far'])
  })

  it('anywhere by the American rule', () => { // IRC R502.8.1
    for (const x of [100, 1000, 2000]) expect(broken(timber(220), 4000, [hole(x, 110, 50)], 'irc-r502.8')).toEqual([])
  })
})

describe('where in the depth', () => {
  it.each(['uk-classic', 'uk-capped', 'nhbc-6.4.18'] as const)('%s wants it on the middle, 3 mm being our allowance', (rule) => {
    for (const height of [107, 110, 113]) expect(broken(timber(220), 4000, [hole(1200, height, 50)], rule)).toEqual([])
    for (const height of [106.9, 113.1]) expect(broken(timber(220), 4000, [hole(1200, height, 50)], rule)).toEqual(['H1:middle'])
  })

  it('2 inches of timber above and below by the American rule', () => { // IRC R502.8.1: 2 in = 50.8 mm
    const at = (height: number) => broken(timber(235), 4000, [hole(1200, height, 60)], 'irc-r502.8')
    expect(at(80.8)).toEqual([])
    expect(at(80.7)).toEqual(['H1:bottom'])
    expect(at(235 - 80.8)).toEqual([])
    expect(at(235 - 80.7)).toEqual(['H1:top'])
  })
})

describe('between holes', () => {
  const pair = (gap: number, rule: TimberRule, second = 50) => broken(timber(220), 4000, [hole(1200, 110, 50, 'H1'), hole(1200 + gap, 110, second, 'H2')], rule)

  it.each(['uk-classic', 'uk-capped'] as const)('%s: three diameters of the larger from centre to centre', (rule) => { // BS 5268-2 2.10.4
    expect(pair(150, rule)).toEqual([])
    expect(pair(149.9, rule)).toEqual(['H1:apart:H2'])
    expect(pair(150, rule, 55)).toEqual(['H1:apart:H2'])
    expect(pair(165, rule, 55)).toEqual([])
  })

  it('100 mm of timber by NHBC 6.4.18, 2 inches by IRC R502.8.1', () => {
    expect(pair(150, 'nhbc-6.4.18')).toEqual([])
    expect(pair(149.9, 'nhbc-6.4.18')).toEqual(['H1:apart:H2'])
    expect(pair(100.8, 'irc-r502.8')).toEqual([])
    expect(pair(100.7, 'irc-r502.8')).toEqual(['H1:apart:H2'])
  })

  it('holes of different joists have nothing to do with each other', () => {
    const holes = [hole(1200, 110, 50), { ...hole(1210, 110, 50, 'H2'), joist: 'J2' }]
    const field = oneJoist(timber(220), { lengthMm: 4000, joists: [{ id: 'J1' }, { id: 'J2' }] })
    expect(findingsOf(together(field, { holes }))).toEqual([])
  })
})

describe('a wood I-joist', () => { // APA Form Z725, general rules as restated; distance to the support from memory
  const section: Section = { kind: 'i-section', id: 's', name: 'I 240', depthMm: 240, flangeWidthMm: 89, flangeHeightMm: 45, webThicknessMm: 10 }
  const at = (...holes: Hole[]) => broken(section, 4000, holes)

  it('240 deep with 45 mm flanges takes 144 mm: 3 mm of web left above and below', () => {
    expect(largestDiameterMm(HOLE_RULES['i-joist-generic'], 240, 45)).toBe(144)
    expect(at(hole(2000, 120, 144))).toEqual([])
    expect(at(hole(2000, 120, 144.1))).toEqual(['H1:bottom', 'H1:diameter', 'H1:top'])
    expect(at(hole(2000, 98, 100))).toEqual([])
    expect(at(hole(2000, 97.9, 100))).toEqual(['H1:bottom'])
    expect(at(hole(2000, 142, 100))).toEqual([])
    expect(at(hole(2000, 142.1, 100))).toEqual(['H1:top'])
  })

  it('leaves twice the larger diameter between two holes', () => {
    expect(at(hole(1000, 120, 60, 'H1'), hole(1000 + 50 + 120, 120, 40, 'H2'))).toEqual([])
    expect(at(hole(1000, 120, 60, 'H1'), hole(1000 + 50 + 119.9, 120, 40, 'H2'))).toEqual(['H1:apart:H2'])
  })

  it('keeps 6 inches from the bearing', () => {
    expect(at(hole(152.4 + 19, 120, 38))).toEqual([])
    expect(at(hole(152.3 + 19, 120, 38))).toEqual(['H1:bearing'])
    expect(at(hole(4000 - 152.3 - 19, 120, 38))).toEqual(['H1:bearing'])
    expect(findingsOf(together(oneJoist(section, { lengthMm: 4000 }), { holes: [hole(150, 120, 38)] }))[0].why).toContain('from memory')
  })

  it('with a hole over 38 mm, sends its owner to the maker\'s table once for the field', () => {
    const holes = [hole(1000, 120, 60, 'H1'), hole(2000, 120, 60, 'H2')]
    const findings = findingsOf(together(oneJoist(section, { lengthMm: 4000 }), { holes }))
    expect(findings).toMatchObject([{ severity: 'advice', code: 'hole-outside-rule', parts: [{ id: 'f' }, { id: 'H1' }] }])
    expect(sentenceOf(findings[0])).toMatch(/^Floor, at x 1,000 y 0 z 120 mm: holes larger than 38 mm .* joist maker's table/)
    expect(findingsOf(together(oneJoist(section, { lengthMm: 4000 }), { holes: [hole(1000, 120, 38)] }))).toEqual([])
  })
})

describe('a cold-formed joist', () => { // IRC R505.2.6.1, from memory
  const section = (depthMm: number): Section => ({ kind: 'cold-formed', id: 's', name: 'C', depthMm, flangeWidthMm: 41, lipMm: 12, thicknessMm: 1.4 })
  const at = (depth: number, ...holes: Hole[]) => broken(section(depth), 4000, holes)

  it('takes half its depth and never more than 64 mm', () => {
    expect(at(100, hole(2000, 50, 50))).toEqual([])
    expect(at(100, hole(2000, 50, 50.1))).toEqual(['H1:diameter'])
    expect(at(200, hole(2000, 100, 64))).toEqual([])
    expect(at(200, hole(2000, 100, 64.1))).toEqual(['H1:diameter'])
  })

  it('on the middle of the web, 610 mm apart, 254 mm from the bearing', () => {
    expect(at(200, hole(2000, 103.1, 60))).toEqual(['H1:middle'])
    expect(at(200, hole(1000, 100, 60, 'H1'), hole(1610, 100, 60, 'H2'))).toEqual([])
    expect(at(200, hole(1000, 100, 60, 'H1'), hole(1609, 100, 60, 'H2'))).toEqual(['H1:apart:H2'])
    expect(at(200, hole(284, 100, 60))).toEqual([])
    expect(at(200, hole(283.9, 100, 60))).toEqual(['H1:bearing'])
  })
})

describe('an open-web joist', () => {
  it('may be drilled nowhere: chord and web are each named', () => {
    const [finding, ...rest] = findingsOf(together(oneJoist(), { holes: [hole(300, 23.5, 20)] }))
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'hole-outside-rule:H1:bottom-chord', parts: [{ id: 'H1' }, { id: 'J1', part: 'bottom-chord' }], required: 0 })
    const webs = findingsOf(together(oneJoist(), { holes: [hole(150, 127, 20)] }))
    expect(webs.map((f) => f.parts[1].part)).toEqual(['web-1-left', 'web-1-right'])
  })

  it('a hole that lies in an opening takes nothing out of it', () => {
    expect(findingsOf(together(oneJoist(), { holes: [hole(300, 117.75, 141)] }))).toEqual([])
    expect(findingsOf(together(oneJoist(), { holes: [hole(300, 117.75, 142)] })).length).toBeGreaterThan(0)
  })
})

it('every rule says where it comes from, and its sentence leaves the last word to the maker', () => {
  for (const id of Object.keys(HOLE_RULES) as HoleRuleId[]) {
    expect(HOLE_RULES[id].source.length).toBeGreaterThan(5)
    expect(['read', 'restated', 'from memory']).toContain(HOLE_RULES[id].mark)
  }
  const [finding] = findingsOf(together(oneJoist(timber(220), { lengthMm: 4000 }), { holes: [hole(1200, 110, 60)] }))
  expect(sentenceOf(finding)).toBe('Hole H1 in joist J1, at x 1,200 y 0 z 110 mm: diameter, by LABC guidance on notching and drilling joists, after TRADA guidance 3.2.2 to Eurocode 5 (read). Found 60.0 mm; at most 55 mm is allowed. The joist maker, an engineer and the local code have the last word.')
})
