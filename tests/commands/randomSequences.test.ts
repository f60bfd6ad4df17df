import { isDeepStrictEqual } from 'node:util'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { type History, beginDrag, cancelDrag, endDrag, perform, redo, start, undo, updateDrag } from '#commands/history.ts'
import { COMMAND_NAMES, type Command, apply, labelOf } from '#commands/index.ts'
import { type Job, formatJob, parseJob } from '#model/index.ts'
import { randomCommand } from './randomCommand.ts'
import { workshopJob } from './workshopJob.ts'

const SEED = 60_119
const SEQUENCES = 45
const STEPS = 60

/** numbers from fast-check, so that it can shorten what fails */
function dice(rolls: readonly number[]): () => number {
  let i = 0
  return () => (rolls[i++ % rolls.length] ?? 0) / 2 ** 31
}
const rolls = fc.array(fc.nat(2 ** 31 - 1), { minLength: 40, maxLength: 40 })
const sequence = fc.array(rolls, { minLength: STEPS, maxLength: STEPS })
const base = workshopJob()

/** What the command names, and so may change. */
function runsMeant(command: Command): ReadonlySet<string> | undefined {
  switch (command.do) {
    case 'move-waypoint': case 'shift-waypoints': case 'insert-waypoint': case 'remove-waypoint': case 'set-bend-radius': case 'set-corners': return new Set([command.run])
    case 'edit-run': case 'lock-run': case 'reverse-run': case 'end-run-at': case 'remove-run': return new Set([command.id])
    case 'set-run-parts': return new Set([command.id])
    case 'apply-move': return new Set([command.move.runId])
    case 'set-run-type': case 'together': return undefined
    default: return new Set()
  }
}

test(`any commands give whole jobs, undone to the first and done again to the last (seed ${SEED})`, () => {
  const done = new Set<string>(), refused = new Set<string>()
  fc.assert(fc.property(sequence, (steps) => {
    let history: History = start(base)
    // copies that share nothing with what is tried
    const jobs = [structuredClone(base)]
    for (const each of steps) {
      const command = randomCommand(history.present, dice(each))
      const label = labelOf(command, history.present)
      expect(label).not.toMatch(/undefined|\[object|NaN/)
      const before = history.present
      const performed = perform(history, command)
      if (!performed.ok) {
        refused.add(command.do)
        expect(performed.why).not.toMatch(/not whole|undefined|\[object|^there is no command/)
        expect(performed.history).toBe(history)
        continue
      }
      history = performed.history
      if (history.present === before) continue
      done.add(command.do)
      expect(history.past.at(-1)!.label).toBe(label)
      // judged as a file is, and by what is built from it
      const read = parseJob(formatJob(history.present))
      if (!read.ok) throw new Error(`${JSON.stringify(command)} made ${JSON.stringify(read.problems)}`)
      expect(isDeepStrictEqual(read.job, history.present)).toBe(true)
      expectShared(before, history.present, command)
      jobs.push(read.job)
    }
    assemble(history.present)
    const last = history.present
    for (let i = jobs.length - 2; i >= 0; i--) {
      history = undo(history)
      expect(isDeepStrictEqual(history.present, jobs[i])).toBe(true)
    }
    expect(history.past).toEqual([])
    expect(history.present).toEqual(base)
    for (let i = 1; i < jobs.length; i++) {
      history = redo(history)
      expect(isDeepStrictEqual(history.present, jobs[i])).toBe(true)
    }
    expect(history.future).toEqual([])
    expect(history.present).toEqual(last)
  }), { seed: SEED, numRuns: SEQUENCES })
  // every command has done something, and most have been refused at least once
  expect(COMMAND_NAMES.filter(name => !done.has(name)).sort()).toEqual(['add-equipment', 'add-solid', 'add-solids'])
  expect(refused.size).toBeGreaterThan(40)
})

/** What says the same after a command is the same object: any part of any list, and every run that the command is not about. */
function expectShared(before: Job, after: Job, command: Command): void {
  const meant = runsMeant(command)
  for (const list of ['rooms', 'zones', 'sections', 'joistFields', 'holes', 'solids', 'sleeves', 'equipment', 'ductTypes', 'runs', 'views'] as const) {
    const was = new Map((before[list] as readonly { id: string }[]).map(part => [part.id, part]))
    let isSame = before[list].length === after[list].length
    ;(after[list] as readonly { id: string }[]).forEach((part, i) => {
      const old = was.get(part.id)
      isSame &&= part === before[list][i]
      if (old === undefined || old === part) return
      if (isDeepStrictEqual(old, part)) throw new Error(`${command.do} made a new ${part.id} that says the same`)
      if (list === 'runs' && meant !== undefined && meant.size > 0 && !meant.has(part.id)) throw new Error(`${command.do} changed ${part.id}`)
    })
    if (isSame) expect(after[list]).toBe(before[list])
  }
  expect(after.settings === before.settings).toBe(isDeepStrictEqual(after.settings, before.settings))
}

test(`a drag of any updates is one step or none, and given up leaves no trace (seed ${SEED})`, () => {
  let steps = 0
  fc.assert(fc.property(sequence, (updates) => {
    let history = beginDrag(start(base))
    for (const each of updates.slice(0, 20)) {
      const command = randomCommand(base, dice(each))
      const performed = updateDrag(history, command)
      const alone = apply(base, command)
      expect(performed.ok).toBe(alone.ok)
      if (alone.ok) expect(performed.history.present).toEqual(alone.job)
      history = performed.history
    }
    expect(cancelDrag(history)).toEqual(start(base))
    expect(cancelDrag(history).present).toBe(base)
    const ended = endDrag(history)
    expect(ended.past.length).toBe(history.present === base ? 0 : 1)
    steps += ended.past.length
    expect(undo(ended).present).toBe(base)
  }), { seed: SEED, numRuns: 20 })
  expect(steps).toBeGreaterThan(10)
})
