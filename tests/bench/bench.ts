/** What every bench is given and gives back. */
import type { Size } from './instance.ts'
import type { Table } from './table.ts'

export interface BenchOptions {
  readonly sizes: readonly Size[]
  /** smaller and fewer, to see that everything works */
  readonly isQuick: boolean
}

export interface Bench {
  readonly name: string
  readonly run: (options: BenchOptions) => Promise<readonly Table[]> | readonly Table[]
}
