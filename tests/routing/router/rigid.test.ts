import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { movedJob } from '#routing/router/movedJob.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { openRuns, routerFloor, WEB_FAMILIES } from '../../../fixtures/generate/routerFloors.ts'
import { impossibleFloor } from '../../../fixtures/generate/impossibleFloors.ts'
import { box } from '../../checks/smallJob.ts'
import { canalHouseBare, faultsOf } from './floors.ts'
import { motion } from './motions.ts'
import { fittings, inRigidDuct, rigidJob, rigidRuns, rigidTakenUp, unmade, worthOf, type FittingInput, type RigidEnds } from './rigidFloors.ts'

const SIN = (deg: number): number => Math.sin(deg * Math.PI / 180), TAN = (deg: number): number => Math.tan(deg * Math.PI / 180)
/** What an arc of a fitting is shorter than its two tangents, radius 125 mm. */
const savedMm = (deg: number): number => 125 * (2 * TAN(deg / 2) - deg * Math.PI / 180)

const ALL = fittings(90, 45, 30, 15)
const ahead = (to: RigidEnds['to'], toAxis: RigidEnds['toAxis']): RigidEnds => ({ from: [0, 0, 1500], fromAxis: [1, 0, 0], to, toAxis })

/** No play at the ends, so that a spigot just out of line is not met askew. */
const IN_LINE = { settings: { connection: { offMm: 0, offDeg: 0.01 } } }

/** One run in a void with nothing in it. */
function alone(ends: RigidEnds, list: readonly FittingInput[]) {
  const routed = routeJob(rigidJob([ends], list, IN_LINE), { runs: 'all', isExplained: false })
  return { routed, ...routed.runs[0], placed: rigidRuns(routed.job)[0] }
}

describe('one rigid run in a void with nothing in it', () => {
  test('goes straight where its spigots look at each other', () => {
    expect(alone(ahead([4000, 0, 1500], [-1, 0, 0]), ALL)).toMatchObject({ isRouted: true, lengthMm: 4000, bendCount: 0 })
  })

  test('square ends by one elbow: both legs to the corner, less what its arc saves', () => {
    const { routed, lengthMm, bendCount } = alone(ahead([4000, 3000, 1500], [0, -1, 0]), fittings(90))
    expect(bendCount).toBe(1)
    expect(lengthMm).toBeCloseTo(7000 - savedMm(90), 6)
    expect(faultsOf(routed.job)).toEqual([])
  })

  // offset formula, common practice of duct and pipe fitters: travel = offset / sin(angle), advance = offset / tan(angle)
  test.each([[45, 500, 0], [30, 500, 0], [15, 330, 0], [45, 500, 400], [30, 300, 400], [45, 0, 250]])('an offset by two fittings of %i degrees, %i mm aside and %i up: as long as trigonometry says', (deg, aside, up) => {
    const { routed, lengthMm, bendCount, placed } = alone(ahead([4000, aside, 1500 + up], [-1, 0, 0]), fittings(deg))
    const offset = Math.hypot(aside, up)
    expect(bendCount).toBe(2)
    expect(lengthMm).toBeCloseTo(4000 - offset / TAN(deg) + offset / SIN(deg) - 2 * savedMm(deg), 6)
    expect(unmade(placed)).toEqual([])
    expect(faultsOf(routed.job)).toEqual([])
  })

  test('of the angles to be had it takes the shortest offset: the flattest that fits', () => {
    // 30 mm aside: two of 15 degrees need 2 * (125 * tan 7.5 + 40) = 112.9 mm between their corners, which is 29.2 aside
    const { lengthMm } = alone(ahead([4000, 30, 1500], [-1, 0, 0]), ALL)
    expect(lengthMm).toBeCloseTo(4000 - 30 / TAN(15) + 30 / SIN(15) - 2 * savedMm(15), 6)
  })

  test('an offset too small for any pair of fittings is made the long way round, by fittings all the same', () => {
    // 12 mm aside: two of 15 degrees would carry it 29 mm
    const { routed, isRouted, bendCount, placed } = alone(ahead([4000, 12, 1500], [-1, 0, 0]), ALL)
    expect(isRouted).toBe(true)
    expect(bendCount).toBeGreaterThan(2)
    expect(unmade(placed)).toEqual([])
    expect(faultsOf(routed.job)).toEqual([])
  })

  test('back beside itself: two elbows as soon as they may come', () => {
    // 40 mm slides into each elbow, 125 mm to its corner
    const { lengthMm, bendCount } = alone(ahead([0, 1000, 1500], [1, 0, 0]), fittings(90))
    expect(bendCount).toBe(2)
    expect(lengthMm).toBeCloseTo(2 * 165 + 1000 - 2 * savedMm(90), 6)
  })

  test('round a corner with half elbows the corner is cut off as far as both ends let it', () => {
    const { lengthMm, placed } = alone(ahead([3000, 3000, 1500], [0, -1, 0]), fittings(45))
    const leastMm = 125 * TAN(22.5) + 40
    expect(lengthMm).toBeCloseTo(2 * leastMm + Math.SQRT2 * (3000 - leastMm) - 2 * savedMm(45), 6)
    expect(unmade(placed)).toEqual([])
  })

  test.each<[string, RigidEnds, readonly FittingInput[]]>([
    ['to an upright spigot', ahead([4000, 2000, 1800], [0, 0, -1]), ALL],
    ['to a spigot turned away', ahead([4000, 200, 1500], [1, 0, 0]), ALL],
    ['to a spigot straight behind', ahead([-2000, 0, 1500], [1, 0, 0]), ALL],
    ['to a spigot askew in plan, with square elbows only', ahead([4000, 2000, 1800], [Math.cos(2.3), Math.sin(2.3), 0]), fittings(90)],
    ['between spigots askew in space', { from: [0, 0, 1500], fromAxis: [0.8, 0.6, 0], to: [4000, 2000, 1800], toAxis: [0.8 * Math.cos(2.3), 0.8 * Math.sin(2.3), 0.6] }, ALL],
  ])('%s: by listed fittings, met exactly at both ends', (_, ends, list) => {
    const { routed, placed } = alone(ends, list)
    expect(routed.ended).toBe('routed')
    expect(unmade(placed)).toEqual([])
    expect(faultsOf(routed.job)).toEqual([])
    expect(placed.run.waypoints[0].at).toEqual(ends.from)
    expect(placed.run.waypoints.at(-1)!.at).toEqual(ends.to)
  })

  test('a tight and a wide elbow of one angle are told apart: where only the tight one has room it is named', () => {
    const list = [{ angleDeg: 90, radiusMm: 250, insertionMm: 40 }, { angleDeg: 90, radiusMm: 90, insertionMm: 40 }]
    const { routed, placed } = alone(ahead([250, 250, 1500], [0, -1, 0]), list)
    expect(routed.ended).toBe('routed')
    expect(placed.bends.map(({ askedMm }) => askedMm)).toEqual([90])
    expect(unmade(placed)).toEqual([])
    expect(faultsOf(routed.job)).toEqual([])
  })
})

