/** The kept jobs: a list, several versions of each, and never a write over what the writer has not seen. */
import type { Job } from '#model/index.ts'
import type { FileMark, KeptDrag, KeptJob, OpenTables, Shelf, VersionMark } from './shelf.ts'

export type Kept =
  | { readonly ok: true, readonly kept: KeptJob }
  /** somebody else wrote meanwhile: what they left is as it was */
  | { readonly ok: false, readonly why: 'changed-elsewhere', readonly kept: KeptJob }
  | { readonly ok: false, readonly why: 'gone' }

export interface Loaded {
  readonly kept: KeptJob
  readonly revision: number
  readonly text: string
  /** a drag that was cut off, on this very revision */
  readonly drag?: KeptDrag
}

/** Newest versions that are kept of a job, and how many earlier visits keep their last one besides. */
const NEWEST = 4
const EARLIER_SITTINGS = 4
/** What was thrown away is really gone after this, ms. */
const THROWN_AWAY_MS = 24 * 3600 * 1000

export interface JobStoreParts {
  readonly shelf: Shelf
  /** this visit of this window */
  readonly sitting: string
  /** ms since 1970 */
  readonly clock?: () => number
  readonly newId?: () => string
}

export class JobStore {
  readonly #shelf: Shelf
  readonly #sitting: string
  readonly #clock: () => number
  readonly #newId: () => string

  constructor({ shelf, sitting, clock = () => Date.now(), newId = randomId }: JobStoreParts) {
    this.#shelf = shelf
    this.#sitting = sitting
    this.#clock = clock
    this.#newId = newId
  }

  get lasts(): boolean {
    return this.#shelf.lasts
  }

  /** Changed last comes first; what was thrown away is not in it. */
  async list(): Promise<KeptJob[]> {
    const jobs = await this.#shelf.transact('read', tables => tables.all('jobs'))
    return jobs.filter(({ removedAt }) => removedAt === undefined).sort((a, b) => b.changedAt - a.changedAt)
  }

