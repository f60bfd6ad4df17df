import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airAt } from '#air/density.ts'
import { colebrook } from '#air/friction.ts'
import { airOfJob } from '#air/index.ts'
import { systemsOf } from '#air/systems.ts'
import { assemble } from '#assembly/assemble.ts'
import { FAMILY, VALVE, assemblyOf, houseOf, read } from './airHouse.ts'

const SEED = 60_217
const AIR = airAt(20, 0)

/** By hand, from Colebrook and the velocity alone: nothing of runDrop. */
function byHand(boreMm: number, lps: number, lengthM: number, endsZeta: number): number {
  const velocity = lps / 1000 / (Math.PI / 4 * (boreMm / 1000) ** 2), reynolds = AIR.density * velocity * boreMm / 1000 / AIR.viscosity
  return (colebrook(reynolds, 0.09 / boreMm) * lengthM / (boreMm / 1000) + endsZeta) * AIR.density * velocity ** 2 / 2
}

describe('a straight run of 75', () => {
  // 15.5 l/s in a bore of 63 mm: turbulent, so the sum is by Colebrook; out of a manifold 0.5 (ASHRAE, restated), into a plenum 1.0 (read)
  const report = airOfJob(assemblyOf([{ id: 'a', use: 'living', ductsMm: [5_000] }, { id: 'b', use: 'bathroom', ductsMm: [5_000] }], { air: { wholeLps: 15.5 } }))
  const [supply, extract] = report.normal.pressures

  test('loses its friction over its length and its two ends', () => {
    const run = supply.runs.find((row) => row.run.placed.run.id === 'R-a-1')!
    expect(run.totalPa).toBeCloseTo(byHand(63, 15.5, 5, 1.5), 9)
    expect(run.frictionPa + run.bendsPa + run.endsPa + run.inLinePa).toBeCloseTo(run.totalPa, 12)
  })
  test('is the index with its trunk and its valve', () => {
    const valvePa = 3 * AIR.density * (15.5 / 1000 / (Math.PI / 4 * 0.063 ** 2)) ** 2 / 2
    // out of the trunk into the manifold: 1.0; at the unit nothing, the fan's pressure is taken there
    expect(supply.neededPa).toBeCloseTo(byHand(160, 15.5, 1, 1) + byHand(63, 15.5, 5, 1.5) + valvePa, 9)
    expect(supply.index!.way.map(({ placed }) => placed.run.id)).toEqual(['R-supply', 'R-a-1'])
  })
  test('costs extract the same but for the trunk’s end, where the air goes in', () => {
    expect(supply.neededPa - extract.neededPa).toBeCloseTo(byHand(160, 15.5, 1, 1) - byHand(160, 15.5, 1, 0.5), 9)
  })
  test('the fan gives the rooms’ side and the outdoors’ side', () => {
    const [fan] = report.normal.fans
    const hoodPa = 3 * AIR.density * (15.5 / 1000 / (Math.PI / 4 * 0.16 ** 2)) ** 2 / 2
    expect(fan.outdoorsPa).toBeCloseTo(byHand(160, 15.5, 2, 0) + hoodPa, 9)
    expect(fan.neededPa).toBeCloseTo(supply.neededPa + fan.outdoorsPa, 9)
    expect(fan.answer).toBeNull()
  })
})

