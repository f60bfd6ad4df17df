import { describe, expect, test } from 'vitest'
import { neighbour, nextPass, readingCommand, roundOf, terminalInHand, verdictOf } from '#app/places/commission/rounds.ts'
import { perform, start, undo, type History } from '#commands/history.ts'
import type { Command } from '#commands/index.ts'
import { assemble } from '#assembly/assemble.ts'
import { FAMILY, houseOf } from '../air/airHouse.ts'

const now = (history: History) => roundOf(assemble(history.present))
const does = (history: History, command: Command): History => {
  const performed = perform(history, command)
  if (!performed.ok) throw new Error(performed.why)
  return performed.history
}
const fresh = () => start(houseOf(FAMILY, { air: { floorAreaM2: 92 } }))
/** Reads the terminal in hand, share of its target. */
const reads = (history: History, share: number): History => {
  const round = now(history), terminal = terminalInHand(round, null)!
  return does(history, readingCommand(round, terminal.equipment.id, terminal.normalLps * share, undefined))
}

describe('a round with the meter, step by step', () => {
  test('before the first pass nothing is in hand', () => {
    const round = now(fresh())
    expect([round.round, round.step, terminalInHand(round, null), terminalInHand(round, 'bed1-1')]).toEqual([null, null, null, null])
  })
  test('each terminal comes into hand once, then the valves, and every reading is a step that can be undone', () => {
    let history = does(fresh(), nextPass(now(fresh()), 'normal', { by: 'B. Fitter' }))
    const count = now(history).rates.terminals.length
    for (let i = 0; i < count; i++) {
      expect(now(history).step?.kind).toBe('read')
      history = reads(history, i === 3 ? 1.6 : 1)
    }
    expect(history.past).toHaveLength(count + 1)
    const round = now(history)
    expect(round.step).toMatchObject({ kind: 'turn', turn: { way: 'close' } })
    expect(round.round!.rows.some(({ isTurned }) => isTurned)).toBe(false)
    // read again after it was turned: now it is known as turned
    history = reads(history, 1)
    expect(now(history).round!.rows.filter(({ isTurned }) => isTurned)).toHaveLength(1)
    expect(now(undo(history)).step).toEqual(round.step)
  })
  test('a second reading before all are read puts the first right, and is no turn', () => {
    let history = does(fresh(), nextPass(now(fresh()), 'normal'))
    history = reads(history, 1.3)
    const [first] = now(history).round!.rows
    history = does(history, readingCommand(now(history), first.terminal.equipment.id, 7, 4))
    expect(history.present.air!.commissioning!.rounds[0].readings).toEqual([{ terminal: first.terminal.equipment.id, lps: 7, setting: 4 }])
  })
  test('the next pass ends the one before, in one step, and keeps who and when', () => {
    let history = does(fresh(), nextPass(now(fresh()), 'normal', { by: 'B. Fitter', day: '2026-04-02' }))
    const steps = history.past.length
    history = does(history, nextPass(now(history), 'normal'))
    expect(history.past).toHaveLength(steps + 1)
    expect(history.past.at(-1)!.label).toBe('End pass 1 and start the next')
    expect(history.present.air!.commissioning!.rounds).toEqual([
      { speed: 'normal', by: 'B. Fitter', day: '2026-04-02', ended: true, readings: [] }, { speed: 'normal', by: 'B. Fitter', day: '2026-04-02', readings: [] },
    ])
  })
  test('back and next go round through all terminals', () => {
    const round = now(does(fresh(), nextPass(now(fresh()), 'normal')))
    const ids = round.round!.rows.map(({ terminal }) => terminal.equipment.id as string)
    expect(neighbour(round, ids.at(-1), 1)).toBe(ids[0])
    expect(neighbour(round, ids[0], -1)).toBe(ids.at(-1))
    expect(neighbour(round, ids[2], 1)).toBe(ids[3])
  })
})

describe('in or out', () => {
  test('of the tolerance that the user named, its edge included', () => {
    expect(verdictOf(11, 10, 10)).toEqual({ kind: 'in', words: '\u2713 In: 10 % over, 10 % allowed' })
    expect(verdictOf(8.9, 10, 10).kind).toBe('out')
  })
  test('without one, neither', () => expect(verdictOf(11, 10, undefined)).toEqual({ kind: 'plain', words: '10 % over; no tolerance is named' }))
  test('without a target, neither', () => expect(verdictOf(11, 0, 10).kind).toBe('plain'))
})
