import { useStore } from 'zustand'
import { board, type Board } from './board.ts'

/** The drawing board's door to React. */
export function useBoard<T>(select: (state: Board) => T): T {
  return useStore(board, select)
}
