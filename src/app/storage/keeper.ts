/**
 * Keeps the open job: after every step, and during a drag how far it has come. Also opens kept jobs, and sees to it that
 * two windows never write over each other. What a person is to be told of it stands in the store.
 */
import { createStore, type StoreApi } from 'zustand/vanilla'
import type { Assembly } from '#assembly/assembly.ts'
import type { Command } from '#commands/index.ts'
import type { Job } from '#model/index.ts'
import type { Verdict } from '#routing/verdict.ts'
import type { Bench } from '../editing/bench.ts'
import type { Hold } from './hold.ts'
import { isFull, JobStore, type Loaded } from './jobStore.ts'
import type { KeeperState, Notice } from './keeperState.ts'
import type { FileMark, KeptJob } from './shelf.ts'

export type { KeeperState, Notice, Trouble } from './keeperState.ts'

/** A job that has been read and is on the screen. */
export interface Shown {
  readonly job: Job
  readonly assembly: Assembly
  /** what was found by now; null while that is still being worked out */
  readonly verdict?: () => Verdict | 'stopped' | null
}

export interface KeeperParts {
  readonly store: JobStore
  /** Reads the text, sets it out and shows it; null when it was refused. */
  readonly show: (text: string, name: string) => Promise<Shown | null>
  readonly loadBench: () => Promise<Bench>
  readonly hold: (id: string, freed: () => void) => Promise<Hold>
  /** tells other windows; they tell this one through `heard` */
  readonly tell?: (news: KeeperNews) => void
  /** what this window, and the next one, opens with */
  readonly remember?: (id: string | null) => void
}

export interface KeeperNews { readonly kind: 'kept' | 'listed', readonly id: string }

export class Keeper {
  readonly state: StoreApi<KeeperState> = createStore<KeeperState>()(() => ({
    jobs: [], thrownAway: null, current: null, file: null, savedJob: null, isKeeping: false, trouble: null, isElsewhere: false, notice: null, wouldLose: null,
  }))
  readonly #parts: KeeperParts
  #bench: Bench | undefined
  #hold: Hold | undefined
  /** the job as it was last kept, the very object; undefined before a job was taken up */
  #kept: Job | undefined
  #noted: Command | null = null
  #stateNoted = ''
  #pumping: Promise<void> = Promise.resolve()
  #isPumping = false

  constructor(parts: KeeperParts) {
    this.#parts = parts
    if (!parts.store.lasts) this.nothingLasts()
  }

  /** The browser keeps nothing: from now on everything is in this window only. */
  nothingLasts(): void {
    this.state.setState({ trouble: { kind: 'refused' } })
  }

