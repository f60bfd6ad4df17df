import { describe, expect, test } from 'vitest'
import { countText, degText, lengthText, mmText, sizesText } from '#app/figures.ts'
import { byRun, findingsLeft, runsLeft } from '#app/filtering.ts'
import { amountWords, headline, underline } from '#app/words.ts'
import type { Finding, Severity } from '#checks/finding.ts'
import { FINDING_CODES } from '#checks/finding.ts'
import type { RunVerdict, Verdict } from '#routing/verdict.ts'

const place = { x: 1, y: 2, z: 3 }
const finding = (over: Partial<Finding>): Finding => ({
  id: 'clash:R7:J12/web-3', code: 'clash', severity: 'stop', at: place, mark: place, unit: 'mm', measured: -12.34, required: 5, why: 'duct to web',
  parts: [{ id: 'R7', name: 'Run 7' }, { id: 'J12', part: 'web-3', name: 'joist J12, web 3' }], ...over,
})
const run = (over: Partial<RunVerdict>): RunVerdict => ({
  runId: 'R7', name: 'Run 7', lengthMm: 4_000, bendCount: 2, outerDiameterMm: 90, trialDiameterMm: 101, touchesFirst: { id: 'J12', name: 'joist J12, web 3' },
  touchesAt: place, touchesAtStationMm: 1, state: 'clear', findingIds: [], ...over,
})
const verdict = (counts: Partial<Record<Severity, number>>, runs: RunVerdict[], findings: Finding[] = []): Verdict => ({ findings, runs, counts: { stop: 0, mend: 0, advice: 0, ...counts } })

describe('numbers as they are written on site', () => {
  test('grouped, with tenths only where there are any, and always with a unit', () => {
    expect(mmText(1_245)).toBe('1,245 mm')
    expect(mmText(36.46)).toBe('36.5 mm')
    expect(mmText(-12)).toBe('\u221212 mm')
    expect(mmText(-0.01)).toBe('0 mm')
    expect(sizesText([40, 2.5])).toBe('40 \u00d7 2.5 mm')
    expect(lengthText(9_999)).toBe('9,999 mm')
    expect(lengthText(12_345)).toBe('12.35 m')
    expect(degText(32.46)).toBe('32.5\u00b0')
    expect([countText(1, 'bend'), countText(3, 'bend'), countText(0, 'bend')]).toEqual(['1 bend', '3 bends', '0 bends'])
  })
})

describe('the verdict in one line', () => {
  test('says the worst of it first', () => {
    expect(headline(verdict({ stop: 1, mend: 4 }, [run({ state: 'stop' })]))).toBe('1 thing won\u2019t fit')
    expect(headline(verdict({ mend: 4 }, [run({ state: 'mend' })]))).toBe('Everything fits; 4 things to put right')
    expect(headline(verdict({ advice: 2 }, [run({})]))).toBe('Everything goes in')
    expect(headline(verdict({}, []))).toBe('No runs yet')
  })
  test('names the tightest run of a clean job and what it would meet', () => {
    const runs = [run({ name: 'Run 1', trialDiameterMm: null, touchesFirst: null }), run({}), run({ name: 'Run 9', trialDiameterMm: 140 })]
    expect(underline(verdict({}, runs))).toBe('3 runs checked and clear. The tightest is Run 7, with 5.5 mm all round before it meets joist J12, web 3.')
  })
  test('counts the runs to change and those that go in', () => {
    expect(underline(verdict({ stop: 1 }, [run({ state: 'stop' }), run({}), run({})], [finding({})]))).toBe('1 run of 3 to change; 2 go in as drawn.')
  })
  test('every kind of finding has a short amount with its unit or the name of the thing', () => {
    for (const code of FINDING_CODES) {
      expect(amountWords(finding({ code, measured: -12.34, required: 5 }))).toMatch(/\d mm/)
      expect(amountWords(finding({ code, unit: 'deg', measured: 40, required: 45 }))).toMatch(/\d( mm|\u00b0)/)
    }
    expect(amountWords(finding({}))).toBe('overlaps by 12.3 mm')
  })
})

describe('finding things in the list', () => {
  const findings = [finding({}), finding({ id: 'b', severity: 'mend', code: 'tight', parts: [{ id: 'R8', name: 'Run 8' }, { id: 'SP', name: 'Soil stack' }] })]
  const every = new Set<Severity>(['stop', 'mend', 'advice'])
  test('by any words of the title, whatever their order and case', () => {
    expect(findingsLeft(findings, every, 'WEB run 7')).toEqual([findings[0]])
    expect(findingsLeft(findings, every, 'soil')).toEqual([findings[1]])
    expect(findingsLeft(findings, every, '  ')).toEqual(findings)
    expect(findingsLeft(findings, every, 'kitchen')).toEqual([])
  })
  test('a number is that number: run 7 is not run 17, nor run 24 at web 7, and J2 is not J25', () => {
    const of = (run: string, part: string) => finding({ id: run + part, parts: [{ id: run.replace('Run ', 'R'), name: run }, { id: part.split(' ')[1], name: part }] })
    const all = [of('Run 7', 'joist J25, web 12'), of('Run 17', 'joist J2, web 1'), of('Run 24', 'joist J41, web 7')]
    expect(findingsLeft(all, every, 'run 7')).toEqual([all[0]])
    expect(findingsLeft(all, every, 'web 7')).toEqual([all[2]])
    expect(findingsLeft(all, every, '7')).toEqual([all[0], all[2]])
    expect(findingsLeft(all, every, 'j2')).toEqual([all[1]])
    expect(findingsLeft(all, every, 'joist run')).toEqual(all)
    expect(findingsLeft(all, every, '(run [')).toEqual([])
  })
  test('by severity', () => {
    expect(findingsLeft(findings, new Set<Severity>(['mend']), '')).toEqual([findings[1]])
    expect(findingsLeft(findings, new Set(), '')).toEqual([])
  })
  test('run by run: each under the first run that it is of, runs in the order of their worst, the rest under a heading of its own', () => {
    const listed = [finding({ id: 'a', parts: [{ id: 'R8', name: 'Run 8' }, { id: 'R7', name: 'Run 7' }] }), finding({ id: 'b' }), finding({ id: 'c', parts: [{ id: 'E1', name: 'Unit' }] }), finding({ id: 'd', parts: [{ id: 'R8', name: 'Run 8' }] })]
    const groups = byRun(listed, [run({ runId: 'R7', name: 'Run 7' }), run({ runId: 'R8', name: 'Run 8' })])
    expect(groups.map(({ name, findings: of }) => [name, ...of.map(({ id }) => id)])).toEqual([['Run 8', 'a', 'd'], ['Run 7', 'b'], ['Not of a run', 'c']])
  })
  test('runs by name, id, or what they would touch', () => {
    const runs = [run({}), run({ runId: 'R9', name: 'Bath', touchesFirst: null })]
    expect(runsLeft(runs, 'r9')).toEqual([runs[1]])
    expect(runsLeft(runs, 'J12')).toEqual([runs[0]])
  })
})
