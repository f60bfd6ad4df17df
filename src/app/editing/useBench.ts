import { useStore } from 'zustand'
import type { BenchState } from './bench.ts'
import { bench } from './theBench.ts'

/** The bench's door to React. */
export function useBench<T>(select: (state: BenchState) => T): T {
  return useStore(bench.store, select)
}