  /** @throws when there is no room, or writing is refused; nothing is changed then. So do all that write. */
  async create(job: Job, file?: FileMark): Promise<KeptJob> {
    const text = JSON.stringify(job), now = this.#clock()
    const version: VersionMark = { revision: 1, at: now, sitting: this.#sitting, bytes: text.length }
    const kept: KeptJob = {
      id: this.#newId(), ...outlineOf(job), createdAt: now, changedAt: now, bytes: text.length, state: null, revision: 1, versions: [version],
      ...(file === undefined ? {} : { file }),
    }
    await this.#write(async (tables) => {
      await tables.put('versions', { key: keyOf(kept.id, 1), text })
      await tables.put('jobs', kept)
    })
    return kept
  }

  /** Keeps a job as its next version. @param seen the revision that it was made from */
  async keep(id: string, seen: number, job: Job): Promise<Kept> {
    return this.#keepText(id, seen, JSON.stringify(job), outlineOf(job))
  }

  async #keepText(id: string, seen: number, text: string, outline: Partial<KeptJob>): Promise<Kept> {
    return this.#write(async (tables): Promise<Kept> => {
      const before = await tables.get('jobs', id)
      if (before === undefined) return { ok: false, why: 'gone' }
      if (before.revision !== seen) return { ok: false, why: 'changed-elsewhere', kept: before }
      const revision = seen + 1, now = this.#clock()
      const versions = [...before.versions, { revision, at: now, sitting: this.#sitting, bytes: text.length }]
      const left = worthKeeping(versions)
      const { removedAt: _, ...rest } = before
      const kept: KeptJob = { ...rest, ...outline, changedAt: now, bytes: text.length, revision, versions: left, state: null }
      await tables.put('versions', { key: keyOf(id, revision), text })
      for (const version of versions) if (!left.includes(version)) await tables.delete('versions', keyOf(id, version.revision))
      await tables.delete('drags', id)
      await tables.put('jobs', kept)
      return { ok: true, kept }
    })
  }

  /** The present state of a job, or an older one; undefined when it is not there. */
  async load(id: string, revision?: number): Promise<Loaded | undefined> {
    return this.#shelf.transact('read', async (tables) => {
      const kept = await tables.get('jobs', id)
      if (kept === undefined) return undefined
      const wanted = revision ?? kept.revision
      const version = await tables.get('versions', keyOf(id, wanted))
      if (version === undefined) return undefined
      const drag = await tables.get('drags', id)
      return { kept, revision: wanted, text: version.text, ...(drag?.revision === wanted ? { drag } : {}) }
    })
  }

  /** A kept job that says the very same. */
  async sameAs(job: Job): Promise<Loaded | undefined> {
    const text = JSON.stringify(job)
    for (const kept of await this.list()) {
      const loaded = kept.bytes === text.length && kept.name === job.name ? await this.load(kept.id) : undefined
      if (loaded?.text === text && loaded.drag === undefined) return loaded
    }
    return undefined
  }

  /** Notes how far a drag has come; undefined when it ended without a change. */
  async noteDrag(id: string, drag: Omit<KeptDrag, 'id'> | undefined): Promise<void> {
    await this.#shelf.transact('note', tables => drag === undefined ? tables.delete('drags', id) : tables.put('drags', { ...drag, id }))
  }

  async noteState(id: string, revision: number, state: KeptJob['state']): Promise<KeptJob | undefined> {
    return this.#change(id, before => before.revision === revision ? { ...before, state } : before, 'note')
  }

  async noteFile(id: string, file: FileMark): Promise<KeptJob | undefined> {
    return this.#change(id, before => ({ ...before, file }))
  }

  async rename(id: string, seen: number, name: string): Promise<Kept> {
    const loaded = await this.load(id)
    if (loaded === undefined) return { ok: false, why: 'gone' }
    return this.#keepText(id, seen, withName(loaded.text, name), { name })
  }

  /** A job of its own that says the same. @returns undefined when there is nothing to copy */
  async duplicate(id: string, name: string): Promise<KeptJob | undefined> {
    const loaded = await this.load(id)
    if (loaded === undefined) return undefined
    const text = withName(loaded.text, name), now = this.#clock()
    const { file: _, removedAt: __, ...rest } = loaded.kept
    const kept: KeptJob = {
      ...rest, id: this.#newId(), name, createdAt: now, changedAt: now, bytes: text.length, revision: 1,
      versions: [{ revision: 1, at: now, sitting: this.#sitting, bytes: text.length }],
    }
    await this.#write(async (tables) => {
      await tables.put('versions', { key: keyOf(kept.id, 1), text })
      await tables.put('jobs', kept)
    })
    return kept
  }

  /** Throws a job away; for a day it can be put back. */
  async remove(id: string): Promise<void> {
    await this.#change(id, before => ({ ...before, removedAt: this.#clock() }))
  }

  async putBack(id: string): Promise<void> {
    await this.#change(id, ({ removedAt: _, ...rest }) => rest)
  }

  /** Clears out what was thrown away long enough ago. */
  async sweep(olderThanMs = THROWN_AWAY_MS): Promise<void> {
    await this.#shelf.transact('write', async (tables) => {
      for (const { id, removedAt, versions } of await tables.all('jobs')) {
        if (removedAt === undefined || removedAt > this.#clock() - olderThanMs) continue
        for (const { revision } of versions) await tables.delete('versions', keyOf(id, revision))
        await tables.delete('drags', id)
        await tables.delete('jobs', id)
      }
    })
  }

  async note(key: string): Promise<string | undefined> {
    return (await this.#shelf.transact('read', tables => tables.get('notes', key)))?.value
  }

  async setNote(key: string, value: string): Promise<void> {
    await this.#shelf.transact('note', tables => tables.put('notes', { key, value }))
  }

  async #change(id: string, change: (before: KeptJob) => KeptJob, how: 'write' | 'note' = 'write'): Promise<KeptJob | undefined> {
    return this.#shelf.transact(how, async (tables) => {
      const before = await tables.get('jobs', id)
      if (before === undefined) return undefined
      const after = change(before)
      if (after !== before) await tables.put('jobs', after)
      return after
    })
  }

  /** Writes; where there is no room, once more after old versions and what was thrown away have made some. */
  async #write<R>(work: (tables: OpenTables) => Promise<R>): Promise<R> {
    try {
      return await this.#shelf.transact('write', work)
    } catch (error) {
      if (!isFull(error)) throw error
      await this.#makeRoom()
      return await this.#shelf.transact('write', work)
    }
  }

  async #makeRoom(): Promise<void> {
    await this.sweep(0)
    await this.#shelf.transact('write', async (tables) => {
      for (const kept of await tables.all('jobs')) {
        const present = kept.versions.filter(({ revision }) => revision === kept.revision)
        for (const { revision } of kept.versions) if (revision !== kept.revision) await tables.delete('versions', keyOf(kept.id, revision))
        if (present.length < kept.versions.length) await tables.put('jobs', { ...kept, versions: present })
      }
    })
  }
}

/** Whether writing failed for want of room. */
export function isFull(error: unknown): boolean {
  return error instanceof Error && error.name === 'QuotaExceededError'
}

/** The newest few, and the last one of each of some earlier visits, so that a bad hour can be gone back over. */
function worthKeeping(versions: readonly VersionMark[]): VersionMark[] {
  const newest = versions.slice(-NEWEST)
  const sittings = new Set(newest.map(({ sitting }) => sitting))
  const earlier: VersionMark[] = []
  for (const version of versions.slice(0, -NEWEST).toReversed()) {
    if (earlier.length === EARLIER_SITTINGS) break
    if (sittings.has(version.sitting)) continue
    sittings.add(version.sitting)
    earlier.unshift(version)
  }
  return [...earlier, ...newest]
}

function outlineOf(job: Job): Pick<KeptJob, 'name' | 'joists' | 'runs'> {
  return { name: job.name, joists: job.joistFields.reduce((sum, { joists }) => sum + joists.length, 0), runs: job.runs.length }
}

function withName(text: string, name: string): string {
  return JSON.stringify({ ...JSON.parse(text) as object, name })
}

function keyOf(id: string, revision: number): string {
  return `${id}/${revision}`
}

/** Browsers give ready-made ones only to pages from a safe address. */
export function randomId(): string {
  return Array.from(crypto.getRandomValues(new Uint32Array(3)), part => part.toString(36)).join('')
}
