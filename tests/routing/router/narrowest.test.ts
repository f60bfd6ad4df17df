/** The narrowest place of a course and the largest duct that passes there, against a judge that shares no distance with it. */
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/index.ts'
import { largestBeside } from '#geometry/fit/largestBeside.ts'
import type { Job } from '#model/index.ts'
import { bestAttempt } from '#routing/router/bestAttempt.ts'
import { kept, narrowestOf } from '#routing/router/narrowest.ts'
import { impossibleFloor } from '../../../fixtures/generate/impossibleFloors.ts'
import { missesOf } from '../../oracle/laidRuns.ts'
import { canalHouseBare } from './floors.ts'

/** The job with one run of another thickness, its spigots and bends left as they are. */
function ofSize(job: Job, runId: string, diameterMm: number): Job {
  const run = job.runs.find(({ id }) => id === runId)!, type = job.ductTypes.find(({ id }) => id === run.type)!
  return {
    ...job, runs: job.runs.map((one) => one === run ? { ...one, type: 'tried' as typeof one.type } : one),
    ductTypes: [...job.ductTypes, { ...type, id: 'tried' as typeof type.id, outerDiameterMm: diameterMm, insulationMm: 0, innerDiameterMm: 1 }],
  }
}

const OF_SHAPE = /^(its|bend|joint|kink|axis|straight) /
const tooNear = (job: Job, runId: string) => missesOf(job, [runId]).filter(({ what }) => !OF_SHAPE.test(what))

describe('the narrowest place along a course', () => {
  const { laid, ids } = canalHouseBare(), context = contextFor(assemble(laid))

  test.each([0, 13, 17])('of laid run %i: a duct of that size keeps clear by a slow judge, and one half a millimetre thicker does not', (k) => {
    const index = context.runs.findIndex(({ placed }) => placed.run.id === ids[k])
    const narrow = narrowestOf(context, index)!
    expect(narrow.opening).toBeNull()
    expect(tooNear(ofSize(laid, ids[k], narrow.largestMm - 0.05), ids[k])).toEqual([])
    const misses = tooNear(ofSize(laid, ids[k], narrow.largestMm + 0.5), ids[k])
    expect(misses.length).toBeGreaterThan(0)
    // what is named is among what the thicker duct is too near to
    if (narrow.touches.part !== 'side' && narrow.touches.part !== 'underside' && narrow.touches.part !== 'top') expect(misses.map(({ what }) => what)).toContain(narrow.touches.id)
  })

  test('in an opening it is the largest duct that passes beside the ducts that are in it, what must be kept clear kept', () => {
    const { job } = impossibleFloor('duct-over-every-opening'), assembly = assemble(job)
    // a course through the middle of an opening of each joist, 30 mm off it: the trial size is the less for that, the opening's own is not
    const at = ([x, y, z]: readonly [number, number, number]) => ({ at: [x, y, z] as [number, number, number] })
    const drawn: Job = { ...job, runs: job.runs.map((run) => ({ ...run, waypoints: ([[655, 200, 2567], [2230, 200, 2540], [2230, 1400, 2540], [3345, 1400, 2567]] as const).map(at) })) }
    const tried = assemble(drawn), { narrowest } = bestAttempt(contextFor({ ...tried, runs: [] }), tried.runs)
    const joist = assembly.joists.find(({ id }) => id === narrowest!.opening!.joistId)!, opening = joist.openings.find(({ number }) => number === narrowest!.opening!.number)!.opening
    const { mm } = contextFor(assembly).clearances
    expect(narrowest!.largestMm).toBeCloseTo(largestBeside(kept(opening, mm), []).diameterMm, 9)
    // by a grid over the opening: how far its corners' sides are, 3 mm kept from webs and 2 from chords
    let best = 0
    for (let x = 1800; x < 2600; x += 1) for (let y = 47; y < 257; y += 1) {
      let room = Infinity
      for (let e = 0; e < opening.edgeCount; e++) room = Math.min(room, opening.edges[5 * e + 2] - opening.edges[5 * e] * x - opening.edges[5 * e + 1] * y - (opening.members[e] >= 0 ? 3 : 2))
      best = Math.max(best, room)
    }
    expect(narrowest!.largestMm).toBeGreaterThanOrEqual(2 * best)
    expect(narrowest!.largestMm).toBeLessThan(2 * best + 2 * Math.SQRT2)
  })
})
