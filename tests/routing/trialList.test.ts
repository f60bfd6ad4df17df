import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkRun, contextFor, type CheckContext } from '#checks/index.ts'
import { trialList } from '#routing/trialList.ts'
import { trialSize } from '#routing/trialSize.ts'
import { assemblyOf, box, freeRun, jobOf, together } from '../checks/smallJob.ts'
import { crowdedJob } from './crowdedJob.ts'

const side = (id: string, y: number, more = {}) => freeRun(id, [[0, y, 0], [2000, y, 0]], more)
const thin = (run: ReturnType<typeof freeRun>) => ({ ...run, sleeves: run.sleeves.map((sleeve) => ({ ...sleeve, diameterMm: 900 })) })

describe('trial sizes as a list', () => {
  test('two runs 160 mm apart: either alone takes 230 mm, both together 160 mm', () => {
    const context = contextFor(assemblyOf(together(thin(side('R1', 0)), thin(side('R2', 160)))))
    const { rows, largestCommonGrowthMm } = trialList(context, { growMm: 80 })
    expect(largestCommonGrowthMm).toBeCloseTo(70, 9)
    for (const row of rows) {
      expect(row.alone.diameterMm).toBeCloseTo(230, 9)
      expect(row.together).toMatchObject({ diameterMm: expect.closeTo(160, 9), growMm: expect.closeTo(70, 9) })
      expect(row.fails).toBe(true)
    }
    expect(rows.map(({ together: { touchesFirst } }) => touchesFirst?.id)).toEqual(['R2', 'R1'])
    expect(trialList(context, { growMm: 69.9 }).rows.some(({ fails }) => fails)).toBe(false)
  })

  test('the one that fails first stands first, with what it touches', () => {
    const context = contextFor(assemblyOf(together(thin(side('R1', 0)), thin(side('R2', 2000)), box('beam', 'beam', [1000, 2000, -150], [100, 400, 100]))))
    const { rows } = trialList(context, { growMm: 0 })
    expect(rows.map(({ runId }) => runId)).toEqual(['R2', 'R1'])
    expect(rows[0].together).toMatchObject({ diameterMm: expect.closeTo(200, 9), touchesFirst: { id: 'beam' } })
  })

  test('a group grows, the others stay', () => {
    const context = contextFor(assemblyOf(together(thin(side('R1', 0, { group: 'supply' })), thin(side('R2', 160)), thin(side('R3', 1500, { group: 'supply' })))))
    const { rows, largestCommonGrowthMm } = trialList(context, { group: 'supply', growMm: 0 })
    expect(rows.map(({ runId }) => runId)).toEqual(['R1', 'R3'])
    // R1 against R2, which keeps its 90: 2 * (160 - 45) - 90
    expect(largestCommonGrowthMm).toBeCloseTo(140, 9)
    expect(trialList(context, { runIds: ['R2', 'R3'], growMm: 0 }).rows.map(({ runId }) => runId)).toEqual(['R2', 'R3'])
    expect(trialList(context, { group: 'nobody', growMm: 0 })).toEqual({ rows: [], largestCommonGrowthMm: null })
  })

  test('one run alone grows as its trial size says', () => {
    const context = contextFor(assemble(jobOf(crowdedJob(12))))
    context.runs.forEach(({ placed: { run } }, i) => {
      const { rows: [row] } = trialList(context, { runIds: [run.id], growMm: 0 })
      expect(row.alone).toEqual(row.together)
      expect(row.alone.diameterMm).toBe(trialSize(context, i).diameterMm)
    })
  })

  test.each([11, 12, 13, 14, 15, 16, 17, 18])('the checks agree on all grown together: nothing of that run is touched just below and something is just above (seed %i)', (seed) => {
    const context = contextFor(assemble(jobOf(crowdedJob(seed))))
    const { rows } = trialList(context, { growMm: 0 })
    let measured = 0
    for (const { runId, together: { growMm, touchesFirst, diameterMm } } of rows) {
      if (growMm === null || diameterMm! < 1 || touchesFirst!.part?.startsWith('bend-')) continue
      const runIndex = context.runs.findIndex(({ placed }) => placed.run.id === runId)
      // every duct must have some size left
      if (context.runs.some(({ placed }) => 2 * placed.outerRadiusMm + growMm < 1)) continue
      expect(touchesGrown(context, runIndex, growMm - 0.01), `${runId} just below`).toEqual([])
      expect(touchesGrown(context, runIndex, growMm + 0.01), `${runId} just above`).not.toEqual([])
      measured++
    }
    expect(measured).toBeGreaterThan(0)
  })

  test.each([11, 14, 17])('the checks agree on what is asked to be kept clear: kept just below the second figure, not just above (seed %i)', (seed) => {
    const context = contextFor(assemble(jobOf({ ...crowdedJob(seed), settings: { clearanceMm: 8 } })))
    let measured = 0
    for (const { runId, together, keepsClear: { growMm, touchesFirst, diameterMm } } of trialList(context, { growMm: 0 }).rows) {
      if (growMm === null || diameterMm! < 1 || touchesFirst!.part?.startsWith('bend-')) continue
      expect(growMm).toBeLessThanOrEqual((together.growMm ?? Infinity) + 1e-6)
      const runIndex = context.runs.findIndex(({ placed }) => placed.run.id === runId)
      if (context.runs.some(({ placed }) => 2 * placed.outerRadiusMm + growMm < 1)) continue
      expect(touchesGrown(context, runIndex, growMm - 0.01, TOO_NEAR), `${runId} just below`).toEqual([])
      expect(touchesGrown(context, runIndex, growMm + 0.01, TOO_NEAR), `${runId} just above`).not.toEqual([])
      measured++
    }
    expect(measured).toBeGreaterThan(0)
  })
})

const TOUCHES = ['clash', 'cut-member', 'leaves-void', 'sleeve-too-small']
const TOO_NEAR = [...TOUCHES, 'tight']

function touchesGrown({ assembly }: CheckContext, runIndex: number, growMm: number, codes = TOUCHES): string[] {
  const grown = contextFor({ ...assembly, runs: assembly.runs.map((placed) => ({ ...placed, outerRadiusMm: placed.outerRadiusMm + growMm / 2 })) })
  return checkRun(grown, runIndex).filter(({ code }) => codes.includes(code)).map(({ id }) => id)
}
