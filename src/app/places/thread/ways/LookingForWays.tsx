import { useEffect, useState } from 'react'
import { HeldHeading } from './HeldHeading.tsx'
import { giveWaysUp, type Asked } from './ways.ts'

/** It may take seconds or a minute: how long it has been, how far it has come, and a way to stop it. */
export function LookingForWays({ asked, doneRatio, startMs }: { readonly asked: Asked, readonly doneRatio: number, readonly startMs: number }) {
  const [nowMs, setNow] = useState(startMs)
  useEffect(() => {
    const timer = setInterval(() => { setNow(performance.now()) }, 1_000)
    return () => { clearInterval(timer) }
  }, [])
  const seconds = Math.max(0, Math.round((nowMs - startMs) / 1_000))
  return (
    <section className="ways" aria-label="Find the ways">
      <HeldHeading>Looking for the {asked.runIds.length === 1 ? 'way' : 'ways'} of {asked.what}…</HeldHeading>
      <progress max={1} value={doneRatio} aria-label="Looking for ways" />
      <p>{seconds} s so far; {doneRatio < 0.01 ? 'less than 1' : Math.floor(100 * doneRatio)}% of the most work that it may take. It stops as soon as every run lies well, as a rule long before that.</p>
      <button type="button" className="button button-strong" onClick={giveWaysUp}>Cancel</button>
    </section>
  )
}