  get #store(): JobStore {
    return this.#parts.store
  }

  /** Whether closing the window now would lose something. */
  get isUnkept(): boolean {
    const { trouble, isKeeping, current } = this.state.getState()
    if (trouble?.kind === 'refused') return current !== null
    return isKeeping || (trouble !== null && this.#isBehind())
  }

  async refresh(): Promise<void> {
    const jobs = await this.#store.list().catch(() => this.state.getState().jobs)
    this.state.setState({ jobs })
  }

  /** News from another window. */
  heard({ kind, id }: KeeperNews): void {
    void this.refresh()
    const { current, isElsewhere } = this.state.getState()
    if (kind === 'kept' && isElsewhere && current?.id === id) void this.open(id, { again: true })
  }

  /** Opens a kept job. @returns false when it was not there, could not be read, or a person has to say first what becomes of unkept work */
  async open(id: string, { anyway = false, again = false }: { readonly anyway?: boolean, readonly again?: boolean } = {}): Promise<boolean> {
    if (!again && !await this.#leave(anyway, () => { void this.open(id, { anyway: true }) })) return false
    const hold = again && this.#hold !== undefined ? this.#hold : await this.#parts.hold(id, () => { void this.#freed(id) })
    let loaded = await this.#store.load(id).catch(() => undefined)
    const name = loaded?.kept.name ?? ''
    let shown = loaded === undefined ? null : await this.#parts.show(loaded.text, name)
    let olderAt: number | undefined
    // a bad write never loses the one before
    for (const { revision, at } of loaded?.kept.versions.toReversed() ?? []) {
      if (shown !== null) break
      if (revision === loaded!.kept.revision) continue
      const older = await this.#store.load(id, revision)
      shown = older === undefined ? null : await this.#parts.show(older.text, name)
      if (shown !== null) [loaded, olderAt] = [older, at]
    }
    if (loaded === undefined || shown === null) {
      hold.release()
      if (name !== '') this.state.setState({ notice: { kind: 'unreadable', name } })
      return false
    }
    const isElsewhere = again ? this.state.getState().isElsewhere : !hold.isMine
    await this.#takeUp(shown, { loaded, hold, isElsewhere, olderAt })
    return true
  }

  /** Takes up a job that was just shown and is kept from now on. @param file that it came from */
  async adopt(shown: Shown, { file, isWorthKeeping }: { readonly file?: FileMark, readonly isWorthKeeping: boolean }): Promise<void> {
    if (isWorthKeeping && await this.#takeUpSame(shown)) return
    await this.#takeUp(shown, { file })
    if (!isWorthKeeping) return
    this.#kept = undefined
    this.#wake()
  }

  /** A file that was opened before and not changed since is not kept twice. */
  async #takeUpSame(shown: Shown): Promise<boolean> {
    const same = await this.#store.sameAs(shown.job).catch(() => undefined)
    if (same === undefined) return false
    const hold = await this.#parts.hold(same.kept.id, () => {})
    if (hold.isMine) await this.#takeUp(shown, { loaded: same, hold })
    else hold.release()
    return hold.isMine
  }

  /** Before another job is opened. @returns false when that would lose work: `goOn` is then offered */
  async leave(anyway: boolean, goOn: () => void): Promise<boolean> {
    return this.#leave(anyway, goOn)
  }

  /** Resolves when everything is written that can be. */
  async flush(): Promise<void> {
    this.#wake()
    await this.#pumping
  }

  async #leave(anyway: boolean, goOn: () => void): Promise<boolean> {
    this.#bench?.endDrag()
    await this.flush()
    if (!anyway && this.#isBehind() && !this.state.getState().isElsewhere) {
      this.state.setState({
        wouldLose: {
          goOn: () => {
            this.state.setState({ wouldLose: null })
            goOn()
          },
        },
      })
      return false
    }
    return true
  }

  async #takeUp(shown: Shown, { loaded, hold, isElsewhere = false, file, olderAt }: {
    readonly loaded?: Loaded, readonly hold?: Hold, readonly isElsewhere?: boolean, readonly file?: FileMark, readonly olderAt?: number | undefined
  }): Promise<void> {
    const bench = await this.#parts.loadBench()
    while (this.#isPumping) await this.#pumping
    if (this.#bench === undefined) {
      this.#bench = bench
      bench.store.subscribe(() => { this.#wake() })
    }
    if (this.#hold !== hold) this.#hold?.release()
    this.#hold = hold
    this.#kept = shown.job
    this.#noted = loaded?.drag?.command as Command | undefined ?? null
    const { trouble } = this.state.getState()
    this.state.setState({
      current: loaded?.kept ?? null, file: loaded?.kept.file ?? file ?? null, savedJob: null, isElsewhere, wouldLose: null,
      trouble: trouble?.kind === 'refused' || trouble?.kind === 'full' ? trouble : null,
      notice: olderAt === undefined ? null : { kind: 'older-version', at: olderAt },
    })
    const drag = isElsewhere ? undefined : loaded?.drag
    const found = shown.verdict?.() ?? null
    const step = bench.take(shown.job, { assembly: shown.assembly, verdict: found === 'stopped' ? null : found, cutOff: drag?.command })
    if (found === 'stopped' && step === undefined) bench.stopChecking()
    if (drag !== undefined) this.state.setState({ notice: step === undefined ? { kind: 'drag-lost', step: drag.name } : { kind: 'recovered', step } })
    bench.close(isElsewhere ? 'this job is open in another window, so here it can only be looked at' : null)
    this.#parts.remember?.(loaded?.kept.id ?? null)
    void this.refresh()
  }

  /** The other window has let go: what it left is read, and may be changed here. */
  async #freed(id: string): Promise<void> {
    if (this.state.getState().current?.id !== id) return
    this.state.setState({ isElsewhere: false })
    await this.open(id, { again: true })
    this.state.setState({ notice: { kind: 'held-here' } })
  }

  /** whether the job on the bench is not the one that is kept */
  #isBehind(): boolean {
    const history = this.#bench?.store.getState().history
    return history !== null && history !== undefined && (history.drag?.base ?? history.present) !== this.#kept
  }

  #wake(): void {
    if (this.#isPumping) return
    this.#isPumping = true
    this.#pumping = this.#pump()
  }

  /** One write after the other until nothing is left to write, or one fails; what changes after its last look wakes it again. */
  async #pump(): Promise<void> {
    for (;;) {
      const bench = this.#bench?.store.getState()
      const { isElsewhere, trouble, current } = this.state.getState()
      if (!bench?.history || isElsewhere || trouble?.kind === 'changed-elsewhere') break
      const job = bench.history.drag?.base ?? bench.history.present
      const command = bench.drag?.command ?? null
      try {
        if (job !== this.#kept) {
          this.state.setState({ isKeeping: true })
          if (!await this.#keep(job)) break
        } else if (command !== this.#noted && current !== null) {
          await this.#store.noteDrag(current.id, command === null ? undefined : { revision: current.revision, command, name: bench.drag!.name })
          this.#noted = command
        } else if (bench.isWhole && current !== null && bench.verdict !== null && this.#stateNoted !== `${current.id}/${current.revision}`) {
          this.#stateNoted = `${current.id}/${current.revision}`
          const { stop, mend } = bench.verdict.counts
          this.#relist(await this.#store.noteState(current.id, current.revision, stop > 0 ? 'stop' : mend > 0 ? 'mend' : 'clear'))
        } else break
      } catch (error) {
        // tried again with the next change
        const why = error instanceof Error ? error.message : 'no reason given'
        this.state.setState({ trouble: isFull(error) ? { kind: 'full' } : trouble?.kind === 'refused' ? trouble : { kind: 'failed', why } })
        break
      } finally {
        this.state.setState({ isKeeping: false })
      }
    }
    this.#isPumping = false
  }

  async #keep(job: Job): Promise<boolean> {
    const { current, file, trouble } = this.state.getState()
    if (current === null) {
      const kept = await this.#store.create(job, file ?? undefined)
      this.#hold = await this.#parts.hold(kept.id, () => {})
      this.#parts.remember?.(kept.id)
      this.#kept = job
      this.#list(kept)
    } else {
      const done = await this.#store.keep(current.id, current.revision, job)
      if (!done.ok && done.why === 'changed-elsewhere') {
        this.state.setState({ trouble: { kind: 'changed-elsewhere' } })
        return false
      }
      if (!done.ok) {
        // thrown away for good in another window: kept anew
        this.state.setState({ current: null })
        return true
      }
      this.#kept = job
      this.#list(done.kept)
    }
    this.#noted = null
    if (trouble?.kind === 'full' || trouble?.kind === 'failed') this.state.setState({ trouble: null })
    this.#parts.tell?.({ kind: 'kept', id: this.state.getState().current!.id })
    return true
  }

  /** Puts the open job's new entry into the list. */
  #list(kept: KeptJob): void {
    const { jobs } = this.state.getState()
    this.state.setState({ current: kept, jobs: [kept, ...jobs.filter(({ id }) => id !== kept.id)] })
  }

  /** the same, unless it was overtaken meanwhile */
  #relist(kept: KeptJob | undefined): void {
    const { current } = this.state.getState()
    if (kept !== undefined && current?.id === kept.id && current.revision === kept.revision) this.#list(kept)
  }

  /** What is on the bench becomes a job of its own; the other one stays as it is. */
  async keepAsCopy(): Promise<void> {
    const { current } = this.state.getState()
    const history = this.#bench?.store.getState().history
    if (!history) return
    this.#hold?.release()
    this.#hold = undefined
    this.#kept = undefined
    this.state.setState({ current: null, file: null, savedJob: null, trouble: null, isElsewhere: false })
    this.#bench?.close(null)
    const name = copyName(history.present.name)
    if (current !== null) this.#bench?.perform({ do: 'edit-job', set: { name } })
    await this.flush()
  }

  /** Gives up what is on the bench for what the other window wrote. */
  async takeOther(): Promise<void> {
    const { current } = this.state.getState()
    if (current !== null) await this.open(current.id, { anyway: true, again: true })
  }

  async duplicate(id: string): Promise<void> {
    const from = this.state.getState().jobs.find(job => job.id === id)
    if (from === undefined) return
    if (this.state.getState().current?.id === id) await this.flush()
    await this.#changeList(async () => { await this.#store.duplicate(id, copyName(from.name)) }, id)
  }

  /** A job in the list; the open one is renamed by a step that can be undone. */
  async rename(id: string, name: string): Promise<void> {
    const { current, jobs } = this.state.getState()
    if (current?.id === id) {
      this.#bench?.perform({ do: 'edit-job', set: { name } })
      return
    }
    const revision = jobs.find(job => job.id === id)?.revision
    if (revision !== undefined) await this.#changeList(async () => { await this.#store.rename(id, revision, name) }, id)
  }

  /** Throws a job away, and offers it back. The open one cannot be. */
  async remove(id: string): Promise<void> {
    const { jobs, current } = this.state.getState()
    const thrownAway = jobs.find(job => job.id === id) ?? null
    if (thrownAway === null || current?.id === id) return
    await this.#changeList(() => this.#store.remove(id), id)
    this.state.setState({ thrownAway })
  }

  async putBack(): Promise<void> {
    const { thrownAway } = this.state.getState()
    if (thrownAway === null) return
    this.state.setState({ thrownAway: null })
    await this.#changeList(() => this.#store.putBack(thrownAway.id), thrownAway.id)
  }

  /** @param savedJob what was written to it */
  async noteFile(file: FileMark, how: 'written' | 'downloaded', savedJob: Job | null = null): Promise<void> {
    this.state.setState({ savedJob, notice: { kind: 'saved', name: file.name, how } })
    if (file.handle === undefined) return
    this.state.setState({ file })
    const { current } = this.state.getState()
    if (current !== null) this.#relist(await this.#store.noteFile(current.id, file).catch(() => undefined))
  }

  tell(notice: Notice | null): void {
    this.state.setState({ notice })
  }

  stay(): void {
    this.state.setState({ wouldLose: null })
  }

  async #changeList(change: () => Promise<void>, id: string): Promise<void> {
    try {
      await change()
      this.#parts.tell?.({ kind: 'listed', id })
    } catch (error) {
      this.state.setState({ trouble: isFull(error) ? { kind: 'full' } : { kind: 'failed', why: error instanceof Error ? error.message : 'no reason given' } })
    }
    await this.refresh()
  }
}

function copyName(name: string): string {
  return `${name.replace(/ \(copy(?: \d+)?\)$/, '')} (copy)`
}
