import { useId } from 'react'
import type { ReactNode } from 'react'

/** A control under its name; `children` is given the id that the name points to. */
export function Field({ name, children }: { readonly name: ReactNode, readonly children: (id: string) => ReactNode }) {
  const id = useId()
  return (
    <div className="looking-field">
      <label htmlFor={id}>{name}</label>
      {children(id)}
    </div>
  )
}
