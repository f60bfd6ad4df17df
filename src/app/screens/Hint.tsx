import { useEffect, useState } from 'react'
import { useDesk } from '../useDesk.ts'

/** What a newcomer would not guess; gone once it has been done. Of an empty job it says what belongs in one. */
export function Hint() {
  const open = useDesk((now) => now.open)
  const selected = useDesk((now) => now.selection !== null)
  const [known, setKnown] = useState(false)
  useEffect(() => { if (selected) setKnown(true) }, [selected])
  if (open === null) return null
  const { solids, zones, runs } = open.assembly
  if (solids.count + zones.count + runs.length === 0) {
    return (
      <div className="picture-words picture-words-over">
        <h2>This job is empty</h2>
        <p>A void starts with its ceiling zones and its joists; then come the manifolds and plenums with their spigots, and a run from each spigot to another.</p>
      </div>
    )
  }
  return known ? null : <p className="hint">Touch anything to read its name and sizes</p>
}
