import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { checkJob } from '#checks/index.ts'
import type { Command } from '#commands/index.ts'
import { formatJob, type Job } from '#model/index.ts'
import { verdictOf } from '#routing/verdict.ts'
import { createBench, type Bench } from '#app/editing/bench.ts'
import type { CheckerPort } from '#app/editing/checker.ts'
import { withAllJudged, withRunsJudged } from '#app/editing/liveVerdict.ts'
import { setOut, setOutAgain } from '#app/editing/setOut.ts'
import type { ToChecker } from '#app/checkerMessages.ts'
import { clashing } from '../browser/jobs.ts'
import { seeded } from '../../fixtures/generate/seeded.ts'
import { smallVoidJob } from '../scene/smallVoid.ts'

const job = smallVoidJob(clashing())
const move = (x: number): Command => ({ do: 'move-waypoint', run: 'R2', point: 1, to: [x, 700, 2_500] })

/** Stands in for the worker: keeps what it is asked, answers when told to. */
class SlowPort implements CheckerPort {
  readonly asked: ToChecker[] = []
  isEnded = false
  onmessage: CheckerPort['onmessage'] = null
  onerror: CheckerPort['onerror'] = null
  postMessage(message: ToChecker): void { this.asked.push(message) }
  terminate(): void { this.isEnded = true }
  answer(): void {
    const ask = this.asked.at(-1)!
    if (ask.kind !== 'check') throw new Error('the bench asks for checks only')
    this.onmessage?.({ data: { kind: 'verdict', verdict: verdictOf(ask.job) } } as Parameters<NonNullable<CheckerPort['onmessage']>>[0])
  }
}

function benchWith(given: Job): { bench: Bench, ports: SlowPort[] } {
  const ports: SlowPort[] = []
  const bench = createBench({
    spawn: () => {
      const port = new SlowPort()
      ports.push(port)
      return port
    },
  })
  bench.take(given, { verdict: verdictOf(given) })
  return { bench, ports }
}
const asked = (ports: readonly SlowPort[], count: number) => expect.poll(() => ports.reduce((sum, port) => sum + port.asked.length, 0)).toBe(count)
const plain = <T extends { readonly move?: unknown }>(findings: readonly T[]) => findings.map(({ move: _, ...rest }) => rest)

describe('a job at the bench', () => {
  test('a command changes the job, the void and the findings before the call returns', () => {
    const { bench } = benchWith(job)
    const before = bench.store.getState()
    expect(bench.perform(move(1_300))).toEqual({ ok: true })
    const { history, assembly, verdict, isWhole, undoName } = bench.store.getState()
    expect(undoName).toBe('Move point 2 of Run 2')
    expect(history!.present.runs[1].waypoints[1].at).toEqual([1_300, 700, 2_500])
    expect(assembly!.job).toBe(history!.present)
    // the solids are the very same: nothing but the run was set out again
    expect(assembly!.solids).toBe(before.assembly!.solids)
    expect(plain(verdict!.findings)).toEqual(plain(verdictOf(history!.present).findings))
    expect(isWhole).toBe(false)
  })
  test('what cannot be done is said in words, and changes nothing', () => {
    const { bench } = benchWith(job)
    const { history } = bench.store.getState()
    const done = bench.perform({ do: 'move-waypoint', run: 'R9', point: 0, to: [0, 0, 0] })
    expect(done).toEqual({ ok: false, why: 'there is no run R9 in the job' })
    const first = bench.store.getState().refusal!
    expect(first.why).toBe('there is no run R9 in the job')
    expect(bench.store.getState().history).toBe(history)
    bench.perform({ do: 'move-waypoint', run: 'R9', point: 0, to: [0, 0, 0] })
    expect(bench.store.getState().refusal!.ticket).not.toBe(first.ticket)
    bench.perform(move(1_000))
    expect(bench.store.getState().refusal).toBeNull()
  })
  test('a drag is one step with the name of what was dragged, and can be given up', () => {
    const { bench } = benchWith(job)
    bench.beginDrag()
    for (let x = 980; x < 1_200; x += 10) expect(bench.updateDrag(move(x)).ok).toBe(true)
    expect(bench.store.getState().drag).toEqual({ command: move(1_190), name: 'Move point 2 of Run 2' })
    bench.endDrag()
    expect(bench.store.getState()).toMatchObject({ drag: null, undoName: 'Move point 2 of Run 2' })
    expect(bench.store.getState().history!.past).toHaveLength(1)
    bench.undo()
    expect(bench.store.getState()).toMatchObject({ undoName: null, redoName: 'Move point 2 of Run 2' })
    expect(bench.store.getState().history!.present).toBe(job)
    bench.updateDrag(move(1_500))
    bench.cancelDrag()
    expect(bench.store.getState().history!.present).toBe(job)
    // giving a drag up leaves what was undone to be done again
    expect(bench.store.getState().redoName).toBe('Move point 2 of Run 2')
  })
  test('undone to the start and done again to the end, the file is the same to the letter', () => {
    const { bench } = benchWith(job)
    const commands: Command[] = [
      move(1_100), { do: 'edit-run', id: 'R2', set: { name: 'Bath extract' } }, { do: 'insert-waypoint', run: 'R2', point: 1, at: [975, 300, 2_500] },
      { do: 'set-equipment-underside', id: 'T1', undersideMm: 2_430 }, { do: 'edit-job', set: { name: 'Loft, third try' } }, { do: 'remove-run', id: 'R1' },
    ]
    for (const command of commands) expect(bench.perform(command)).toEqual({ ok: true })
    const end = formatJob(bench.store.getState().history!.present)
    for (let i = 0; i < commands.length; i++) bench.undo()
    expect(bench.store.getState().undoName).toBeNull()
    expect(formatJob(bench.store.getState().history!.present)).toBe(formatJob(job))
    for (let i = 0; i < commands.length; i++) bench.redo()
    expect(bench.store.getState().redoName).toBeNull()
    expect(formatJob(bench.store.getState().history!.present)).toBe(end)
    expect(bench.store.getState().assembly).toEqual(assemble(bench.store.getState().history!.present))
  })
  test('a closed job is looked at, not changed; a drag that was under way is given up', () => {
    const { bench } = benchWith(job)
    bench.updateDrag(move(1_200))
    bench.close('it is open elsewhere')
    expect(bench.store.getState().history!.present).toBe(job)
    expect(bench.perform(move(1_000))).toEqual({ ok: false, why: 'it is open elsewhere' })
    bench.undo()
    expect(bench.store.getState().refusal!.why).toBe('it is open elsewhere')
    bench.close(null)
    expect(bench.perform(move(1_000))).toEqual({ ok: true })
  })
  test('a drag that a crash cut off comes back as a step that can be undone; nonsense in its place does not', () => {
    const { bench } = benchWith(job)
    expect(bench.take(job, { cutOff: move(1_234) })).toBe('Move point 2 of Run 2')
    expect(bench.store.getState().history!.present.runs[1].waypoints[1].at[0]).toBe(1_234)
    bench.undo()
    expect(bench.store.getState().history!.present).toBe(job)
    for (const cutOff of [undefined, null, 7, 'x', {}, { do: 'toString' }, { do: 'move-waypoint' }]) expect(bench.take(job, { cutOff })).toBeUndefined()
    expect(bench.store.getState().undoName).toBeNull()
  })
})

