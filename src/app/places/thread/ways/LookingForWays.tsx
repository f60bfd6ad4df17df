import { useEffect, useState } from 'react'
import { progressWords } from '#routing/router/progress.ts'
import { countText } from '../../../figures.ts'
import { HeldHeading } from './HeldHeading.tsx'
import { stopLooking, type Ways } from './ways.ts'

/** It may take seconds or a minute: how long it has been, how far it has come, and a way to stop it. */
export function LookingForWays({ now: { asked, progress, soFar, startMs } }: { readonly now: Extract<Ways, { readonly stage: 'looking' }> }) {
  const [nowMs, setNow] = useState(startMs)
  useEffect(() => {
    const timer = setInterval(() => { setNow(performance.now()) }, 1_000)
    return () => { clearInterval(timer) }
  }, [])
  const seconds = Math.max(0, Math.round((nowMs - startMs) / 1_000)), laid = soFar?.laid.length ?? 0
  return (
    <section className="ways" aria-label="Find the ways">
      <HeldHeading>Looking for the {asked.runIds.length === 1 ? 'way' : 'ways'} of {asked.what}…</HeldHeading>
      <progress max={1} value={progress.doneRatio} aria-label="Looking for ways" />
      <p>{progressWords(progress)}.</p>
      <p className="quiet">{seconds} s so far.{laid > 0 && ` ${countText(laid, 'run')} ${laid === 1 ? 'lies' : 'lie'} well by now: stop, and ${laid === 1 ? 'it is' : 'they are'} shown.`}</p>
      <button type="button" className="button button-strong" onClick={stopLooking}>{laid > 0 ? 'Stop here' : 'Cancel'}</button>
    </section>
  )
}
