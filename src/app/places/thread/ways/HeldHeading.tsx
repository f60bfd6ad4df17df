import { useEffect, useRef } from 'react'
import type { ReactNode } from 'react'

/** A heading that takes the focus when it comes: what was pressed before it is gone. */
export function HeldHeading({ children }: { readonly children: ReactNode }) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => { heading.current?.focus({ preventScroll: true }) }, [])
  return <h3 ref={heading} tabIndex={-1}>{children}</h3>
}
