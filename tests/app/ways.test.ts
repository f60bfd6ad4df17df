import { afterEach, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import { apply } from '#commands/index.ts'
import { formatJob } from '#model/write.ts'
import { moveWords } from '#routing/router/whyWords.ts'
import { impossibleFloor } from '../../fixtures/generate/impossibleFloors.ts'
import { openLoftInput } from '../browser/openLoft.ts'
import { openLoft, jobOf } from './threadBench.ts'

// threadBench puts a worker in place that answers nothing: what it would answer is handed over here
const { bench, threading } = await openLoft(openLoftInput())
const { acceptWays, askOf, commandOf, giveWaysUp, lookAfter, lookFor, lookWith, lookForLaying, runsOf, stopLooking, ways } = await import('#app/places/thread/ways/ways.ts')
const { foundFor } = await import('#app/places/thread/ways/foundFor.ts')
const { cureOffer } = await import('#app/places/thread/ways/cures.ts')
const { endPlacesOf } = await import('#app/places/thread/ends.ts')
const { viewing } = await import('#app/places/looking/viewing.ts')

const OPEN = { scope: 'open', runId: null, ports: 'chosen', kept: new Set<string>() } as const
const now = () => bench.store.getState().history!.present

/** The worker's own work, done here. */
function answered(ports: 'chosen' | 'kept' = 'chosen') {
  const state = ways.getState()
  if (state.stage !== 'looking') throw new Error(`at ${state.stage}`)
  const { asked } = state
  const found = foundFor(askOf(asked, ports))
  ways.setState({ stage: 'found', asked, found, shownId: null }, true)
  return found
}

afterEach(async () => {
  ways.setState({ stage: 'rest' }, true)
  await openLoft(openLoftInput())
})

describe('ways that were looked for', () => {
  test('are accepted as one step, which one undo takes back to the letter', () => {
    const before = formatJob(now())
    lookFor(OPEN)
    const found = answered()
    expect(found).toMatchObject({ ended: 'routed', cannot: [] })
    expect(formatJob(now())).toBe(before)
    acceptWays()
    expect(checkJob(assemble(now())).filter(({ severity }) => severity !== 'advice')).toEqual([])
    expect(bench.store.getState().history!.past.map(({ label }) => label)).toEqual(['Find the ways of 2 runs'])
    bench.undo()
    expect(formatJob(now())).toBe(before)
  })

  test('of two crossed runs both ends are told that would be swapped, and the figures of old and new', () => {
    lookFor(OPEN)
    const { changes } = answered()
    expect(changes.changes.map(({ runId }) => runId)).toEqual(['R1', 'R2'])
    // straight from mouth to mouth: 980 mm across, 2220 mm along
    expect(changes.changes[0].before).toMatchObject({ lengthMm: expect.closeTo(Math.hypot(980, 2_220), 6), bendCount: 0, crossingCount: 1 })
    expect(changes.changes[0].before!.spareMm).toBeLessThan(0)
    expect(changes.after.crossingCount).toBe(0)
    expect(changes.changes.some(({ newFrom }) => newFrom !== null)).toBe(true)
    expect(changes.changes.every(({ after }) => after.spareMm === null || after.spareMm >= -1e-6)).toBe(true)
  })

  test('are given up when the job is changed meanwhile', () => {
    lookFor(OPEN)
    bench.perform({ do: 'edit-job', set: { note: 'changed' } })
    expect(ways.getState().stage).toBe('rest')
    expect(threading.getState().said).toMatch(/changed meanwhile/)
  })

  test('leave out runs that are locked, kept or in order', () => {
    expect(runsOf('open', null)).toEqual(['R1', 'R2'])
    bench.perform({ do: 'lock-run', id: 'R1', locked: true })
    expect(runsOf('open', null)).toEqual(['R2'])
    expect(runsOf('all', null)).toEqual(['R2'])
    expect(runsOf('one', 'R1')).toEqual([])
    lookFor({ ...OPEN, kept: new Set(['R2']) })
    expect(ways.getState().stage).toBe('rest')
  })

  test('from a free spigot to a chosen end make a new run, which is not in the job until it is accepted', () => {
    const free = (key: string) => endPlacesOf(bench.store.getState().assembly!).find((place) => place.key === key)!.end
    threading.setState({ laying: { typeId: 'D1', from: free('M1/s2'), gates: [], to: free('V-Middle/a'), laid: null } })
    bench.perform({ do: 'remove-run', id: 'R1' })
    bench.perform({ do: 'remove-run', id: 'R2' })
    lookForLaying()
    const { changes, ended } = answered('kept')
    expect(ended).toBe('routed')
    expect(changes.before).toBeNull()
    expect(now().runs).toEqual([])
    acceptWays()
    expect(now().runs.map(({ name, from, to }) => ({ name, from, to }))).toEqual([{ name: 'Run 1', from: { equipment: 'M1', spigot: 's2' }, to: { equipment: 'V-Middle', spigot: 'a' } }])
    expect(checkJob(assemble(now())).filter(({ severity }) => severity !== 'advice')).toEqual([])
    expect(threading.getState().laying).toBeNull()
    expect(viewing.getState().faintRuns.size).toBe(0)
  })

  test('after a change that frees them come as one step with it, and one undo takes back both', () => {
    bench.perform({ do: 'remove-run', id: 'R2' })
    const before = formatJob(now()), stepsBefore = bench.store.getState().history!.past.length
    const offer = cureOffer(now(), 'R1', { kind: 'next-spigot', equipmentId: 'M1', spigotId: 's2' })!
    expect(offer.words).toBe('with Manifold, spigot s2, instead of its own')
    lookAfter(offer.command!, { runIds: ['R1'], what: 'Run 1', words: offer.words, isNew: false, back: null })
    const { changes } = answered('kept')
    expect(formatJob(now())).toBe(before)
    expect(changes.changes).toMatchObject([{ runId: 'R1', newFrom: { equipment: 'M1', spigot: 's2' }, newTo: null }])
    acceptWays()
    expect(now().runs[0].from).toEqual({ equipment: 'M1', spigot: 's2' })
    expect(checkJob(assemble(now())).filter(({ severity }) => severity !== 'advice')).toEqual([])
    expect(bench.store.getState().history!.past.slice(stepsBefore).map(({ label }) => label)).toEqual(['Find the way of Run 1, with Manifold, spigot s2, instead of its own'])
    bench.undo()
    expect(formatJob(now())).toBe(before)
  })

  test('are offered as far as they were found when it is stopped, and are one step then too', () => {
    lookFor(OPEN)
    const state = ways.getState()
    if (state.stage !== 'looking') throw new Error(`at ${state.stage}`)
    const snapshots: ReturnType<typeof foundFor>[] = []
    foundFor(askOf(state.asked, 'chosen'), (progress, soFar) => { if (progress.stage === 'straightening') snapshots.push(soFar()) })
    ways.setState({ ...state, soFar: snapshots[0] }, true)
    stopLooking()
    expect(ways.getState()).toMatchObject({ stage: 'found', found: { laid: [{ id: 'R1' }, { id: 'R2' }], cannot: [] } })
    acceptWays()
    expect(checkJob(assemble(now())).filter(({ severity }) => severity !== 'advice')).toEqual([])
    expect(bench.store.getState().history!.past.map(({ label }) => label)).toEqual(['Find the ways of 2 runs'])
  })

  test('stopped before any was found leave every run as it did', () => {
    const before = formatJob(now())
    lookFor(OPEN)
    stopLooking()
    expect(ways.getState().stage).toBe('rest')
    expect(threading.getState().said).toBe('Stopped: every run lies as it did.')
    expect(formatJob(now())).toBe(before)
  })

  test('after a drag are asked for of the runs that it touched and put wrong, and of no other', () => {
    lookFor(OPEN)
    answered()
    acceptWays()
    const [left, right] = ['V-Left', 'V-Right'].map((id) => now().equipment.find((one) => one.id === id)!)
    expect(runsOf('touched', null)).toEqual([])
    // 120 mm towards the manifold: its run ends askew
    const [x, y, z] = left.centre
    for (const byMm of [30, 70, 120]) bench.updateDrag({ do: 'move-equipment', id: left.id, to: [x + byMm, y, z] })
    bench.endDrag()
    const onLeft = now().runs.filter(({ from, to }) => [from, to].some((end) => 'equipment' in end && end.equipment === left.id)).map(({ id }) => id)
    expect(onLeft).toHaveLength(1)
    expect(runsOf('touched', null)).toEqual(onLeft)
    const others = now().runs.filter(({ id }) => !onLeft.includes(id))
    lookFor({ scope: 'touched', runId: null, ports: 'kept', kept: new Set() })
    answered('kept')
    acceptWays()
    expect(checkJob(assemble(now())).filter(({ severity }) => severity !== 'advice')).toEqual([])
    expect(now().runs.filter(({ id }) => !onLeft.includes(id))).toEqual(others)
    expect(now().equipment.find(({ id }) => id === right.id)).toEqual(right)
  })

  test('that change nothing leave nothing to accept', () => {
    const job = now()
    expect(commandOf({ job, runIds: ['R1'], what: 'Run 1', first: null, isNew: false, back: null }, { ended: 'routed', laid: [], cannot: [], changes: { changes: [], before: null, after: { lengthMm: 0, bendCount: 0, crossingCount: 0, spareMm: null } } })).toBeNull()
  })
})

test('a change that frees a run is a command that does it, and words a builder can follow', () => {
  const job = jobOf(openLoftInput())
  const moved = cureOffer(job, 'R1', { kind: 'move', equipmentId: 'V-Right', byMm: [0, -50, 0] })!
  expect(moved.words).toBe('with Right valve box moved 50 mm south')
  const done = apply(job, moved.command!)
  expect(done.ok && [done.job.equipment[3].centre, done.job.runs[0].waypoints[1].at]).toEqual([[1_775, 2_250, 2_500], [1_775, 2_110, 2_500]])
  const smaller = cureOffer({ ...job, ductTypes: [...job.ductTypes, { ...job.ductTypes[0], id: 'D75' as never, name: 'Round 75', outerDiameterMm: 75, innerDiameterMm: 63 }] }, 'R1', { kind: 'smaller-type', typeId: 'D75' })!
  expect(smaller.words).toBe('as Round 75, with spigots of 75 mm')
  expect(cureOffer(job, 'R1', { kind: 'without', runIds: ['R2'] })).toEqual({ words: 'where Run 2 is not in the way', caution: '', command: null })
  expect(cureOffer(job, 'R1', { kind: 'move', equipmentId: 'gone', byMm: [0, 0, 0] })).toBeNull()
  expect([[30, 40, 0], [0, 0, -12.5], [-5, 0, 8], [0, 0, 0]].map(moveWords)).toEqual(['50 mm north-east', '12.5 mm down', '5 mm west and 8 mm up', 'by nothing'])
})

test('a run that cannot leave its spigot is told with what bars it; the change that frees it comes with its way, and back again', async () => {
  await openLoft(JSON.parse(formatJob(impossibleFloor('spigot-blocked').job)))
  lookFor(OPEN)
  const { cannot: [why], laid } = answered()
  expect(laid).toEqual([])
  expect(why).toMatchObject({ cause: 'spigot-blocked', isProved: true })
  const offer = cureOffer(now(), why.runId, why.cure!)!
  expect(offer.words).toMatch(/moved \d+ mm (east|west|north|south)$/)
  lookWith(offer.command!, offer.words, why.runId)
  giveWaysUp()
  expect(ways.getState()).toMatchObject({ stage: 'found', found: { cannot: [{ runId: why.runId }] } })
  lookWith(offer.command!, offer.words, why.runId)
  answered('kept')
  acceptWays()
  expect(checkJob(assemble(now())).filter(({ severity }) => severity !== 'advice')).toEqual([])
  expect(bench.store.getState().history!.past).toHaveLength(1)
})
