import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { isSpigot } from '#assembly/runs.ts'
import { type Command, apply } from '#commands/index.ts'
import type { Job } from '#model/index.ts'
import { workshopJob } from './workshopJob.ts'

const base = workshopJob()

function after(...commands: Command[]): Job {
  return commands.reduce((job, command) => {
    const outcome = apply(job, command)
    if (!outcome.ok) throw new Error(outcome.why)
    return outcome.job
  }, base)
}

/** How far the start of a run is from its spigot, how far its first leg is out of line, and how long it is. */
function startOf(job: Job, runId: string) {
  const placed = assemble(job).runs.find(({ run }) => run.id === runId)!
  const { from, run: { waypoints: [a, b] } } = placed
  if (!isSpigot(from)) throw new Error('no spigot')
  const leg = [0, 1, 2].map(i => b.at[i] - a.at[i]), legMm = Math.hypot(...leg)
  const ahead = leg.reduce((sum, value, i) => sum + value * from.axis[i], 0)
  return { offMm: Math.hypot(...a.at.map((value, i) => value - from.at[i])), asideMm: Math.sqrt(Math.max(0, legMm ** 2 - ahead ** 2)), legMm }
}

describe('the ends of runs go with the equipment', () => {
  test('that is moved, turned, resized, or has its spigot moved', () => {
    for (const command of [
      { do: 'move-equipment', id: 'M1', to: [1500, 3300, 2600] }, { do: 'turn-equipment', id: 'M1', byDeg: 37 }, { do: 'turn-equipment', id: 'M1', toDeg: [10, 20, 30] },
      { do: 'resize-equipment', id: 'M1', sizeMm: [800, 400, 220] }, { do: 'edit-spigot', id: 'M1', spigot: 'p1', set: { at: [340, -100, 20] } }, { do: 'set-equipment-underside', id: 'M1', undersideMm: 2500 },
    ] satisfies Command[]) {
      const moved = after(command)
      expect(startOf(moved, 'N3').offMm).toBe(0)
      // only the end: the other corners are the very same
      const was = base.runs[2], now = moved.runs[2]
      expect(now).not.toBe(was)
      for (const i of [1, 2, 3]) expect(now.waypoints[i]).toBe(was.waypoints[i])
      expect(moved.runs[0]).toBe(base.runs[0])
      expect(moved.runs[1]).toBe(base.runs[1])
      expect(moved.equipment[0]).toBe(base.equipment[0])
      expect(moved.solids).toBe(base.solids)
    }
  })
  test('with their straight as well, when asked: it keeps its 500 mm, in line with the spigot', () => {
    expect(startOf(base, 'N3')).toEqual({ offMm: 0, asideMm: 0, legMm: 500 })
    for (const command of [
      { do: 'move-equipment', id: 'M1', to: [1500, 3300, 2600], keepAxis: true }, { do: 'turn-equipment', id: 'M1', byDeg: 37, keepAxis: true }, { do: 'turn-equipment', id: 'M1', toDeg: [10, 20, 30], keepAxis: true },
    ] satisfies Command[]) {
      const moved = after(command), start = startOf(moved, 'N3')
      expect(start.offMm).toBe(0)
      expect(start.legMm).toBeCloseTo(500, 6)
      // the root of a difference of squares: 1e-9 of 500 mm squared
      expect(start.asideMm).toBeLessThan(1e-4)
      expect(moved.runs[2].waypoints[2]).toBe(base.runs[2].waypoints[2])
    }
  })
  test('by as much as it went, where they were not on their spigot', () => {
    const off = after({ do: 'move-waypoint', run: 'N3', point: 0, to: [2350, 2930, 2550] }, { do: 'move-equipment', id: 'M1', to: [2100, 3000, 2550] })
    expect(off.runs[2].waypoints[0].at).toEqual([2450, 2930, 2550])
  })
  test('and come back when it does', () => {
    const there = after({ do: 'move-equipment', id: 'M1', to: [2100.3, 3000.7, 2551.1], keepAxis: true })
    const back = apply(there, { do: 'move-equipment', id: 'M1', to: [2000, 3000, 2550], keepAxis: true })
    expect(back.ok && back.job.runs[2].waypoints[0]).toEqual(base.runs[2].waypoints[0])
    if (back.ok) for (const axis of [0, 1, 2]) expect(back.job.runs[2].waypoints[1].at[axis]).toBeCloseTo(base.runs[2].waypoints[1].at[axis], 9)
  })
  test('at both ends of a run from a thing to itself', () => {
    const job = after({ do: 'end-run-at', id: 'N3', side: 'to', end: { equipment: 'M1', spigot: 'p2' } }, { do: 'move-equipment', id: 'M1', to: [2000, 3050, 2550] })
    expect(job.runs[2].waypoints.map(({ at }) => at)).toEqual([[2340, 2990, 2550], [2840, 2940, 2550], [4500, 2000, 2450], [2340, 3110, 2550]])
  })
  test('but a run of two points keeps its other end where it is', () => {
    const job = after({ do: 'move-sleeve', id: 'SL1', to: [-150, 2000, 2500], keepAxis: true })
    expect(job.runs[1].waypoints.map(({ at }) => at)).toEqual([[600, 500, 1420], [-150, 2000, 2500]])
  })
})

describe('a locked run', () => {
  test('holds what it ends on, until it is unlocked', () => {
    const move = { do: 'move-equipment', id: 'U1', to: [500, 510, 1000] } satisfies Command
    expect(apply(base, move)).toEqual({ ok: false, why: 'Bath extract ends on it and is locked: unlock first' })
    const moved = after({ do: 'lock-run', id: 'N1', locked: false }, move)
    expect(moved.runs.slice(0, 2).map(({ waypoints }) => waypoints[0].at[1])).toEqual([510, 510])
  })
  test('may be renamed, noted, grouped, reversed and copied, for its course stays', () => {
    const job = after({ do: 'edit-run', id: 'N1', set: { name: 'Bath', group: null } }, { do: 'reverse-run', id: 'N1' }, { do: 'copy-run', of: 'N1', from: { equipment: 'V1', spigot: 'a' }, to: { equipment: 'U1', spigot: 'b' } })
    expect(job.runs[0]).toMatchObject({ name: 'Bath', locked: true, from: { equipment: 'V1' } })
    // a copy is there to be changed
    expect(job.runs[3].locked).toBeUndefined()
  })
})
