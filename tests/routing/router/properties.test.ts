import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { apply, type Command } from '#commands/index.ts'
import { ELEMENT_STRIDE, END_X, KIND, LEG, LENGTH, RADIAL_X, START_X } from '#geometry/curve/centreline.ts'
import { usualPrices, type Job, type Point3 } from '#model/index.ts'
import { priceOf, routeJob } from '#routing/router/routeJob.ts'
import { WEB_FAMILIES, openRuns, routerFloor, type WebFamily } from '../../../fixtures/generate/routerFloors.ts'
import { leastLengthOf } from '../../oracle/leastLength.ts'
import { missesOf } from '../../oracle/laidRuns.ts'
import { faultsOf } from './floors.ts'

const laidFloors = new Map<string, ReturnType<typeof routeJob>>()
/** Laid, each floor once for all that is asked of it. */
function laidFloor(family: WebFamily, seed: number, runs = 3): ReturnType<typeof routeJob> {
  const key = `${family} ${seed} ${runs}`, known = laidFloors.get(key) ?? routeJob(routerFloor({ family, runs, seed }), { runs: 'all' })
  laidFloors.set(key, known)
  return known
}

/** The middle of a run's longest leg, and the level direction square to it. */
function longestLeg(job: Job, id: string): { middle: number[], side: number[], outerRadiusMm: number } {
  const { centreline: { elements, count }, outerRadiusMm } = assemble(job).runs.find(({ run }) => run.id === id)!
  const legs = Array.from({ length: count }, (_, k) => k * ELEMENT_STRIDE).filter((e) => elements[e + KIND] === LEG)
  const e = legs.reduce((best, one) => elements[one + LENGTH] > elements[best + LENGTH] ? one : best)
  const [dx, dy] = [elements[e + RADIAL_X], elements[e + RADIAL_X + 1]], size = Math.hypot(dx, dy)
  return { middle: [0, 1, 2].map((k) => (elements[e + START_X + k] + elements[e + END_X + k]) / 2), side: [dy / size, -dx / size, 0], outerRadiusMm }
}

/** Every family, two floors each: [family, seed]. */
const FLOORS = WEB_FAMILIES.flatMap((family, k) => [31 + k, 51 + k].map((seed) => [family, seed] as const))

describe('what is laid', () => {
  test.each(FLOORS)('%s webs, seed %i: all laid, nothing to put right, and none shorter than its bend radius allows', (family, seed) => {
    const routed = laidFloor(family, seed)
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    for (const placed of assemble(routed.job).runs) {
      if (placed.type.kind === 'semi-rigid') expect(placed.centreline.lengthMm).toBeGreaterThanOrEqual(leastLengthOf(placed).freeMm - 1e-6)
    }
  })

  test.each(FLOORS)('%s webs, seed %i: a slow judge that shares no distance with the checks finds nothing amiss to a hundredth of a millimetre', (family, seed) => {
    const { job } = laidFloor(family, seed)
    expect(missesOf(job, openRuns(job))).toEqual([])
  })

  test('and that judge misses neither a pipe a twentieth of a millimetre too near, nor a bend drawn too tight, nor an end off its mouth', () => {
    const { job } = laidFloor('offset', 32), [id] = openRuns(job)
    const { middle, side, outerRadiusMm } = longestLeg(job, id)
    // upright beside the middle of a leg, 10 mm of clearance asked
    const told = (spareMm: number) => {
      const [x, y] = [0, 1].map((k) => middle[k] + (outerRadiusMm + 10 + 20 + spareMm) * side[k])
      return missesOf({ ...job, solids: [...job.solids, { id: 'P', name: 'Pipe', class: 'pipe', note: '', shape: { kind: 'cylinder', from: [x, y, 0], to: [x, y, 5000], diameterMm: 40 } }] as Job['solids'] }, [id]).filter(({ what }) => what === 'P')
    }
    expect(told(0.001)).toEqual([])
    expect(told(-0.05).length).toBeGreaterThan(0)
    const changed = (change: (run: Job['runs'][number]) => Job['runs'][number]): Job => ({ ...job, runs: job.runs.map((run) => run.id === id ? change(run) : run) })
    expect(missesOf(changed((run) => ({ ...run, waypoints: run.waypoints.map((point) => ({ ...point, radiusMm: 60 })) })), [id]).some(({ what }) => what.startsWith('bend'))).toBe(true)
    expect(missesOf(changed((run) => ({ ...run, waypoints: run.waypoints.map((point, k) => k === 0 ? { at: [point.at[0], point.at[1], point.at[2] + 1] as Point3 } : point) })), [id]).map(({ what }) => what)).toContain('its first mouth')
  })

  test('asked twice is the same job to the last digit', () => {
    const job = routerFloor({ family: 'staggered', runs: 2, seed: 32 })
    expect(routeJob(job, { runs: 'all' }).job).toEqual(routeJob(job, { runs: 'all' }).job)
  })
})

