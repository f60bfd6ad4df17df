import 'fake-indexeddb/auto'
import { IDBFactory } from 'fake-indexeddb'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import type { Command } from '#commands/index.ts'
import { parseJob, type Job } from '#model/index.ts'
import { verdictOf } from '#routing/verdict.ts'
import { createBench, type Bench } from '#app/editing/bench.ts'
import type { CheckerPort } from '#app/editing/checker.ts'
import { browserShelf } from '#app/storage/browserShelf.ts'
import { fileNameOf } from '#app/storage/files.ts'
import { JobStore } from '#app/storage/jobStore.ts'
import { Keeper, type KeeperNews } from '#app/storage/keeper.ts'
import { memoryShelf } from '#app/storage/memoryShelf.ts'
import type { OpenTables, Shelf } from '#app/storage/shelf.ts'
import { smallVoidJob } from '../scene/smallVoid.ts'

const job = smallVoidJob()
const renamed = (name: string): Job => ({ ...job, name })
const move = (x: number): Command => ({ do: 'shift-waypoints', run: 'R1', points: [0, 1], by: [x, 0, 0] })

beforeEach(() => { vi.stubGlobal('indexedDB', new IDBFactory()) })
afterEach(() => { vi.unstubAllGlobals() })

const full = () => new DOMException('no more room', 'QuotaExceededError')

/** A shelf whose writes fail from when it is told so. */
function failing(shelf: Shelf): Shelf & { failure: (() => Error) | null, afterPuts: number } {
  const broken = {
    lasts: shelf.lasts, failure: null as (() => Error) | null, afterPuts: 0,
    transact<R>(how: 'read' | 'write' | 'note', work: (tables: OpenTables) => Promise<R>): Promise<R> {
      let puts = 0
      return shelf.transact(how, tables => work({
        get: (table, key) => tables.get(table, key), all: table => tables.all(table), delete: (table, key) => tables.delete(table, key),
        put: async (table, row) => {
          if (broken.failure !== null && puts++ >= broken.afterPuts) throw broken.failure()
          await tables.put(table, row)
        },
      }))
    },
  }
  return broken
}

