import { useEffect, useState } from 'react'
import { useDesk } from '../useDesk.ts'

/** What a newcomer would not guess; gone once it has been done. */
export function Hint() {
  const selected = useDesk((now) => now.selection !== null)
  const [known, setKnown] = useState(false)
  useEffect(() => { if (selected) setKnown(true) }, [selected])
  return known ? null : <p className="hint">Click or touch anything to read its name and sizes</p>
}