/** What stands in the way of ducts on a floor, and the floor without it. */
function obstaclesOf(job: Job): [what: string, without: Job][] {
  const classes = [...new Set(job.solids.map((solid) => solid.class))]
  const bare = (every: number): Job['joistFields'] => job.joistFields.map((field) => ({ ...field, joists: field.joists.map((joist, k) => k % every === 0 ? { ...joist, webFree: [{ fromMm: 0, toMm: field.lengthMm }] } : joist) }))
  return [
    ...classes.map((className): [string, Job] => [className, {
      ...job, solids: job.solids.filter((solid) => solid.class !== className),
      sleeves: job.sleeves.map((sleeve) => ({ ...sleeve, through: sleeve.through.filter((id) => job.solids.some((solid) => solid.id === id && solid.class !== className)) })),
    }]),
    ['webs of every third joist', { ...job, joistFields: bare(3) }],
    ['every second joist', { ...job, joistFields: job.joistFields.map((field) => ({ ...field, joists: field.joists.flatMap((joist, k) => k % 2 === 0 ? [{ ...joist, positionMm: k * field.centresMm }] : []) })) }],
    ['a duct that was there', { ...job, runs: job.runs.filter(({ id }) => !id.endsWith('D3')) }],
  ]
}

test.each(WEB_FAMILIES.map((family, k) => [family, 61 + k] as const))('%s webs, seed %i: whatever is taken away, laying all anew is never dearer than keeping the old courses', (family, seed) => {
  const before = laidFloor(family, seed, 2), obstacles = obstaclesOf(before.job)
  expect(obstacles.map(([what]) => what)).toEqual(expect.arrayContaining(['wall', 'steel', 'soil-stack', 'pipe', 'downlight', 'keep-out']))
  // each of them on two of the three floors
  for (const [what, without] of obstacles.filter((_, n) => (n + seed) % 3 !== 0)) {
    const after = routeJob(without, { runs: 'all' })
    expect(after.ended, what).toBe('routed')
    expect(priceOf(after, usualPrices), what).toBeLessThanOrEqual(priceOf(before, usualPrices) + 1e-6)
    expect(faultsOf(after.job), what).toEqual([])
  }
})

function after(job: Job, command: Command): Job {
  const outcome = apply(job, command)
  if (!outcome.ok) throw new Error(outcome.why)
  return outcome.job
}

/** Asked for nothing in particular, the router lays those that have something to put right and leaves the very same runs elsewhere. */
function expectOnlyTouched(dragged: Job): void {
  const found = new Set(faultsOf(dragged).flatMap(({ parts }) => parts.map(({ id }) => id))), touched = openRuns(dragged).filter((id) => found.has(id))
  expect(touched.length).toBeGreaterThan(0)
  expect(touched.length).toBeLessThan(openRuns(dragged).length)
  const again = routeJob(dragged, { isExplained: false })
  expect(again.ended).toBe('routed')
  expect(again.runs.map(({ runId }) => runId)).toEqual(touched)
  expect(faultsOf(again.job)).toEqual([])
  again.job.runs.forEach((run, i) => { if (!touched.includes(run.id)) expect(run).toBe(dragged.runs[i]) })
}

describe('after a drag only what was touched is laid again', () => {
  test.each(FLOORS)('%s webs, seed %i: a terminal is dragged along its bay and aside', (family, seed) => {
    const { job } = laidFloor(family, seed), terminals = job.equipment.filter(({ kind }) => kind === 'plenum')
    // a long straight end leans after its terminal and is well as it is
    const drags = [[-150, 25], [-250, -25], [200, 25]].flatMap(([dx, dy]) => terminals.map(({ id, centre: [x, y, z] }) => after(job, { do: 'move-equipment', id, to: [x + dx, y + dy, z] })))
    expectOnlyTouched(drags.find((dragged) => faultsOf(dragged).length > 0)!)
  })

  test.each(FLOORS)('%s webs, seed %i: the soil pipe is dragged a little way into a run', (family, seed) => {
    const { job } = laidFloor(family, seed), [id] = openRuns(job), stack = job.solids.find((solid) => solid.class === 'soil-stack')!
    const { middle, side, outerRadiusMm } = longestLeg(job, id)
    if (stack.shape.kind !== 'cylinder') throw new Error('the soil pipe is a cylinder')
    const { from, diameterMm } = stack.shape, off = 15 - outerRadiusMm - diameterMm / 2
    const drags = [off, -off].map((aside) => after(job, { do: 'move-solid', id: stack.id, by: [middle[0] + aside * side[0] - from[0], middle[1] + aside * side[1] - from[1], 0] }))
    // to one side it may fill the bay
    expectOnlyTouched(drags.find((dragged) => routeJob(dragged, { isExplained: false }).ended === 'routed')!)
  })

  test('one taken up and drawn straight through everything', () => {
    const { job } = laidFloor('staggered', 33), [, id] = openRuns(job)
    const { waypoints } = job.runs.find((run) => run.id === id)!
    expectOnlyTouched({ ...job, runs: job.runs.map((run) => run.id === id ? { ...run, waypoints: [waypoints[0], waypoints.at(-1)!] } : run) })
  })
})

test.each([1, 500, 2_000])('stopped after %i steps of work, no fewer lie well than before', (budget) => {
  const { job } = laidFloor('staggered', 33), [, id] = openRuns(job), laid = job.runs.find((run) => run.id === id)!.waypoints
  const broken: Job = { ...job, runs: job.runs.map((run) => run.id === id ? { ...run, waypoints: [laid[0], laid.at(-1)!] } : run) }
  const again = routeJob(broken, { runs: 'all', budget, isExplained: false }), well = again.runs.flatMap(({ isRouted, runId }) => isRouted ? [runId] : [])
  const before = new Set(faultsOf(broken).flatMap(({ parts }) => parts.map((part) => part.id)))
  expect(well.length).toBeGreaterThanOrEqual(openRuns(broken).filter((one) => !before.has(one)).length)
  // beside those that are not, which lie where they lay
  expect(faultsOf({ ...again.job, runs: again.job.runs.filter((run) => run.locked === true || well.includes(run.id)) })).toEqual([])
})