describe('what is entered takes the place of what is assumed', () => {
  const wishes = [{ id: 'a', use: 'living', ductsMm: [5_000] }, { id: 'b', use: 'bathroom', ductsMm: [5_000] }] as const
  const needed = (...house: Parameters<typeof assemblyOf>) => airOfJob(assemblyOf(...house)).normal.pressures[0].neededPa
  const base = needed(wishes, { air: { wholeLps: 15.5 } })
  test('a valve’s characteristic, fully open: 5 Pa at 10 l/s', () => {
    const with5 = needed(wishes.map((room) => ({ ...room, terminal: { settings: VALVE } })), { air: { wholeLps: 15.5 } })
    const assumed = 3 * AIR.density * (15.5 / 1000 / (Math.PI / 4 * 0.063 ** 2)) ** 2 / 2
    expect(with5 - base).toBeCloseTo(5 * 1.55 ** 2 * AIR.density / 1.2 - assumed, 9)
  })
  test('roughness of a duct type', () => {
    const job = houseOf(wishes, { air: { wholeLps: 15.5 } })
    const rough = { ...job, ductTypes: job.ductTypes.map((type) => type.id === 'd75' ? { ...type, roughnessMm: 0.9 } : type) }
    expect(airOfJob(assemble(rough)).normal.pressures[0].neededPa).toBeGreaterThan(base + 1)
    const assumedFor = (of: typeof job) => airOfJob(assemble(of)).remarks.filter(({ code }) => code === 'roughness-assumed').flatMap(({ parts }) => parts.map(({ id }) => id))
    expect([assumedFor(job), assumedFor(rough as typeof job)]).toEqual([['d160', 'd75'], ['d160']])
  })
  test('a silencer in a run, a manifold’s drop, a filter in the unit', () => {
    const job = houseOf(wishes, { air: { wholeLps: 15.5 } }, { losses: [{ name: 'filter', kind: 'filter', dropPa: 20, atLps: 15.5 }] })
    const quiet = { ...job, runs: job.runs.map((run) => run.id === 'R-a-1' ? { ...run, inLine: [{ name: 'silencer', kind: 'silencer' as const, dropPa: 3, atLps: 15.5, exponent: 2 }] } : run) }
    const report = airOfJob(assemble(quiet))
    expect(report.normal.pressures[0].neededPa - base).toBeCloseTo(3 * AIR.density / 1.2, 9)
    expect(report.normal.fans[0].unitPa).toBeCloseTo(20 * AIR.density / 1.2, 9)
    const boxed = { ...job, equipment: job.equipment.map((part) => part.id === 'supply-manifold' ? { ...part, airflow: { losses: [{ name: 'box', kind: 'other' as const, dropPa: 8, atLps: 15.5, exponent: 2 }] } } : part) }
    // the trunk's 1.0 and the run's 0.5 are in the manifold's own 8 Pa
    expect(airOfJob(assemble(boxed)).normal.pressures[0].neededPa).toBeCloseTo(base + 8 * AIR.density / 1.2 - (byHand(160, 15.5, 1, 1) - byHand(160, 15.5, 1, 0)) - (byHand(63, 15.5, 5, 1.5) - byHand(63, 15.5, 5, 1)), 9)
  })
  test('altitude: thinner air costs less', () => {
    expect(needed(wishes, { air: { wholeLps: 15.5, altitudeM: 2_000 } })).toBeLessThan(base * 0.9)
  })
  test('bends by each method: the angle and radius of the run as laid', () => {
    const job = houseOf(wishes, { air: { wholeLps: 15.5 } })
    const bent = (bends: 'bend-formula' | 'smooth-elbow-table' | 'round-figures') => airOfJob(assemble(read({
      ...job, air: { wholeLps: 15.5, bends }, runs: job.runs.map((run) => run.id === 'R-a-1' ? { ...run, waypoints: [run.waypoints[0], { at: [2_500, run.waypoints[0].at[1], 2_500] as [number, number, number] }, { at: [2_500, 3_000, 2_500] as [number, number, number] }] } : run),
    }))).normal.pressures[0].runs.find((row) => row.run.placed.run.id === 'R-a-1')!
    const rows = (['bend-formula', 'smooth-elbow-table', 'round-figures'] as const).map(bent)
    for (const row of rows) {
      expect(row.bends).toHaveLength(1)
      expect(row.bends[0].turnDeg).toBeCloseTo(90, 9)
      expect(row.bends[0].radiusRatio).toBeCloseTo(150 / 63, 9)
    }
    expect(rows[1].bends[0].zeta).toBeCloseTo(0.13 - 0.01 * (150 / 63 - 2) / 0.5, 9)
    expect(rows[2].bends[0].zeta).toBe(0.25)
    // the formula holds the bend's own friction, so the arc is not counted as duct as well
    expect(rows[0].frictionPa).toBeLessThan(rows[1].frictionPa)
  })
})

