/** Keys that work anywhere in the window: back, forth and save. */
import type { Bench } from './bench.ts'

/** @returns stops listening */
export function listenForKeys(bench: Bench, save: () => Promise<void>): () => void {
  const onKey = (event: KeyboardEvent): void => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return
    const key = event.key.toLowerCase()
    if (key === 's' && !event.shiftKey) {
      event.preventDefault()
      void save()
      return
    }
    const isUndo = key === 'z' && !event.shiftKey, isRedo = (key === 'z' && event.shiftKey) || (key === 'y' && !event.shiftKey)
    // text that is being typed has steps of its own; a sheet over the work keeps it still
    if (!(isUndo || isRedo) || isTyping(event.target) || document.querySelector('dialog[open]') !== null) return
    event.preventDefault()
    if (isUndo) bench.undo()
    else bench.redo()
  }
  addEventListener('keydown', onKey)
  return () => { removeEventListener('keydown', onKey) }
}

function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false
  if (target.isContentEditable || target instanceof HTMLTextAreaElement) return true
  return target instanceof HTMLInputElement && !['button', 'checkbox', 'radio', 'range', 'submit', 'file'].includes(target.type)
}
