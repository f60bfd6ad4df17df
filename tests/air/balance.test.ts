import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { adjustingOrder, settingsOf, turnsFor } from '#air/balance.ts'
import { airAt } from '#air/density.ts'
import { airOfJob } from '#air/index.ts'
import { solveNetwork, type Link } from '#air/network.ts'
import { runDrop } from '#air/runDrop.ts'
import { kAt, settingFor, valveDropPa, valveOf, type Valve } from '#air/valve.ts'
import { FAMILY, VALVE, assemblyOf } from './airHouse.ts'

const SEED = 9_113
const AIR = airAt(20, 0)
const VALVES: Valve = { unit: 'turns', rows: VALVE.map(({ setting, flowLps, dropPa }) => ({ setting, k: dropPa / flowLps ** 2 })) }

describe('a valve’s setting', () => {
  test('at the rows of its characteristic it is the row', () => {
    for (const { setting, k } of VALVES.rows) expect(settingFor(VALVES, k)).toEqual({ ok: true, setting: expect.closeTo(setting, 9) })
  })
  test('read back from any setting it is the same setting', () => {
    fc.assert(fc.property(fc.double({ min: 0, max: 20, noNaN: true }), (setting) => {
      const answer = settingFor(VALVES, kAt(VALVES, setting))
      expect(answer.ok).toBe(true)
      expect(answer.setting).toBeCloseTo(setting, 7)
    }), { seed: SEED })
  })
  test('beyond its rows it says which way, and gives the end', () => {
    expect(settingFor(VALVES, 1)).toMatchObject({ ok: true })
    expect(settingFor(VALVES, 0.01)).toEqual({ ok: false, why: 'too open', setting: 20 })
    expect(settingFor(VALVES, 1_000)).toEqual({ ok: false, why: 'too closed', setting: 0 })
  })
})

describe('settings of a house', () => {
  const wishes = FAMILY.map((room) => ({ ...room, terminal: { settings: VALVE, settingUnit: 'mm' } }))
  test('with every valve as set and only the fan’s pressure known, every terminal gets its share: the network says so', () => {
    const report = airOfJob(assemblyOf(wishes, { air: { floorAreaM2: 92 } }))
    for (const pressure of report.normal.pressures.filter(({ system }) => system.stream === 'supply' || system.stream === 'extract')) {
      const valves = settingsOf(pressure, AIR.density), { system } = pressure
      const room = system.nodes.length
      const odd = (drop: (lps: number) => number) => (lps: number) => Math.sign(lps) * drop(Math.abs(lps))
      const links: Link[] = [
        ...system.runs.map(({ near, far, way }): Link => ({ from: near, to: far, dropPa: odd((lps) => lps === 0 ? 0 : runDrop(way, lps, AIR, report.settings.bends).totalPa) })),
        ...valves.map(({ equipment, answer }): Link => ({ from: system.nodes.findIndex((node) => node.equipment === equipment), to: room, dropPa: odd((lps) => valveDropPa(kAt(valveOf(equipment)!, answer!.setting), lps, AIR.density)) })),
      ]
      const flow = solveNetwork({ nodeCount: room + 1, links, fixedPa: new Map([[system.root, pressure.neededPa], [room, 0]]), drawLps: [] })
      valves.forEach(({ lps, answer }, i) => {
        expect(answer!.ok).toBe(true)
        expect(Math.abs(flow.lps[system.runs.length + i] - lps)).toBeLessThan(1e-6)
      })
    }
  })
  test('the index stays fully open, and nothing is opened further than it', () => {
    const { valves } = airOfJob(assemblyOf(wishes))
    const indexes = valves.filter(({ isIndex }) => isIndex)
    expect(indexes.map(({ answer }) => answer)).toEqual([{ ok: true, setting: 20 }, { ok: true, setting: 20 }])
    for (const { answer } of valves) expect(answer!.setting).toBeLessThanOrEqual(20)
  })
  // common practice: between half and three-quarters
  test('without a characteristic the start lies between half and three-quarters open, the index widest', () => {
    const { valves } = airOfJob(assemblyOf(FAMILY))
    for (const { startOpenShare, isIndex } of valves) {
      expect(startOpenShare).toBeGreaterThanOrEqual(0.5)
      expect(startOpenShare).toBeLessThanOrEqual(0.75)
      if (isIndex) expect(startOpenShare).toBe(0.75)
    }
  })
})

// proportional balancing: with every valve open the one with most pressure to spare is furthest above its share
test('before anything is read the cheapest way is set first and the index last', () => {
  const { valves } = airOfJob(assemblyOf(FAMILY))
  const supply = adjustingOrder(valves.filter(({ equipment }) => equipment.air === 'supply'))
  expect(supply.at(-1)).toMatchObject({ isIndex: true, sparePa: 0 })
  for (const [i, { sparePa }] of supply.entries()) if (i > 0) expect(sparePa).toBeLessThanOrEqual(supply[i - 1].sparePa)
  for (const { dropPa, sparePa } of supply) expect(dropPa).toBeGreaterThan(sparePa)
})

describe('what to turn next', () => {
  const targets = [{ id: 'a', lps: 10 }, { id: 'b', lps: 10 }, { id: 'c', lps: 10 }]
  test('the one furthest from its share, whatever the fan gives', () => {
    const { turns, totalRatio } = turnsFor(targets, new Map([['a', 8], ['b', 4], ['c', 6]]), 0.05)
    expect(totalRatio).toBeCloseTo(0.6, 12)
    // b has 4 of a share of 6, a has 8 of 6: a factor of 1.5 against 1.33
    expect(turns.map(({ id, way }) => [id, way])).toEqual([['b', 'open'], ['a', 'close'], ['c', 'leave']])
    expect(turns[0].aimLps).toBeCloseTo(6, 12)
  })
  test('a terminal that is fully open and has too little brings the others down to it', () => {
    const { turns } = turnsFor(targets, new Map([['a', 8], ['b', 4], ['c', 6]]), 0.05, new Set(['b']))
    expect(turns.map(({ id, way, aimLps }) => [id, way, aimLps])).toEqual([['a', 'close', 4], ['c', 'close', 4], ['b', 'leave', 4]])
  })
  test('nothing read, nothing to turn; a reading of nothing is furthest of all', () => {
    expect(turnsFor(targets, new Map(), 0.05)).toEqual({ turns: [], totalRatio: null })
    expect(turnsFor(targets, new Map([['a', 10], ['b', 0], ['c', 9]]), 0.05).turns[0]).toMatchObject({ id: 'b', way: 'open' })
  })
  test('readings in the same proportion as the targets leave everything alone', () => {
    fc.assert(fc.property(fc.array(fc.double({ min: 0.5, max: 30, noNaN: true }), { minLength: 1, maxLength: 10 }), fc.double({ min: 0.2, max: 3, noNaN: true }), (flows, ratio) => {
      const wanted = flows.map((lps, i) => ({ id: `t${i}`, lps }))
      const { turns } = turnsFor(wanted, new Map(wanted.map(({ id, lps }) => [id, lps * ratio])), 1e-9)
      expect(turns.every(({ way }) => way === 'leave')).toBe(true)
    }), { seed: SEED })
  })
})
