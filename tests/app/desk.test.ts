import { beforeEach, describe, expect, test } from 'vitest'
import { desk, goToFinding, goToRun, layOut, pickOut, searchFor, toggleSeverity } from '#app/desk.ts'
import { tagOf } from '#app/tag.ts'
import { verdictOf } from '#routing/verdict.ts'
import { clashing } from '../browser/jobs.ts'
import { smallVoid, smallVoidJob } from '../scene/smallVoid.ts'
import { assemble } from '#assembly/assemble.ts'

describe('the desk', () => {
  const job = smallVoidJob(clashing())
  const assembly = assemble(job)
  const verdict = verdictOf(job, assembly)
  beforeEach(() => {
    layOut({ job, assembly, fileName: 'a.json' })
    desk.setState({ verdict })
  })

  test('going to a finding picks it out and sends the camera to its mark', () => {
    const [{ id, mark }] = verdict.findings
    const { ticket } = desk.getState().order
    goToFinding(id)
    expect(desk.getState().selection).toEqual({ kind: 'finding', id })
    expect(desk.getState().order).toEqual({ ticket: ticket + 1, placeMm: [mark.x, mark.y, mark.z] })
  })
  test('going to the same place twice is two orders, so that the camera comes back after it was turned', () => {
    const [{ id }] = verdict.findings
    goToFinding(id)
    const { ticket } = desk.getState().order
    goToFinding(id)
    expect(desk.getState().order.ticket).toBe(ticket + 1)
  })
  test('going to a run shows all of it', () => {
    goToRun('R2')
    expect(desk.getState().order).toMatchObject({ boundsMm: [975, -60, 2_500, 1_600, 1_800, 2_560] })
  })
  test('what was touched in the view leaves the camera where it is', () => {
    const { ticket } = desk.getState().order
    pickOut({ kind: 'run', runId: 'R1' })
    expect(desk.getState().order.ticket).toBe(ticket)
  })
  test('what the job does not hold is not gone to', () => {
    const before = desk.getState()
    goToFinding('no-such-finding')
    goToRun('no-such-run')
    expect(desk.getState()).toBe(before)
  })
  test('another job leaves nothing of the one before', () => {
    goToFinding(verdict.findings[0].id)
    searchFor('bath')
    toggleSeverity('stop')
    layOut({ job: smallVoidJob(), assembly: smallVoid(), fileName: 'b.json' })
    expect(desk.getState()).toMatchObject({ verdict: null, selection: null, search: '', refusal: null, stopped: false })
    expect([...desk.getState().severities]).toEqual(['stop', 'mend', 'advice'])
  })
  test('every finding and every run has a name to float beside it, where it is', () => {
    for (const { id, mark } of verdict.findings) expect(tagOf(assembly, verdict.findings, { kind: 'finding', id })!.at).toEqual([mark.x, mark.y, mark.z])
    const tag = tagOf(assembly, [], { kind: 'run', runId: 'R1' })!
    expect(tag.words).toBe('Run 1 \u00b7 SUP')
    expect(tag.at[1]).toBeCloseTo(1_050, 6) // half way from -60 to 2,160
    expect(tagOf(assembly, [], null)).toBeNull()
  })
})