describe('flows in the whole house', () => {
  test('two ducts to one valve carry what makes their pressures equal', () => {
    const job = houseOf(FAMILY, { air: { floorAreaM2: 92 } })
    // the second kitchen valve's duct is brought to the first valve instead
    const [one, two] = ['kitchen-1', 'kitchen-2'].map((id) => job.equipment.find((part) => part.id === id)!)
    const joined = read({
      ...job, equipment: job.equipment.filter((part) => part !== two).map((part) => part === one ? { ...one, spigots: [...one.spigots, { ...one.spigots[0], id: 'in2' }] } : part),
      runs: job.runs.map((run) => run.id === 'R-kitchen-2' ? { ...run, to: { equipment: 'kitchen-1', spigot: 'in2' } } : run),
    })
    const extract = airOfJob(assemble(joined)).boost.pressures.find(({ system }) => system.stream === 'extract')!
    const [a, b] = ['R-kitchen-1', 'R-kitchen-2'].map((id) => extract.runs.find((row) => row.run.placed.run.id === id)!)
    expect(a.lps + b.lps).toBeCloseTo(13, 9)
    expect(a.lps).toBeGreaterThan(b.lps)
    expect(Math.abs(a.totalPa - b.totalPa)).toBeLessThan(1e-9)
  })
  test('mass is kept to 1e-9 l/s at every place, in normal and in boost, in any house', () => {
    let worst = 0
    fc.assert(fc.property(fc.array(fc.tuple(fc.constantFrom('living', 'bedroom', 'kitchen', 'bathroom', 'wc'), fc.array(fc.integer({ min: 500, max: 20_000 }), { minLength: 1, maxLength: 3 })), { minLength: 1, maxLength: 8 }), fc.double({ min: 5, max: 150, noNaN: true }), (rooms, wholeLps) => {
      const report = airOfJob(assemblyOf(rooms.map(([use, ductsMm], i) => ({ id: `r${i}`, use: use as 'living', ductsMm })), { air: { wholeLps } }))
      for (const { pressures } of [report.normal, report.boost]) {
        for (const { imbalanceLps, settled, neededPa, terminals } of pressures) {
          worst = Math.max(worst, imbalanceLps)
          expect(settled).toBe(true)
          expect(imbalanceLps).toBeLessThan(1e-9)
          expect(neededPa).toBe(Math.max(0, ...terminals.filter(({ lps }) => lps > 0).map(({ totalPa }) => totalPa)))
        }
      }
    }), { seed: SEED, numRuns: 60 })
    console.log(`worst imbalance ${worst.toExponential(1)} l/s (seed ${SEED})`)
  })
  test('longer ducts never make the fan’s work less', () => {
    fc.assert(fc.property(fc.integer({ min: 500, max: 20_000 }), fc.integer({ min: 1, max: 10_000 }), (lengthMm, more) => {
      const needed = (mm: number) => airOfJob(assemblyOf([{ id: 'a', use: 'living', ductsMm: [mm] }], { air: { wholeLps: 12 } })).normal.pressures[0].neededPa
      expect(needed(lengthMm + more)).toBeGreaterThan(needed(lengthMm))
    }), { seed: SEED, numRuns: 30 })
  })
})

describe('systems that cannot be worked out are named', () => {
  const base = houseOf(FAMILY)
  test('a supply manifold joined to an extract valve', () => {
    const job = read({ ...base, equipment: base.equipment.map((part) => part.id === 'bed1-1' ? { ...part, air: 'extract' as const } : part) })
    expect(airOfJob(assemble(job)).remarks.map(({ code }) => code)).toContain('mixed-air')
  })
  test('equipment that does not say its air', () => {
    const job = read({ ...base, equipment: base.equipment.map((part) => part.id === 'intake' ? { ...part, air: undefined } : part) })
    expect(systemsOf(assemble(job)).unused.map(({ why }) => why)).toEqual(['air-unknown'])
  })
  test('a terminal that no duct reaches', () => {
    const job = read({ ...base, runs: base.runs.filter(({ id }) => id !== 'R-bed1-1') })
    expect(airOfJob(assemble(job)).remarks.find(({ code }) => code === 'unconnected')).toMatchObject({ parts: [{ id: 'bed1-1' }] })
  })
  test('a job of nothing says nothing', () => {
    expect(airOfJob(assemble(read({ format: 'joistway-job', version: 1, name: 'Empty' })))).toMatchObject({ remarks: [], valves: [], normal: { pressures: [], fans: [] } })
  })
})
