import { useStore } from 'zustand'
import { keeper } from './opening.ts'
import type { KeeperState } from './storage/keeper.ts'

/** The keeper's door to React. */
export function useKeeper<T>(select: (state: KeeperState) => T): T {
  return useStore(keeper.state, select)
}