describe.each([['the browser’s database', browserShelf], ['memory', async () => memoryShelf()]])('jobs kept in %s', (_, shelfOf) => {
  let shelf: Shelf
  let store: JobStore
  let now = 1_000
  beforeEach(async () => {
    shelf = await shelfOf()
    store = new JobStore({ shelf, sitting: 'a', clock: () => ++now })
  })

  test('are listed with the last changed first, each as it was last kept', async () => {
    const one = await store.create(renamed('One')), two = await store.create(renamed('Two'))
    expect((await store.list()).map(({ name }) => name)).toEqual(['Two', 'One'])
    const done = await store.keep(one.id, 1, renamed('One, changed'))
    expect(done).toMatchObject({ ok: true, kept: { revision: 2, name: 'One, changed', joists: 3, runs: 1, state: null } })
    expect((await store.list()).map(({ name }) => name)).toEqual(['One, changed', 'Two'])
    expect(parseJob((await store.load(one.id))!.text)).toEqual({ ok: true, job: renamed('One, changed') })
    expect(parseJob((await store.load(two.id))!.text)).toEqual({ ok: true, job: renamed('Two') })
  })
  test('are never written over by who has not seen the last change', async () => {
    const { id } = await store.create(job)
    const other = new JobStore({ shelf, sitting: 'b', clock: () => ++now })
    expect(await other.keep(id, 1, renamed('theirs'))).toMatchObject({ ok: true })
    expect(await store.keep(id, 1, renamed('ours'))).toMatchObject({ ok: false, why: 'changed-elsewhere', kept: { name: 'theirs', revision: 2 } })
    expect(parseJob((await store.load(id))!.text)).toEqual({ ok: true, job: renamed('theirs') })
  })
  test('of two that write at the same moment one is turned away, and nothing is mixed', async () => {
    const { id } = await store.create(job)
    const done = await Promise.all(['a', 'b', 'c'].map(name => store.keep(id, 1, renamed(name))))
    expect(done.map(({ ok }) => ok).sort()).toEqual([false, false, true])
    const winner = ['a', 'b', 'c'][done.findIndex(({ ok }) => ok)]
    expect((await store.list())[0].name).toBe(winner)
    expect(parseJob((await store.load(id))!.text)).toEqual({ ok: true, job: renamed(winner) })
  })
  test('keep their last four states, and the last of each of four earlier visits', async () => {
    const { id } = await store.create(renamed('0'))
    let revision = 1
    for (const sitting of ['b', 'c', 'd', 'e', 'f', 'g']) {
      const visit = new JobStore({ shelf, sitting, clock: () => ++now })
      for (let i = 0; i < 6; i++) await visit.keep(id, revision++, renamed(`${sitting}${i}`))
    }
    const { kept } = (await store.load(id))!
    const names = await Promise.all(kept.versions.map(async version => JSON.parse((await store.load(id, version.revision))!.text).name as string))
    expect(names).toEqual(['c5', 'd5', 'e5', 'f5', 'g2', 'g3', 'g4', 'g5'])
    const rows = await shelf.transact('read', tables => tables.all('versions'))
    expect(rows).toHaveLength(8)
  })
  test('note a drag on the state that it was made on, and forget it with the next step', async () => {
    const { id } = await store.create(job)
    await store.noteDrag(id, { revision: 1, command: move(5), name: 'Move' })
    expect((await store.load(id))!.drag).toEqual({ id, revision: 1, command: move(5), name: 'Move' })
    await store.keep(id, 1, renamed('next'))
    expect((await store.load(id))!.drag).toBeUndefined()
    // one that was noted late, of an older state, is not taken for the present one's
    await store.noteDrag(id, { revision: 1, command: move(5), name: 'Move' })
    expect((await store.load(id))!.drag).toBeUndefined()
  })
  test('are renamed, copied, thrown away and put back', async () => {
    const { id } = await store.create(job)
    expect(await store.rename(id, 1, 'Better name')).toMatchObject({ ok: true, kept: { name: 'Better name' } })
    expect(await store.rename(id, 1, 'Too late')).toMatchObject({ ok: false, why: 'changed-elsewhere' })
    const copy = (await store.duplicate(id, 'Copy'))!
    expect(parseJob((await store.load(copy.id))!.text)).toEqual({ ok: true, job: renamed('Copy') })
    await store.remove(id)
    expect((await store.list()).map(({ name }) => name)).toEqual(['Copy'])
    await store.putBack(id)
    expect((await store.list()).map(({ name }) => name).sort()).toEqual(['Better name', 'Copy'])
    await store.remove(id)
    await store.sweep()
    expect(await store.load(id)).toBeDefined()
    now += 24 * 3600 * 1000
    await store.sweep()
    expect(await store.load(id)).toBeUndefined()
    expect(await shelf.transact('read', tables => tables.all('versions'))).toHaveLength(1)
  })
  test('that fail half way through a write are as they were', async () => {
    const broken = failing(shelf)
    const weak = new JobStore({ shelf: broken, sitting: 'a', clock: () => ++now })
    const { id } = await weak.create(job)
    const before = await weak.load(id)
    // the version goes in, its entry in the list does not
    Object.assign(broken, { failure: () => new DOMException('the disk broke', 'UnknownError'), afterPuts: 1 })
    await expect(weak.keep(id, 1, renamed('lost'))).rejects.toThrow('the disk broke')
    broken.failure = null
    expect(await weak.load(id)).toEqual(before)
    expect(await shelf.transact('read', tables => tables.all('versions'))).toHaveLength(1)
    expect(await weak.keep(id, 1, renamed('after all'))).toMatchObject({ ok: true })
  })
  test('make room by giving up old states before they give up the present one', async () => {
    const broken = failing(shelf)
    const tight = new JobStore({ shelf: broken, sitting: 'a', clock: () => ++now })
    const { id } = await tight.create(job)
    for (let revision = 1; revision < 4; revision++) await tight.keep(id, revision, renamed(`${revision}`))
    let isFirst = true
    const put = broken.transact.bind(broken)
    broken.transact = (how, work) => {
      // the first write finds no room; those after it do, as old states have gone
      if (how === 'write' && isFirst) {
        isFirst = false
        return Promise.reject(full())
      }
      return put(how, work)
    }
    expect(await tight.keep(id, 4, renamed('last'))).toMatchObject({ ok: true, kept: { revision: 5 } })
    expect((await tight.load(id))!.kept.versions.map(({ revision }) => revision)).toEqual([4, 5])
  })
})

class NoPort implements CheckerPort {
  onmessage: CheckerPort['onmessage'] = null
  onerror: CheckerPort['onerror'] = null
  postMessage(): void {}
  terminate(): void {}
}

/** A window with its bench and its keeper, on a shelf that it shares with others. */
function windowOn(shelf: Shelf, { isMine = true, sitting = 'a' } = {}) {
  const bench: Bench = createBench({ spawn: () => new NoPort() })
  const told: KeeperNews[] = []
  let free: () => void = () => {}
  const read = { refuses: (_text: string) => false }
  const keeper = new Keeper({
    store: new JobStore({ shelf, sitting }),
    show: async (text) => {
      const result = parseJob(text)
      return result.ok && !read.refuses(text) ? { job: result.job, assembly: assemble(result.job) } : null
    },
    loadBench: async () => bench,
    hold: async (_, freed) => {
      free = freed
      return { isMine, release: () => {} }
    },
    tell: (news) => { told.push(news) },
  })
  return { bench, keeper, told, read, free: () => { free() }, state: () => keeper.state.getState(), job: () => bench.store.getState().history!.present }
}
const shown = { job, assembly: assemble(job) }

