import { describe, expect, test } from 'vitest'
import { main } from '#cli/main.ts'
import { formatJob } from '#model/index.ts'
import { OPEN_WEB, freeRun, jobOf, together } from '../checks/smallJob.ts'

async function said(argv: string[], standardInput: string): Promise<{ code: number, out: string }> {
  let out = ''
  const code = await main(argv, { out: (text) => { out += `${text}\n` }, err: (text) => { out += `${text}\n` }, readStandardInput: () => standardInput })
  return { code, out }
}

const crossing = (...more: readonly Parameters<typeof jobOf>[0][]) => formatJob(jobOf(together(freeRun('UPPER', [[0, -800, 300], [0, 800, 300]]), freeRun('LOWER', [[-800, 0, 100], [800, 0, 100]]), ...more)))
/** five joists 220 mm apart, 254 deep, without webs: 119 mm between them */
const CLOSE_JOISTS = {
  sections: [OPEN_WEB],
  joistFields: [{
    id: 'F', name: 'field', section: OPEN_WEB.id, origin: [0, 5000, 0] as [number, number, number], directionDeg: 0, centresMm: 220, lengthMm: 2400,
    joists: Array.from({ length: 5 }, (_, k) => ({ id: `J${k + 1}`, webFree: [{ fromMm: 0, toMm: 2400 }] })),
  }],
}
const RIGID = freeRun('RIGID', [[1200, 5110, 127], [1200, 5770, 127]], { type: 'r125' })

describe('joistway pulling', () => {
  test('lists the lower of two crossing ducts first, and exits 0', async () => {
    const { code, out } = await said(['pulling', '-'], crossing())
    expect(code).toBe(0)
    expect(out).toContain('small job: 2 ducts in order, 1 place where one passes over another; none goes in under one already there')
    expect(out).toMatch(/1 {2}Run LOWER +1600\.0 {2}from sleeve LOWER-a\n +2 {2}Run UPPER +1600\.0/)
  })

  test('a rigid duct through joists closer than it is thick exits 1: only before the joists are fixed', async () => {
    const { code, out } = await said(['pulling', '-'], crossing(CLOSE_JOISTS, RIGID))
    expect(code).toBe(1)
    expect(out).toMatch(/1 {2}Run RIGID +660\.0 {2}piece by piece: only before the joists are fixed/)
    expect(out).toMatch(/leg 1, 660\.0 mm: only before the joists are fixed: the longest tipped in between joist J\d and joist J\d is \d+ mm\./)
  })

  test('--json gives the order, the passes and the pieces with the ids of the file', async () => {
    const { code, out } = await said(['pulling', '-', '--json'], crossing(CLOSE_JOISTS, RIGID))
    const report = JSON.parse(out)
    expect(code).toBe(1)
    expect(report.order.map(({ place, run }: { place: number, run: string }) => `${place} ${run}`)).toEqual(['1 RIGID', '2 LOWER', '3 UPPER'])
    expect(report.passes).toMatchObject([{ lower: 'LOWER', upper: 'UPPER', isCrossing: true, at: [0, 0], riseMm: 200 }])
    expect(report.order[1]).toMatchObject({ label: '2 / LOWER Run LOWER', under: [], notes: [] })
    expect(report.rigid).toMatchObject([{ run: 'RIGID', verdict: 'before-joists', legs: [{ kind: 'joists', pieces: 0 }] }])
    expect(report.rigid[0].legs[0].between.every((id: string) => /^J\d$/.test(id))).toBe(true)
  })

  test('a job without runs says so', async () => {
    expect(await said(['pulling', '-'], formatJob(jobOf({})))).toEqual({ code: 0, out: 'small job: the job has no runs.\n' })
  })
})
