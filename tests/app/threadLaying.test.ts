import { beforeEach, describe, expect, test } from 'vitest'
import { checkRun } from '#checks/index.ts'
import { openLoft } from './threadBench.ts'
import { aimAtOpening, aimAtPlace, endAt, finish, giveUp, passThrough, startAt, takeBack } from '#app/places/thread/laying.ts'

const FROM = { equipment: 'M1', spigot: 'b' }, TO = { equipment: 'T2', spigot: 'a' }
let loft: Awaited<ReturnType<typeof openLoft>>
beforeEach(async () => { loft = await openLoft() })
const opening = (joistId: string, number: number) => ({ kind: 'opening', joistId, opening: number }) as const
/** The opening whose corners' middle is nearest to a place along the joist, mm. */
function openingNear(joistId: string, xMm: number) {
  const { openings } = loft.bench.store.getState().assembly!.joists.find(({ id }) => id === joistId)!
  const off = ({ opening: { verticesXy } }: (typeof openings)[number]): number => Math.abs(verticesXy.filter((_, i) => i % 2 === 0).reduce((sum, x) => sum + x, 0) / (verticesXy.length / 2) - xMm)
  return opening(joistId, openings.reduce((best, one) => off(one) < off(best) ? one : best).number)
}

describe('threading a run by hand', () => {
  test('from a spigot through three openings to a valve box is one step, named after the run', () => {
    startAt(FROM as never)
    for (const gate of [openingNear('J1', 1_350), openingNear('J2', 1_550), openingNear('J3', 1_700)]) passThrough(gate)
    endAt(TO as never)
    const { laying } = loft.threading.getState()
    expect(laying?.laid?.explanation).toEqual([])
    expect(laying?.laid?.ok).toBe(true)
    expect(loft.now()).toBe(loft.job)
    finish()
    expect(loft.steps()).toEqual(['Add Run 2'])
    const run = loft.now().runs[1]
    expect(run).toMatchObject({ id: 'R2', name: 'Run 2', type: 'D1', from: FROM, to: TO })
    expect(checkRun(loft.bench.context()!, 1).filter(({ severity }) => severity !== 'advice')).toEqual([])
    expect(loft.desk.getState().selection).toEqual({ kind: 'run', runId: 'R2' })
    loft.bench.undo()
    expect(loft.now()).toBe(loft.job)
    loft.bench.redo()
    expect(loft.now().runs[1]).toBe(run)
  })

  test('the ghost grows with every tap, and the last tap can be taken back one by one', () => {
    startAt(FROM as never)
    expect(loft.threading.getState().laying?.laid).toBeNull()
    passThrough(opening('J1', 4))
    const first = loft.threading.getState().laying!.laid!.placed!.centreline.lengthMm
    passThrough(opening('J2', 5))
    expect(loft.threading.getState().laying!.laid!.placed!.centreline.lengthMm).toBeGreaterThan(first + 500)
    takeBack()
    expect(loft.threading.getState().laying!.laid!.placed!.centreline.lengthMm).toBeCloseTo(first, 6)
    takeBack()
    expect(loft.threading.getState().laying!.gates).toEqual([])
    takeBack()
    expect(loft.threading.getState().laying).toBeNull()
    expect(loft.steps()).toEqual([])
  })

  test('a bad choice is drawn and explained, and can be laid all the same with its findings', () => {
    startAt(FROM as never)
    // the far end of the joist and back again within one bay: no bend of 180 mm has room
    for (const gate of [opening('J1', 4), opening('J2', 11), opening('J3', 2)]) passThrough(gate)
    endAt(TO as never)
    const laid = loft.threading.getState().laying!.laid!
    expect(laid.ok).toBe(false)
    expect(laid.placed).not.toBeNull()
    expect(laid.explanation.length).toBeGreaterThan(0)
    expect(loft.threading.getState().said).toMatch(/does not go in so far/)
    finish()
    expect(loft.steps()).toEqual(['Add Run 2'])
    expect(loft.bench.store.getState().verdict!.runs[1].state).toBe('stop')
  })

  test('without an end it is not laid, and says why', () => {
    startAt(FROM as never)
    passThrough(opening('J1', 4))
    finish()
    expect(loft.threading.getState().said).toMatch(/no end yet/)
    expect(loft.now()).toBe(loft.job)
    giveUp()
    expect(loft.now()).toBe(loft.job)
  })

  test('before the tap an opening says its largest duct and what is left beside the run that passes it', () => {
    startAt(FROM as never)
    const aim = aimAtOpening('J1', 2)
    expect(aim?.kind).toBe('opening')
    if (aim?.kind !== 'opening') return
    // Run 1 passes at x 975, 75 mm off the middle of opening 4 (tests/scene/smallVoid.ts)
    const [crossed] = [1, 2, 3, 4, 5, 6].map((number) => aimAtOpening('J1', number)).filter((one) => one?.kind === 'opening' && one.preview.passing.length > 0)
    if (crossed?.kind !== 'opening') throw new Error('Run 1 passes no opening of J1')
    expect(crossed.preview.passing.map(({ name }) => name)).toEqual(['Run 1'])
    expect(crossed.preview.roomLeftMm).toBeLessThan(crossed.preview.largestMm)
    expect(crossed.words).toContain('Run 1 in it leaves')
  })

  test('a tap beside everything is the middle of the bay there', () => {
    startAt(FROM as never)
    const aim = aimAtPlace([1_500, 640, 2_480])
    // joists of 97 mm at 600 mm centres from y 400: the bay runs from 448.5 (and plates of 2 mm) to 951.5
    expect(aim).toMatchObject({ kind: 'bay', gate: { kind: 'point', at: [1_500, 700, 2_552] } })
    expect(aim?.words).toContain('between joist J1 and joist J2')
  })
})