describe('the straight that a unit asks for', () => {
  const ends = (aheadMm: number): RigidEnds => ({ ...ahead([aheadMm, 2000, 1500], [0, -1, 0]), fromKind: 'unit' })

  test('is there before the first fitting, three diameters', () => {
    const { routed, placed, bendCount } = alone(ends(3 * 125 + 125 + 1), fittings(90))
    expect(routed.ended).toBe('routed')
    expect(bendCount).toBe(1)
    expect(unmade(placed, [375, 0])).toEqual([])
  })

  test('is never cut short: where the corner would come too soon the run goes further round', () => {
    const { routed, placed, bendCount } = alone(ends(3 * 125 + 125 - 10), fittings(90))
    expect(routed.ended).toBe('routed')
    expect(bendCount).toBeGreaterThan(1)
    expect(unmade(placed, [375, 0])).toEqual([])
  })

  test('and where a wall leaves no room for it the run is not laid', () => {
    const routed = routeJob(rigidJob([ends(400)], fittings(90), box('wall', 'wall', [520, 0, 1500], [40, 6000, 3000])), { runs: 'all', isExplained: false })
    expect(routed.ended).toBe('partly')
    expect(routed.runs[0].isRouted).toBe(false)
  })
})

describe('several rigid runs', () => {
  // R2 is between boards, so that it can only go straight, through the middle of where R1 would go straight
  const boards = [-1, 1].flatMap((side) => [-1, 1].flatMap((end) => [
    box(`board-${side}-${end}`, 'wall', [2000 + side * 90, end * 650, 1500], [40, 700, 400]), box(`sheet-${side}-${end}`, 'wall', [2000, end * 650, 1500 + side * 90], [140, 700, 20]),
  ]))
  const job = rigidJob([
    ahead([4000, 0, 1500], [-1, 0, 0]), { from: [2000, -1000, 1500], fromAxis: [0, 1, 0], to: [2000, 1000, 1500], toAxis: [0, -1, 0] },
  ], ALL, ...boards)

  test('the one that can go another way makes way for the one that cannot', () => {
    const routed = routeJob(job, { runs: 'all', isExplained: false })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    expect(routed.runs.map(({ bendCount }) => bendCount > 0)).toEqual([true, false])
    expect(rigidRuns(routed.job).flatMap((placed) => unmade(placed))).toEqual([])
  })

  test('one that is locked is gone round', () => {
    const locked = { ...job, runs: job.runs.map((run) => run.id === 'R1' ? { ...run, locked: true } : run) }
    const routed = routeJob(locked, { runs: 'all', isExplained: false })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    expect(routed.runs[0].bendCount).toBeGreaterThan(1)
    expect(rigidRuns(routed.job).flatMap((placed) => unmade(placed))).toEqual([])
    expect(routed.job.runs[0]).toBe(locked.runs[0])
  })

  test('the same job gives the same courses again', () => {
    expect(routeJob(job, { runs: 'all', isExplained: false }).job).toEqual(routeJob(job, { runs: 'all', isExplained: false }).job)
  })
})

