import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { placeRun } from '#assembly/runs.ts'
import { checkRun, contextFor, withRun } from '#checks/index.ts'
import { clearingMove, movedRun } from '#routing/clearingMove.ts'
import { verdictOf } from '#routing/verdict.ts'
import { box, freeRun, jobOf, together } from '../checks/smallJob.ts'
import { crowdedJob } from './crowdedJob.ts'

let movedInAll = 0

describe('a move that clears', () => {
  const overBeam = together(freeRun('R1', [[0, 0, 0], [500, 0, 0], [1500, 0, 0], [2000, 0, 0]]), box('beam', 'beam', [1000, 0, -80], [100, 1000, 100]))

  test('a duct 15 mm into the beam below it goes up by 15 mm with both corners of its leg', () => {
    // the beam's top is at z -30 and the duct's underside at z -45
    const { findings: [finding] } = verdictOf(jobOf(overBeam))
    expect(finding.code).toBe('clash')
    expect(finding.measured).toBeCloseTo(-15, 9)
    expect(finding.move).toMatchObject({ runId: 'R1', way: 'up', byMm: 15, waypoints: [1, 2] })
  })

  test('a duct in a slot no higher than itself has no single move, and says so', () => {
    const slot = together(
      freeRun('R1', [[0, 0, 0], [500, 0, 0], [1500, 0, 0], [2000, 0, 0]]),
      box('below', 'beam', [1000, 0, -80], [900, 3000, 80]), box('above', 'beam', [1000, 0, 80], [900, 3000, 80]),
    )
    const { findings } = verdictOf(jobOf(slot))
    expect(findings.filter((f) => f.code === 'clash')).toHaveLength(2)
    for (const finding of findings) expect(finding.move).toBeNull()
  })

  test('an end off its spigot goes onto it', () => {
    const job = together({
      equipment: [{ id: 'M1', name: 'manifold', kind: 'manifold', centre: [-140, 0, 0], sizeMm: [200, 400, 300], spigots: [{ id: '1', at: [140, 0, 0], axis: [1, 0, 0], diameterMm: 90 }] }],
      sleeves: [{ id: 'S', name: 'S', at: [2000, 0, 0], axis: [1, 0, 0], diameterMm: 400, lengthMm: 20, through: [] }],
      runs: [{ id: 'R1', name: 'Run 1', type: 'd90', from: { equipment: 'M1', spigot: '1' }, to: { sleeve: 'S' }, waypoints: [{ at: [0, 0, 12] }, { at: [2000, 0, 0] }] }],
    })
    const { findings } = verdictOf(jobOf(job))
    expect(findings[0]).toMatchObject({ code: 'off-spigot', move: { way: 'down', byMm: 12, waypoints: [0] } })
  })

  test('what a move does not help has none at all', () => {
    const context = contextFor(assemble(jobOf(overBeam)))
    const finding = { ...verdictOf(jobOf(overBeam)).findings[0], code: 'spigot-used-twice' as const }
    expect(clearingMove(context, finding)).toBeUndefined()
  })

  test.each([21, 22, 23, 24])('every move given, made on the job, clears its finding and adds none (seed %i)', (seed) => {
    const job = jobOf(crowdedJob(seed))
    const context = contextFor(assemble(job))
    const { findings } = verdictOf(job)
    const moved = findings.filter((f) => f.move !== undefined && f.move !== null)
    for (const finding of moved) {
      const move = finding.move!
      const runIndex = context.runs.findIndex(({ placed }) => placed.run.id === move.runId)
      const { placed } = context.runs[runIndex]
      const before = checkRun(context, runIndex)
      const after = checkRun(withRun(context, runIndex, placeRun(movedRun(placed.run, move), placed.type, placed.from, placed.to)), runIndex)
      // the two face plates of one web are one part
      const pair = (f: { parts: readonly { id: string, part?: string }[] }): string => f.parts.map((p) => `${p.id}/${(p.part ?? '').replace(/-(left|right)$/, '')}`).sort().join(' ')
      expect(after.map((f) => f.id), finding.id).not.toContain(finding.id)
      expect(after.length, finding.id).toBeLessThan(before.length)
      const was = new Set(before.map(pair))
      for (const f of after) expect(was, `${finding.id} made ${f.id}`).toContain(pair(f))
    }
    expect(findings.length).toBeGreaterThan(0)
    movedInAll += moved.length
  })

  test('such moves were found at all', () => {
    expect(movedInAll).toBeGreaterThan(8)
  })
})