describe('the open job is kept', () => {
  test('after every step, undo and redo, and opens again as it was last seen', async () => {
    const shelf = await browserShelf()
    const first = windowOn(shelf)
    await first.keeper.adopt(shown, { isWorthKeeping: false })
    await first.keeper.flush()
    expect(first.state().current).toBeNull()
    first.bench.perform(move(10))
    first.bench.perform(move(10))
    first.bench.perform(move(10))
    first.bench.undo()
    await first.keeper.flush()
    expect(first.state().jobs).toHaveLength(1)
    const second = windowOn(shelf)
    expect(await second.keeper.open(first.state().current!.id)).toBe(true)
    expect(second.job()).toEqual(first.job())
    expect(second.job().runs[0].waypoints[0].at[0]).toBe(995) // 975 and two steps of 10
    expect(second.state().notice).toBeNull()
  })
  test.each([['after some of it', 3], ['at its very start', 1]])('in the middle of a drag, and a window that dies %s gives back the drag as it last was', async (_, updates) => {
    const shelf = await browserShelf()
    const first = windowOn(shelf)
    await first.keeper.adopt(shown, { isWorthKeeping: true })
    await first.keeper.flush()
    first.bench.beginDrag()
    for (let i = 1; i <= updates; i++) first.bench.updateDrag(move(i * 10))
    await first.keeper.flush()
    // no end of the drag: the window is gone
    const second = windowOn(shelf, { sitting: 'b' })
    await second.keeper.open(first.state().current!.id)
    expect(second.job().runs[0].waypoints[0].at[0]).toBe(975 + updates * 10)
    expect(second.state().notice).toEqual({ kind: 'recovered', step: 'Move 2 points of Run 1' })
    second.bench.undo()
    expect(second.job()).toEqual(job)
    await second.keeper.flush()
    const third = windowOn(shelf, { sitting: 'c' })
    await third.keeper.open(first.state().current!.id)
    expect(third.job()).toEqual(job)
    expect(third.state().notice).toBeNull()
  })
  test('without a drag that was given up or ended', async () => {
    const shelf = await browserShelf()
    const first = windowOn(shelf)
    await first.keeper.adopt(shown, { isWorthKeeping: true })
    first.bench.updateDrag(move(50))
    await first.keeper.flush()
    first.bench.cancelDrag()
    await first.keeper.flush()
    const second = windowOn(shelf)
    await second.keeper.open(first.state().current!.id)
    expect(second.job()).toEqual(job)
    expect(second.state().notice).toBeNull()
  })
  test('in its state before a drag that can no longer be made, and says so', async () => {
    const shelf = await browserShelf()
    const store = new JobStore({ shelf, sitting: 'a' })
    const { id } = await store.create(job)
    await store.noteDrag(id, { revision: 1, command: { do: 'no-longer-known' }, name: 'Move point 3 of Run 7' })
    const { keeper, state, job: now } = windowOn(shelf)
    await keeper.open(id)
    expect(now()).toEqual(job)
    expect(state().notice).toEqual({ kind: 'drag-lost', step: 'Move point 3 of Run 7' })
  })
  test('so that a spoilt newest state falls back to the one before it, and says from when that is', async () => {
    const shelf = await browserShelf()
    const store = new JobStore({ shelf, sitting: 'a', clock: () => 5_000 })
    const { id } = await store.create(job)
    await store.keep(id, 1, renamed('newest'))
    await shelf.transact('write', tables => tables.put('versions', { key: `${id}/2`, text: '{"format":"joistway-job","vers' }))
    const { keeper, state, job: now, bench } = windowOn(shelf)
    expect(await keeper.open(id)).toBe(true)
    expect(now()).toEqual(job)
    expect(state().notice).toEqual({ kind: 'older-version', at: 5_000 })
    bench.perform(move(10))
    await keeper.flush()
    expect(state()).toMatchObject({ trouble: null, current: { revision: 3 } })
    expect(await keeper.open('no-such-job')).toBe(false)
    expect(now().runs[0].waypoints[0].at[0]).toBe(985)
  })
  test('in the window only where there is no room, which is said, and tried again with every step', async () => {
    const shelf = failing(await browserShelf())
    const { keeper, bench, state } = windowOn(shelf)
    await keeper.adopt(shown, { isWorthKeeping: true })
    await keeper.flush()
    const { id } = state().current!
    shelf.failure = full
    bench.perform(move(10))
    await keeper.flush()
    expect(state()).toMatchObject({ trouble: { kind: 'full' }, current: { revision: 1 } })
    expect(keeper.isUnkept).toBe(true)
    // another job would take its place: that is asked first
    expect(await keeper.open(id)).toBe(false)
    expect(state().wouldLose).not.toBeNull()
    keeper.stay()
    const other = windowOn(shelf)
    await other.keeper.open(id)
    expect(other.job()).toEqual(job)
    shelf.failure = null
    bench.perform(move(10))
    await keeper.flush()
    expect(state()).toMatchObject({ trouble: null, current: { revision: 2 } })
    expect(keeper.isUnkept).toBe(false)
  })
  test('in memory where the browser keeps nothing, which is said from the start', async () => {
    const { keeper, bench, state } = windowOn(memoryShelf())
    expect(state().trouble).toEqual({ kind: 'refused' })
    await keeper.adopt(shown, { isWorthKeeping: false })
    expect(keeper.isUnkept).toBe(false)
    bench.perform(move(10))
    await keeper.flush()
    expect(keeper.isUnkept).toBe(true)
    expect(state()).toMatchObject({ trouble: { kind: 'refused' }, jobs: [{ name: job.name }] })
  })
  test('with what the last whole check found', async () => {
    const { keeper, bench, state } = windowOn(await browserShelf())
    await keeper.adopt(shown, { isWorthKeeping: true })
    await keeper.flush()
    expect(state().jobs[0].state).toBeNull()
    bench.acceptVerdict(job, verdictOf(job))
    await keeper.flush()
    expect(state().jobs[0].state).toBe('clear')
    await keeper.refresh()
    expect(state().jobs[0].state).toBe('clear')
  })
})

