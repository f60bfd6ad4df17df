import { beforeEach, describe, expect, test } from 'vitest'
import { crossingsOf } from '#checks/crossings.ts'
import { openLoft } from './threadBench.ts'
import { aimAtOpening, finish, gatesNow, giveUp, passThrough, startAnew, takeBack } from '#app/places/thread/laying.ts'
import { viewing } from '#app/places/looking/viewing.ts'

let loft: Awaited<ReturnType<typeof openLoft>>
beforeEach(async () => { loft = await openLoft() })
const opening = (joistId: string, number: number) => ({ kind: 'opening', joistId, opening: number }) as const
const passedBy = () => crossingsOf(loft.bench.context()!, 0).map(({ opening }) => opening)

describe('threading a run anew', () => {
  test('through the openings beside its old ones it keeps its ends and its name, and is one step', () => {
    const old = gatesNow(loft.bench.context()!, 'R1')
    expect(old.map(({ gate }) => gate.kind === 'opening' ? gate.joistId : gate.kind)).toEqual(['J1', 'J2', 'J3'])
    const numbers = passedBy()
    startAnew('R1')
    // its old course is drawn faint, and nothing of the job has changed yet
    expect([...viewing.getState().faintRuns]).toEqual(['R1'])
    expect(loft.now()).toBe(loft.job)
    for (const [i, { gate }] of old.entries()) if (gate.kind === 'opening') passThrough(opening(gate.joistId, numbers[i]! + 1))
    expect(loft.threading.getState().laying!.laid!.placed).not.toBeNull()
    expect(loft.now()).toBe(loft.job)
    finish()
    expect(loft.steps()).toEqual(['Thread Run 1 anew'])
    const [run] = loft.now().runs, [was] = loft.job.runs
    expect(run).toMatchObject({ id: 'R1', name: was.name, from: was.from, to: was.to })
    expect([run.waypoints[0].at, run.waypoints.at(-1)!.at]).toEqual([was.waypoints[0].at, was.waypoints.at(-1)!.at])
    expect(passedBy()).toEqual(numbers.map((number) => number! + 1))
    expect([...viewing.getState().faintRuns]).toEqual([])
    loft.bench.undo()
    expect(loft.now()).toBe(loft.job)
  })

  test('its own duct does not take room from it before the tap', () => {
    const number = passedBy()[0]!
    startAnew('R1')
    const aim = aimAtOpening('J1', number)
    expect(aim?.kind === 'opening' && aim.preview.passing).toEqual([])
  })

  test('taken back to nothing it is given up, and lies as it lay', () => {
    startAnew('R1')
    passThrough(opening('J1', 6))
    takeBack()
    expect(loft.threading.getState().laying!.gates).toEqual([])
    finish()
    expect(loft.threading.getState().said).toMatch(/openings or bays first/)
    takeBack()
    expect(loft.threading.getState().laying).toBeNull()
    expect(loft.desk.getState().selection).toEqual({ kind: 'run', runId: 'R1' })
    startAnew('R1')
    giveUp()
    expect([loft.now(), loft.steps()]).toEqual([loft.job, []])
  })

  test('a locked run says that it is locked, and is not begun', () => {
    loft.bench.perform({ do: 'lock-run', id: 'R1', locked: true })
    startAnew('R1')
    expect(loft.threading.getState().laying).toBeNull()
    expect(loft.threading.getState().said).toMatch(/Run 1 is locked: unlock it/)
    // in hand, where the button that unlocks it is
    expect(loft.desk.getState().selection).toEqual({ kind: 'run', runId: 'R1' })
  })
})