describe('the whole verdict from the worker', () => {
  test('is of the latest job only: older work is ended, and its answer never comes', async () => {
    const { bench, ports } = benchWith(job)
    bench.perform(move(1_100))
    await asked(ports, 1)
    bench.perform(move(1_150))
    await asked(ports, 2)
    expect(ports[0].isEnded).toBe(true)
    ports[0].answer()
    expect(bench.store.getState().isWhole).toBe(false)
    ports[1].answer()
    expect(bench.store.getState()).toMatchObject({ isWhole: true, checking: null })
    expect(bench.store.getState().verdict).toEqual(verdictOf(bench.store.getState().history!.present))
  })
  test('an answer that comes while the job is being changed further is not taken for it', async () => {
    const { bench, ports } = benchWith(job)
    bench.perform(move(1_100))
    await asked(ports, 1)
    bench.perform(move(1_150))
    ports[0].answer()
    expect(bench.store.getState().isWhole).toBe(false)
  })
  test('can be stopped, and is asked again when a person wants it', async () => {
    const { bench, ports } = benchWith(job)
    bench.perform(move(1_100))
    await asked(ports, 1)
    bench.stopChecking()
    expect(ports[0].isEnded).toBe(true)
    expect(bench.store.getState().checking).toBe('stopped')
    bench.checkNow()
    await asked(ports, 2)
    ports[1].answer()
    expect(bench.store.getState().isWhole).toBe(true)
  })
  test('is not asked for when only words or views change', async () => {
    const { bench, ports } = benchWith(job)
    const { verdict } = bench.store.getState()
    bench.perform({ do: 'edit-job', set: { name: 'Another name' } })
    expect(bench.store.getState()).toMatchObject({ isWhole: true, checking: null })
    expect(bench.store.getState().verdict).toBe(verdict)
    bench.perform(move(1_100))
    await asked(ports, 1)
  })
})

describe('what is set out again after a change', () => {
  test('gives the same void and the same findings as all of it set out anew, whatever was moved', () => {
    const seed = 20_261
    const random = seeded(seed)
    let out = setOut(job)
    let live = withAllJudged(null, out.context)
    let now = job
    const { bench } = benchWith(job)
    for (let i = 0; i < 60; i++) {
      const run = now.runs[random.whole(0, 1)]
      const point = random.whole(0, run.waypoints.length - 1)
      bench.perform({ do: 'move-waypoint', run: run.id, point, to: [random.between(200, 3_800), random.between(-100, 2_200), random.between(2_400, 2_700)] })
      now = bench.store.getState().history!.present
      out = setOutAgain(out, now)
      expect(out.touched, `seed ${seed}`).not.toBe('everything')
      live = withRunsJudged(live, out.context, out.touched as number[])
      const whole = assemble(now)
      expect(out.assembly, `seed ${seed}, move ${i}`).toEqual(whole)
      const findings = checkJob(whole, contextFor(whole))
      expect(live.findings, `seed ${seed}, move ${i}`).toEqual(findings)
      if (i % 6 !== 0) continue
      const { counts, runs } = verdictOf(now)
      expect(live.counts).toEqual(counts)
      expect(live.runs.map(({ runId, state, findingIds, lengthMm }) => ({ runId, state, findingIds, lengthMm })))
        .toEqual(runs.map(({ runId, state, findingIds, lengthMm }) => ({ runId, state, findingIds, lengthMm })))
    }
  })
  test('is everything when a joist moves, and nothing when a name changes', () => {
    const out = setOut(job)
    expect(setOutAgain(out, { ...job, name: 'x' }).touched).toBe('nothing')
    const field = { ...job.joistFields[0], centresMm: 590 }
    const moved = setOutAgain(out, { ...job, joistFields: [field] })
    expect(moved.touched).toBe('everything')
    expect(moved.assembly).toEqual(assemble({ ...job, joistFields: [field] }))
    expect(setOutAgain(out, { ...job, runs: [job.runs[1]] }).touched).toBe('everything')
  })
})
