import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Finding } from '#checks/finding.ts'
import type { Job, Point3 } from '#model/index.ts'
import { movedJob, type Motion } from '#routing/router/movedJob.ts'
import { cannotOnSite, ownFrameOf } from '#routing/router/ownFrame.ts'
import { routeJob, type CannotRoute, type Routed, type RouteOptions } from '#routing/router/routeJob.ts'
import { impossibleFloor } from '../../../fixtures/generate/impossibleFloors.ts'
import { WEB_FAMILIES, openRuns, routerFloor } from '../../../fixtures/generate/routerFloors.ts'
import { box, jobOf, together, type Point } from '../../checks/smallJob.ts'
import { body } from '../threadField.ts'
import { faultsOf } from './floors.ts'
import { motion } from './motions.ts'

/** What turning back leaves of a number, mm. */
const SAME_MM = 1e-4

const DIRECTIONS = new Set(['byMm', 'direction'])

/** Holds what was told of a moved job to what was told before it was moved: places moved with it, all else the same. */
function expectMoved(before: unknown, after: unknown, move: Motion, path: string): void {
  const key = path.slice(path.lastIndexOf('.') + 1)
  const isPoint = Array.isArray(before) ? before.length >= 2 && before.length <= 3 && before.every((value) => typeof value === 'number') : typeof before === 'object' && before !== null && 'x' in before
  if (isPoint) {
    const [x, y, z = 0] = Object.values(before as object) as number[], size = Math.hypot(x, y, z)
    const there = DIRECTIONS.has(key) ? move.way([x / size, y / size, z / size]).map((value) => value * size) : move.at([x, y, z])
    const told = Object.values(after as object) as number[]
    told.forEach((value, k) => { if (!(Math.abs(value - there[k]) < SAME_MM)) expect.fail(`${path}: ${told.join()} instead of ${there.join()}`) })
  } else if (typeof before === 'number') {
    if (!(Math.abs(before - (after as number)) < SAME_MM)) expect.fail(`${path}: ${after} instead of ${before}`)
  } else if (typeof before === 'object' && before !== null) {
    expect(Object.keys(after as object), path).toEqual(Object.keys(before))
    for (const [name, inner] of Object.entries(before)) expectMoved(inner, (after as Record<string, unknown>)[name], move, `${path}.${name}`)
  } else expect(after, path).toEqual(before)
}

function expectSameAnywhere(job: Job, options: RouteOptions, motions: number): void {
  const before = routeJob(job, options)
  fc.assert(fc.property(fc.double({ min: -180, max: 180, noNaN: true }), fc.tuple(...[0, 1, 2].map(() => fc.double({ min: -1e5, max: 1e5, noNaN: true }))), (turnDeg, shiftMm) => {
    const move = motion(turnDeg, shiftMm as Point3), { job: after, ...told } = routeJob(movedJob(job, move), options)
    const { job: old, ...toldBefore } = before
    expectMoved(toldBefore, told, move, 'told')
    expectMoved(old.runs, after.runs, move, 'runs')
    if (before.ended === 'routed') expect(faultsOf(after)).toEqual([])
  }), { seed: 4, numRuns: motions, endOnFailure: true })
}

