import { openDB, type IDBPDatabase } from 'idb'
import { KEY_OF, type OpenTables, type Shelf, TABLE_NAMES, type TableName, type Tables } from './shelf.ts'

export const DATABASE = 'joistway'
const DATABASE_VERSION = 1
/** A database that does not answer within this is taken as refused, ms. */
const LONGEST_WAIT_MS = 5_000

/** The browser's own database. @throws when the browser refuses it, such as in some private windows */
export async function browserShelf(): Promise<Shelf> {
  let open: Promise<IDBPDatabase> | undefined
  const connect = (): Promise<IDBPDatabase> => {
    open ??= connected(() => { open = undefined })
    open.catch(() => { open = undefined })
    return open
  }
  await connect()
  return {
    lasts: true,
    async transact(how, work) {
      const mode = how === 'read' ? 'readonly' : 'readwrite'
      const begin = async () => (await connect()).transaction([...TABLE_NAMES], mode, { durability: how === 'note' ? 'relaxed' : 'strict' })
      const transaction = await begin().catch((error: unknown) => {
        // the browser closes connections of its own accord, and only says so afterwards
        if (!(error instanceof DOMException) || error.name !== 'InvalidStateError') throw error
        open = undefined
        return begin()
      })
      const tables: OpenTables = {
        get: <T extends TableName>(table: T, key: string) => transaction.objectStore(table).get(key) as Promise<Tables[T] | undefined>,
        all: <T extends TableName>(table: T) => transaction.objectStore(table).getAll() as Promise<Tables[T][]>,
        put: async (table, row) => { await transaction.objectStore(table).put!(row) },
        delete: async (table, key) => { await transaction.objectStore(table).delete!(key) },
      }
      // heard at once, so that a failure is never one that nobody waits for
      const ended = transaction.done.then(() => undefined, (error: unknown) => error ?? new Error('the change was given up'))
      try {
        const result = await work(tables)
        const failure = await ended
        if (failure !== undefined) throw failure
        return result
      } catch (error) {
        try {
          transaction.abort()
        } catch {
          // it had ended already
        }
        await ended
        throw error
      }
    },
  }
}

async function connected(lost: () => void): Promise<IDBPDatabase> {
  let isLate = false
  const opening = openDB(DATABASE, DATABASE_VERSION, {
    upgrade(database) {
      for (const table of TABLE_NAMES) database.createObjectStore(table, { keyPath: KEY_OF[table] })
    },
    blocking(_current, _blocked, event) {
      (event.target as IDBDatabase).close()
      lost()
    },
    terminated: lost,
  })
  let timer: ReturnType<typeof setTimeout> | undefined
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      isLate = true
      reject(new Error('the database does not answer'))
    }, LONGEST_WAIT_MS)
  })
  opening.then((database) => { if (isLate) database.close() }, () => {})
  try {
    return await Promise.race([opening, late])
  } finally {
    clearTimeout(timer)
  }
}
