/** What every bench is given and gives back. */
import type { Size } from './instance.ts'
import type { Table } from './table.ts'

export interface BenchOptions {
  readonly sizes: readonly Size[]
  /** smaller and fewer, to see that everything works */
  readonly isQuick: boolean
  /** floors to route of each kind with 19 runs, fewer of those with more; the bench's own number when left out */
  readonly floors?: number
  /** seed of the first of them */
  readonly firstSeed?: number
}

export interface Bench {
  readonly name: string
  readonly run: (options: BenchOptions) => Promise<readonly Table[]> | readonly Table[]
}
