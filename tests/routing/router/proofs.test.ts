/** Proofs that a run cannot be laid: none of a run that is, and none where the exact fit finds room; each where arithmetic leaves none. */
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/index.ts'
import { fitMix } from '#geometry/fit/fitMix.ts'
import { openingsBetween } from '#geometry/fit/opening.ts'
import { proofOf } from '#routing/router/whyNot.ts'
import { provedCrowded } from '#routing/router/provedCrowded.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import type { Job } from '#model/index.ts'
import { windowFloor } from '../../../fixtures/generate/impossibleFloors.ts'
import { routerFloor, WEB_FAMILIES } from '../../../fixtures/generate/routerFloors.ts'
import { seeded } from '../../../fixtures/generate/seeded.ts'
import { canalHouseBare } from './floors.ts'

function provedOf(job: Job) {
  const assembly = assemble(job), context = contextFor(assembly)
  return assembly.runs.map((placed) => ({ id: placed.run.id, proof: proofOf(context, placed, assembly.runs, false, 200_000).proof }))
}

describe('a proof that a run cannot be laid', () => {
  test('is found of no run of a house whose runs all lie clear', () => {
    expect(provedOf(canalHouseBare().laid).filter(({ proof }) => proof !== null)).toEqual([])
  })

  test.each(WEB_FAMILIES)('is found of no run that was laid on a floor with %s webs', (family) => {
    const { ended, job } = routeJob(routerFloor({ family, runs: 4, seed: 71 }), { runs: 'all' })
    expect(ended).toBe('routed')
    expect(provedOf(job).filter(({ proof }) => proof !== null)).toEqual([])
  })

  test('of ducts and a window: never where they fit side by side by the exact rule, and of one too many always where a row of them is far from fitting', () => {
    const seed = 8104, random = seeded(seed)
    let fitting = 0, proved = 0
    for (let k = 0; k < 60; k++) {
      const wide = random.whole(95, 270), high = random.whole(95, 200), count = random.whole(1, 4)
      const assembly = assemble(windowFloor(wide, high, count)), context = contextFor(assembly)
      const { crowded } = provedCrowded(context, assembly.runs, 'R1', false, 1e6)
      // a duct keeps 2 mm from the board and 5 mm from another
      const [opening] = openingsBetween({ x0: 2, x1: wide - 2, y0: 2, y1: high - 2, n0: -20, n1: 20 }, [])
      const { ok, spareMm } = fitMix(opening, Array.from({ length: count }, () => 90), 5), what = `seed ${seed}, window ${k}: ${wide} x ${high} mm, ${count} ducts`
      if (ok) {
        fitting++
        expect(crowded, what).toBeNull()
      }
      // too low for two rows: one beside the other, so many that a whole duct is too much
      if (high < 94 + 60 && wide < 94 + 95 * (count - 1) - 95) {
        proved++
        expect(crowded, `${what}, ${spareMm} mm`).not.toBeNull()
      }
    }
    expect(Math.min(fitting, proved), `seed ${seed}`).toBeGreaterThan(4)
  })

  test('says how many of three ducts can pass a window for two, and where', () => {
    const assembly = assemble(windowFloor(240, 130, 3)), context = contextFor(assembly)
    const { crowded } = provedCrowded(context, assembly.runs, 'R2', true, 1e6)
    expect(crowded).toMatchObject({ cause: 'crowded', most: 2, runIds: ['R1', 'R2', 'R3'] })
    expect(crowded!.by).toEqual(expect.arrayContaining(['board-west', 'board-east', 'board-low', 'board-high']))
    // the board stands at y 600, its window about x 2200
    expect(Math.abs(crowded!.at[1] - 600)).toBeLessThan(21)
    expect(Math.abs(crowded!.at[0] - 2200)).toBeLessThan(120)
  })
})