describe('a job turned by any angle and shifted anywhere is laid the same: courses, bends, openings, crossings, and what could not be laid', () => {
  test.each(WEB_FAMILIES)('%s webs', (family) => expectSameAnywhere(routerFloor({ family, runs: 3, seed: 41 }), { runs: 'all' }, 1))

  test('five runs on the spigots that they have, some over others', () => {
    const job = routerFloor({ family: 'offset', runs: 5, seed: 42 })
    expectSameAnywhere(job, { runs: 'all', ports: 'kept' }, 1)
  })

  test('and what lies well when half the work is done is told on site as well', () => {
    const job = routerFloor({ family: 'staggered', runs: 2, seed: 46 }), move = motion(-77.7, [1e4, -5e3, 250])
    const halfway = (one: Job): Routed => {
      let told: Routed | null = null
      routeJob(one, { runs: 'all', onProgress: ({ doneRatio }, soFar) => { if (doneRatio >= 0.55) told ??= soFar() } })
      if (told === null) throw new Error('nothing was told')
      return told
    }
    const before = halfway(job), after = halfway(movedJob(job, move))
    expect(before.runs.some(({ isRouted }) => isRouted)).toBe(true)
    expectMoved(before.job.runs, after.job.runs, move, 'runs')
  })

  test('rigid duct that just keeps its clearance: what is called routed has nothing to put right, whatever rounding does to a turned job', () => {
    const far = 3000, mouth: readonly Point[] = [[0, 0, 150], [far, 0, 150]]
    const job = jobOf(together({
      settings: { clearances: [{ between: ['duct', 'steel'], mm: 7 }], straightAtSpigot: { unitDiameters: 0 } },
      zones: [{ id: 'z', name: 'Void', outline: [[-500, -500], [3500, -500], [3500, 500], [-500, 500]], undersideMm: 0, topMm: 400 }],
      equipment: [body('A', 'plenum', mouth[0], [1, 0, 0], 125), body('B', 'plenum', mouth[1], [-1, 0, 0], 125)],
      runs: [{ id: 'R', name: 'Run', type: 'r125', from: { equipment: 'A', spigot: '1' }, to: { equipment: 'B', spigot: '1' }, waypoints: mouth.map((at) => ({ at })) }],
      // its side 69.5 mm from the axis: 62.5 of duct and 7 of clearance
    }, box('beam', 'steel', [far / 2, 69.5 + 50, 150], [400, 100, 100])))
    fc.assert(fc.property(fc.double({ min: -180, max: 180, noNaN: true }), fc.double({ min: -1e5, max: 1e5, noNaN: true }), (turnDeg, shiftMm) => {
      const routed = routeJob(movedJob(job, motion(turnDeg, [shiftMm, -shiftMm / 3, 0.1])), { runs: 'all', isExplained: false })
      if (routed.ended === 'routed') expect(faultsOf(routed.job)).toEqual([])
    }), { seed: 4, numRuns: 30 })
  })

  test('a rigid run that cannot be laid: the places of what is found and the move that would mend it turn with it', () => expectSameAnywhere(impossibleFloor('no-fitting').job, { runs: 'all' }, 2))

  test('every place in the reasons why a run could not be laid is told on site', () => {
    const job = movedJob(impossibleFloor('spigot-blocked').job, motion(-50, [10, 20, 30])), frame = ownFrameOf(job)
    const place = { x: 1, y: 2, z: 3 }
    const finding: Finding = { id: 'f', code: 'clash', severity: 'stop', parts: [{ id: 'R', name: 'R' }], at: place, onOther: { x: 4, y: 5, z: 6 }, mark: { x: 4, y: 5, z: 6 }, unit: 'mm', measured: -1, required: 0, why: '' }
    const own: CannotRoute = {
      runId: 'R', name: 'R', cause: 'crowded', isProved: true, by: ['S'], at: [7, 8, 9], largestMm: 80, counted: { runIds: ['R', 'S'], most: 1, at: [-1, -2, -3] }, cure: { kind: 'move', equipmentId: 'E', byMm: [50, 0, -20] },
      curedWith: [], lookedInto: 'all', triedCount: 3, findings: [finding],
    }
    expectMoved([own], cannotOnSite([own], frame), frame.toSite, 'cannot')
  })
})

/** Without figures that depend on where a sum began: what a builder would notice. */
function noticed({ ended, runs, crossings, cannot }: Routed) {
  return { ended, crossings: crossings.length, cannot: cannot.map(({ cause }) => cause), routed: runs.filter(({ isRouted }) => isRouted).length }
}

const worthOf = (routed: Routed): number => routed.runs.reduce((sum, { lengthMm, bendCount, openingCount }) => sum + lengthMm + 300 * bendCount + 5 * openingCount, 150 * routed.crossings.length)

describe('how a job is written changes nothing material', () => {
  test('other ids, so that what came first in the alphabet comes last: the same courses to the last digit', () => {
    const job = routerFloor({ family: 'staggered', runs: 3, seed: 43 })
    const text = JSON.stringify(job).replace(/"([RJ])(\d+)"/g, (_, letter, number) => `"${letter}${9999 - number}"`).replace(/"(T1|field|steel|fascia)-/g, '"a-$1-')
    const renamed = JSON.parse(text) as Job
    expect(renamed.runs.map(({ id }) => id)).toEqual(['R9998', 'R9997', 'R9996', 'a-T1-D1', 'a-T1-D2', 'a-T1-D3', 'a-T1-D4'])
    const one = routeJob(job, { runs: 'all' }), other = routeJob(renamed, { runs: 'all' })
    expect(other.job.runs.map(({ waypoints }) => waypoints)).toEqual(one.job.runs.map(({ waypoints }) => waypoints))
  })

  test.each(WEB_FAMILIES)('%s webs: what stands there listed the other way round, as clean, and worth the same within a hundredth', (family) => {
    const job = routerFloor({ family, runs: 2, seed: 44 })
    const reversed: Job = { ...job, solids: job.solids.toReversed(), equipment: job.equipment.toReversed(), zones: job.zones.toReversed(), sleeves: job.sleeves.toReversed() }
    const one = routeJob(job, { runs: 'all', ports: 'kept' }), other = routeJob(reversed, { runs: 'all', ports: 'kept' })
    expect(noticed(other)).toEqual(noticed(one))
    expect(faultsOf(other.job)).toEqual([])
    expect(Math.abs(worthOf(other) - worthOf(one))).toBeLessThan(0.01 * worthOf(one))
  })

  test.each(WEB_FAMILIES)('%s webs: each run drawn from its other end is laid as clean, and worth the same within a hundredth', (family) => {
    const job = routerFloor({ family, runs: 3, seed: 45 }), ids = openRuns(job)
    const swapped: Job = { ...job, runs: job.runs.map((run) => ids.includes(run.id) ? { ...run, from: run.to, to: run.from, waypoints: run.waypoints.toReversed() } : run) }
    const one = routeJob(job, { runs: 'all' }), other = routeJob(swapped, { runs: 'all' })
    expect(noticed(other)).toEqual(noticed(one))
    expect(faultsOf(other.job)).toEqual([])
    expect(Math.abs(worthOf(other) - worthOf(one))).toBeLessThan(0.01 * worthOf(one))
  })
})