describe('the same job in two windows', () => {
  test('is changed in one, looked at in the other, and passed on when the first is closed', async () => {
    const shelf = await browserShelf()
    const first = windowOn(shelf)
    await first.keeper.adopt(shown, { isWorthKeeping: true })
    await first.keeper.flush()
    const { id } = first.state().current!
    const second = windowOn(shelf, { isMine: false, sitting: 'b' })
    await second.keeper.open(id)
    expect(second.state().isElsewhere).toBe(true)
    expect(second.bench.perform(move(10))).toMatchObject({ ok: false, why: expect.stringContaining('another window') })
    first.bench.perform(move(20))
    await first.keeper.flush()
    for (const news of first.told) second.keeper.heard(news)
    await expect.poll(() => second.job().runs[0].waypoints[0].at[0]).toBe(995)
    second.free()
    await expect.poll(() => second.state().notice).toEqual({ kind: 'held-here' })
    expect(second.bench.perform(move(10))).toEqual({ ok: true })
  })
  test('is never written over where the browser cannot hold it: the later writer keeps a copy or takes the other', async () => {
    const shelf = await browserShelf()
    const first = windowOn(shelf), second = windowOn(shelf, { sitting: 'b' })
    await first.keeper.adopt(shown, { isWorthKeeping: true })
    await first.keeper.flush()
    const { id } = first.state().current!
    await second.keeper.open(id)
    first.bench.perform(move(20))
    await first.keeper.flush()
    second.bench.perform(move(30))
    await second.keeper.flush()
    expect(second.state().trouble).toEqual({ kind: 'changed-elsewhere' })
    second.bench.perform(move(1))
    await second.keeper.flush()
    const store = new JobStore({ shelf, sitting: 'x' })
    expect(parseJob((await store.load(id))!.text)).toEqual({ ok: true, job: first.job() })
    await second.keeper.keepAsCopy()
    expect(second.state()).toMatchObject({ trouble: null, current: { name: 'Weaver’s loft (copy)' } })
    expect(second.state().current!.id).not.toBe(id)
    expect(second.job().runs[0].waypoints[0].at[0]).toBe(1_006)
    const third = windowOn(shelf, { sitting: 'c' })
    await third.keeper.open(second.state().current!.id)
    expect(third.job()).toEqual(second.job())
  })
  test('the later writer may give up its own', async () => {
    const shelf = await browserShelf()
    const first = windowOn(shelf), second = windowOn(shelf, { sitting: 'b' })
    await first.keeper.adopt(shown, { isWorthKeeping: true })
    await first.keeper.flush()
    await second.keeper.open(first.state().current!.id)
    first.bench.perform(move(20))
    await first.keeper.flush()
    second.bench.perform(move(30))
    await second.keeper.flush()
    await second.keeper.takeOther()
    expect(second.state().trouble).toBeNull()
    expect(second.job()).toEqual(first.job())
    second.bench.perform(move(1))
    await second.keeper.flush()
    expect(second.state()).toMatchObject({ trouble: null, current: { revision: 3 } })
  })
})

test('a file is named after its job, in letters that every system takes', () => {
  expect(fileNameOf('Canal house: floor 1/2')).toBe('Canal house floor 1 2.json')
  expect(fileNameOf(' ... ')).toBe('job.json')
  expect(fileNameOf('Grün')).toBe('Grün.json')
})
