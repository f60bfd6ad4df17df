import { KEY_OF, type OpenTables, type Shelf, type TableName, type Tables } from './shelf.ts'

/** A shelf that is gone with its window. */
export function memoryShelf(): Shelf {
  let rows = new Map<string, unknown>()
  let last: Promise<unknown> = Promise.resolve()
  const at = (table: TableName, key: string) => `${table}/${key}`

  return {
    lasts: false,
    transact(how, work) {
      const run = async () => {
        const draft = new Map(rows)
        const tables: OpenTables = {
          get: async <T extends TableName>(table: T, key: string) => draft.get(at(table, key)) as Tables[T] | undefined,
          all: async <T extends TableName>(table: T) => [...draft].filter(([key]) => key.startsWith(`${table}/`)).map(([, row]) => row as Tables[T]),
          put: async (table, row) => { draft.set(at(table, (row as unknown as Record<string, string>)[KEY_OF[table]]), row) },
          delete: async (table, key) => { draft.delete(at(table, key)) },
        }
        const result = await work(tables)
        if (how !== 'read') rows = draft
        return result
      }
      const next = last.then(run)
      last = next.catch(() => {})
      return next
    },
  }
}
