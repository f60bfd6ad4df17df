/** Where jobs are kept, as plain tables with whole-or-nothing changes: in the browser's database, or in memory where that is refused. */

/** One state of a job that is kept. */
export interface VersionMark {
  readonly revision: number
  /** ms since 1970 */
  readonly at: number
  /** which visit of which window wrote it */
  readonly sitting: string
  readonly bytes: number
}

/** A job in the list; what it says is in its versions. */
export interface KeptJob {
  readonly id: string
  readonly name: string
  /** ms since 1970 */
  readonly createdAt: number
  readonly changedAt: number
  readonly bytes: number
  readonly joists: number
  readonly runs: number
  /** worst finding when it was last checked whole; null while that is not known */
  readonly state: 'stop' | 'mend' | 'clear' | null
  /** goes up by one with every change: whoever writes must know the last */
  readonly revision: number
  /** oldest first; the last is the present one */
  readonly versions: readonly VersionMark[]
  /** when a person threw it away, ms since 1970 */
  readonly removedAt?: number
  /** the file on disk that it is also saved to */
  readonly file?: FileMark
}

export interface FileMark {
  readonly name: string
  /** where the browser gives one */
  readonly handle?: FileSystemFileHandle
  /** when the file was last written as far as we know, ms since 1970 */
  readonly writtenAt?: number
}

export interface KeptVersion {
  /** `id/revision` */
  readonly key: string
  /** the project file */
  readonly text: string
}

/** A drag that is under way: the command so far, on the job as that revision has it. */
export interface KeptDrag {
  readonly id: string
  readonly revision: number
  readonly command: unknown
  /** what its step would be called */
  readonly name: string
}

export interface Tables {
  readonly jobs: KeptJob
  readonly versions: KeptVersion
  readonly drags: KeptDrag
  /** single values, such as which job was open last */
  readonly notes: { readonly key: string, readonly value: string }
}
export type TableName = keyof Tables
export const KEY_OF = { jobs: 'id', versions: 'key', drags: 'id', notes: 'key' } as const satisfies { readonly [T in TableName]: keyof Tables[T] }
export const TABLE_NAMES = Object.keys(KEY_OF) as readonly TableName[]

/** The tables while a change is under way. Nothing else may be waited for in it. */
export interface OpenTables {
  get<T extends TableName>(table: T, key: string): Promise<Tables[T] | undefined>
  all<T extends TableName>(table: T): Promise<Tables[T][]>
  put<T extends TableName>(table: T, row: Tables[T]): Promise<void>
  delete(table: TableName, key: string): Promise<void>
}

export interface Shelf {
  /** Whether what is put here is still there when the window has been closed. */
  readonly lasts: boolean
  /** Carries out all of `work` or, when it throws, none of it. One after the other, in every window. @param how 'note' may be lost when the machine loses its power */
  transact<R>(how: 'read' | 'write' | 'note', work: (tables: OpenTables) => Promise<R>): Promise<R>
}
