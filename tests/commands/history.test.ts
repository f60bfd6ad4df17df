import { describe, expect, test } from 'vitest'
import { MOST_STEPS, type History, beginDrag, cancelDrag, endDrag, journalOf, perform, recover, redo, start, undo, updateDrag } from '#commands/history.ts'
import type { Command } from '#commands/index.ts'
import { formatJob, parseJob } from '#model/index.ts'
import { workshopJob } from './workshopJob.ts'

const base = workshopJob()
const moveTo = (z: number, point = 1): Command => ({ do: 'move-waypoint', run: 'N3', point, to: [2840, 2940, z] })
const rename = (name: string): Command => ({ do: 'edit-run', id: 'N3', set: { name } })

function done(history: History, command: Command, held = false): History {
  const performed = perform(history, command, { held })
  if (!performed.ok) throw new Error(performed.why)
  return performed.history
}
function dragged(history: History, command: Command): History {
  const performed = updateDrag(history, command)
  if (!performed.ok) throw new Error(performed.why)
  return performed.history
}
const labels = ({ past }: History) => past.map(({ label }) => label)
const heightOf = ({ present }: History) => present.runs[2].waypoints[1].at[2]

describe('undo and redo', () => {
  test('go back and on by named steps, to the very same jobs', () => {
    const one = done(start(base), rename('Bed 1')), two = done(one, moveTo(2560))
    expect(labels(two)).toEqual(['Rename Run 3 to Bed 1', 'Move point 2 of Bed 1'])
    const back = undo(two)
    expect(back.present).toBe(one.present)
    expect(back.future.map(({ label }) => label)).toEqual(['Move point 2 of Bed 1'])
    expect(undo(back).present).toBe(base)
    expect(redo(redo(undo(back))).present).toBe(two.present)
    expect(labels(redo(redo(undo(back))))).toEqual(labels(two))
  })
  test('stop at the ends', () => {
    const history = start(base)
    expect(undo(history)).toBe(history)
    expect(redo(history)).toBe(history)
  })
  test('a new step ends what could be done again', () => {
    const history = done(undo(done(start(base), moveTo(2560))), moveTo(2570))
    expect(history.future).toEqual([])
    expect(heightOf(history)).toBe(2570)
  })
  test(`keep the last ${MOST_STEPS} steps`, () => {
    let history = start(base)
    for (let i = 0; i < MOST_STEPS + 5; i++) history = done(history, rename(`Bed ${i}`))
    expect(history.past).toHaveLength(MOST_STEPS)
    for (let i = 0; i < MOST_STEPS + 5; i++) history = undo(history)
    // the first five can no longer be undone
    expect(history.present.runs[2].name).toBe('Bed 4')
    expect(history.past).toEqual([])
  })
  test('keep in memory what a step changed, and share the rest', () => {
    let history = start(base)
    for (let i = 0; i < 50; i++) history = done(history, moveTo(2500 + i))
    for (const { job } of history.past) {
      expect(job.runs[0]).toBe(base.runs[0])
      for (const key of ['joistFields', 'solids', 'equipment', 'settings', 'views'] as const) expect(job[key]).toBe(base[key])
    }
  })
})

describe('a key that is held', () => {
  test('is one step for as long as it is', () => {
    let history = done(start(base), moveTo(2551))
    for (let z = 2552; z <= 2560; z++) history = done(history, moveTo(z), true)
    expect(labels(history)).toEqual(['Move point 2 of Run 3'])
    expect(undo(history).present).toBe(base)
    // pressed again: another step
    expect(labels(done(history, moveTo(2561)))).toHaveLength(2)
  })
  test('joins no other step: of another point, of another kind, nor one that was undone', () => {
    const first = done(start(base), moveTo(2551))
    expect(labels(done(first, moveTo(2551, 2), true))).toHaveLength(2)
    expect(labels(done(first, rename('Bed 1'), true))).toHaveLength(2)
    expect(labels(done(done(first, rename('Bed 1')), rename('Bed 2'), true))).toHaveLength(3)
    const again = done(undo(first), moveTo(2553), true)
    expect(labels(again)).toHaveLength(1)
    expect(undo(again).present).toBe(base)
  })
})

