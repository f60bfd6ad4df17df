import { useRef, useState } from 'react'
import type { KeyboardEvent } from 'react'

/**
 * Keys for a list of buttons: one stop for Tab, up and down (Home, End) go through it, Enter is the button's own.
 * @param count buttons in the list
 */
export function useListKeys(count: number) {
  const list = useRef<HTMLUListElement>(null)
  const [current, setCurrent] = useState(0)
  const held = Math.min(current, Math.max(0, count - 1))
  const onKeyDown = (event: KeyboardEvent): void => {
    const to = { ArrowDown: held + 1, ArrowUp: held - 1, Home: 0, End: count - 1 }[event.key]
    if (to === undefined) return
    event.preventDefault()
    const next = Math.min(Math.max(to, 0), count - 1)
    setCurrent(next)
    list.current?.querySelectorAll<HTMLElement>('.row')[next]?.focus()
  }
  return { list, onKeyDown, tabIndexOf: (n: number) => n === held ? 0 : -1, onFocusOf: (n: number) => () => { setCurrent(n) } }
}
