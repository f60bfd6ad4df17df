import { useStore } from 'zustand'
import { desk } from './desk.ts'
import type { DeskState } from './desk.ts'

/** The one door from the store to React. */
export function useDesk<T>(select: (state: DeskState) => T): T {
  return useStore(desk, select)
}
