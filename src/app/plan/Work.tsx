import { useEffect, useRef } from 'react'
import type { ReactNode } from 'react'
import './picked/picked.css'

/** The column beside the plan. @param sheet what it is about: a new one starts at its top */
export function Work({ sheet, children }: { readonly sheet: string, readonly children: ReactNode }) {
  const box = useRef<HTMLDivElement>(null)
  useEffect(() => {
    // on a phone the panel round it is what scrolls
    for (const one of [box.current, box.current?.parentElement]) one?.scrollTo(0, 0)
  }, [sheet])
  return <div className="work" ref={box}>{children}</div>
}

/** One sheet for all the joists of a field, so that going from one to the next does not jump. */
export function sheetOf(pick: { readonly kind: string, readonly id: string }): string {
  return pick.kind === 'joist' || pick.kind === 'field' ? 'joists' : `${pick.kind} ${pick.id}`
}