describe('a drag', () => {
  test('shows each place, and is one step when let go', () => {
    let history = beginDrag(start(base))
    for (const z of [2555, 2570, 2562]) {
      history = dragged(history, moveTo(z))
      expect(heightOf(history)).toBe(z)
      expect(history.past).toEqual([])
    }
    const ended = endDrag(history)
    expect(labels(ended)).toEqual(['Move point 2 of Run 3'])
    expect(ended).not.toHaveProperty('drag')
    expect(undo(ended).present).toBe(base)
    expect(redo(undo(ended)).present).toBe(history.present)
  })
  test('by an amount starts from where it began, so nothing adds up', () => {
    let history = beginDrag(start(base))
    for (const z of [10, 20, 30]) history = dragged(history, { do: 'shift-waypoints', run: 'N3', points: [1], by: [0, 0, z] })
    expect(heightOf(history)).toBe(2580)
    // equipment with its runs as well
    for (const x of [2100, 2300, 2000.1]) history = dragged(history, { do: 'move-equipment', id: 'M1', to: [x, 3000, 2550], keepAxis: true })
    expect(history.present.runs[2].waypoints[1].at[0]).toBeCloseTo(2840.1, 9)
  })
  test('given up puts everything back, by cancel or by undo', () => {
    const history = dragged(beginDrag(done(start(base), rename('Bed 1'))), moveTo(2600))
    for (const back of [cancelDrag(history), undo(history)]) {
      expect(back.present.runs[2].name).toBe('Bed 1')
      expect(heightOf(back)).toBe(2550)
      expect(labels(back)).toHaveLength(1)
      expect(back).not.toHaveProperty('drag')
    }
  })
  test('that goes nowhere, or comes back to where it began, is no step', () => {
    const undone = undo(done(start(base), rename('Bed 1')))
    for (const history of [endDrag(beginDrag(undone)), endDrag(dragged(dragged(beginDrag(undone), moveTo(2600)), moveTo(2550)))]) {
      expect(history.present).toBe(base)
      expect(history.past).toEqual([])
      // what could be done again still can
      expect(redo(history).present.runs[2].name).toBe('Bed 1')
    }
  })
  test('to where it cannot go stays where it was, and says why', () => {
    const history = dragged(beginDrag(start(base)), moveTo(2600))
    const refused = updateDrag(history, moveTo(2e6))
    expect(refused).toMatchObject({ ok: false, why: expect.stringMatching(/^at of N3 cannot be 2000000/) })
    expect(refused.history).toBe(history)
  })
  test('is ended by any other command, as a step before it', () => {
    const history = done(dragged(beginDrag(start(base)), moveTo(2600)), rename('Bed 1'))
    expect(labels(history)).toEqual(['Move point 2 of Run 3', 'Rename Run 3 to Bed 1'])
    // a refused one too, for the pointer has been let go
    const refused = perform(dragged(beginDrag(start(base)), moveTo(2600)), { do: 'remove-run', id: 'N9' })
    expect(refused.ok).toBe(false)
    expect(labels(refused.history)).toEqual(['Move point 2 of Run 3'])
  })
  test('nothing can be done again while it is open', () => {
    const history = dragged(beginDrag(undo(done(start(base), rename('Bed 1')))), moveTo(2600))
    expect(redo(history)).toBe(history)
  })
})

describe('after a crash', () => {
  const stored = (history: History): unknown => JSON.parse(JSON.stringify(journalOf(history)))
  test('the job is as it was', () => {
    const history = done(start(base), moveTo(2560))
    const recovered = recover(stored(history))
    expect(recovered).toEqual({ ok: true, history: start(history.present) })
  })
  test('in the middle of a drag it is as it was dragged, and that can be undone', () => {
    const history = dragged(beginDrag(start(base)), moveTo(2600))
    const recovered = recover(stored(history))
    if (!recovered.ok) throw new Error(recovered.why)
    expect(recovered.cutOff).toBe('Move point 2 of Run 3')
    expect(formatJob(recovered.history.present)).toBe(formatJob(history.present))
    expect(formatJob(undo(recovered.history).present)).toBe(formatJob(base))
  })
  test('the job before a drag is saved where the dragged one is spoilt', () => {
    const history = dragged(beginDrag(start(base)), moveTo(2600))
    const recovered = recover({ ...stored(history) as object, present: { half: 'written' } })
    expect(recovered.ok && recovered.history).toEqual(start(base))
  })
  test.each([undefined, null, 7, 'x', {}, { present: {} }, { present: null, drag: 3 }, { drag: { base: 1 } }])('%j is refused', (journal) => {
    expect(recover(journal)).toMatchObject({ ok: false, why: expect.stringMatching(/^what was kept cannot be read/) })
  })
  test('what was kept is plain data that the reader of files takes', () => {
    const { present } = stored(dragged(beginDrag(start(base)), moveTo(2600))) as { present: unknown }
    expect(parseJob(JSON.stringify(present)).ok).toBe(true)
  })
})