describe('the four rigid ducts of a plant cupboard, taken up and laid again', () => {
  test.each(WEB_FAMILIES.flatMap((family) => [2101, 2102].map((seed) => [family, seed] as const)))('%s webs, seed %i: clean, of listed fittings, and no dearer than laid by hand', (family, seed) => {
    const floor = routerFloor({ family, runs: 1, seed }), hand = rigidRuns(floor), { job, ids } = rigidTakenUp(floor)
    expect(ids).toHaveLength(4)
    const routed = routeJob(job, { runs: ids, isExplained: false })
    expect(routed.ended).toBe('routed')
    const open = openRuns(floor)
    expect(faultsOf(routed.job).filter(({ parts }) => !parts.some(({ id }) => open.includes(id)))).toEqual([])
    // three diameters of 200 mm at the unit
    const straights: [number, number][] = [[600, 0], [0, 600], [0, 600], [600, 0]]
    expect(rigidRuns(routed.job).flatMap((placed, i) => unmade(placed, straights[i]))).toEqual([])
    expect(worthOf(rigidRuns(routed.job))).toBeLessThanOrEqual(worthOf(hand) + 1e-6)
  })

  test.each(WEB_FAMILIES)('%s webs: with semi-rigid runs laid about them, all clean', { timeout: 60_000 }, (family) => {
    const { job } = rigidTakenUp(routerFloor({ family, runs: 5, seed: 2104 }))
    const routed = routeJob(job, { runs: 'all', isExplained: false })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    expect(rigidRuns(routed.job).flatMap((placed) => unmade(placed))).toEqual([])
  })
})

test('a plant cupboard turned and shifted on site: the same courses there', () => {
  const { job, ids } = rigidTakenUp(routerFloor({ family: 'offset', runs: 1, seed: 2105 })), move = motion(33.3, [12_345.6, -7_654.3, 210])
  const here = routeJob(job, { runs: ids, isExplained: false }), there = routeJob(movedJob(job, move), { runs: ids, isExplained: false })
  expect(there.ended).toBe('routed')
  const places = (routed: typeof here) => routed.job.runs.filter(({ id }) => ids.includes(id)).map(({ waypoints }) => waypoints.map(({ at }) => at))
  const moved = places(here).map((list) => list.map((at) => move.at(at)))
  places(there).forEach((list, i) => {
    expect(list).toHaveLength(moved[i].length)
    list.forEach((at, k) => at.forEach((value, axis) => expect(value).toBeCloseTo(moved[i][k][axis], 4)))
  })
})

test('the four rigid ducts of the canal house, beside its nineteen runs: clean and no dearer than its drawing has them', () => {
  const { laid } = canalHouseBare(), { job, ids } = rigidTakenUp(laid), hand = rigidRuns(laid)
  expect(ids).toHaveLength(4)
  const routed = routeJob(job, { runs: ids, isExplained: false })
  expect(routed.ended).toBe('routed')
  expect(faultsOf(routed.job)).toEqual([])
  expect(rigidRuns(routed.job).flatMap((placed) => unmade(placed))).toEqual([])
  expect(worthOf(rigidRuns(routed.job))).toBeLessThanOrEqual(worthOf(hand) + 1e-6)
})

describe('small rigid duct from manifolds to terminals, through the openings of open-web joists', () => {
  test.each([['aligned', 2002], ['aligned', 2004], ['offset', 2004], ['offset', 2006], ['staggered', 2004]] as const)('%s webs, seed %i: three runs, clean and of listed fittings', { timeout: 60_000 }, (family, seed) => {
    const job = inRigidDuct(routerFloor({ family, runs: 3, seed }))
    const routed = routeJob(job, { runs: 'all', isExplained: false })
    expect(routed.ended).toBe('routed')
    expect(routed.runs.some(({ openingCount }) => openingCount > 3)).toBe(true)
    expect(faultsOf(routed.job)).toEqual([])
    const open = openRuns(job)
    expect(rigidRuns(routed.job).filter(({ run }) => open.includes(run.id)).flatMap((placed) => unmade(placed))).toEqual([])
  })
})

test('spigots a hand out of line in a bay, and square elbows only: not laid', () => {
  const { job } = impossibleFloor('no-fitting')
  const routed = routeJob(job, { runs: 'all', isExplained: false })
  expect(routed).toMatchObject({ ended: 'partly', runs: [{ isRouted: false }] })
  expect(assemble(routed.job).runs[0].centreline.lengthMm).toBe(assemble(job).runs[0].centreline.lengthMm)
})
