import { AskForWays } from './AskForWays.tsx'
import { FoundWays } from './FoundWays.tsx'
import { LookingForWays } from './LookingForWays.tsx'
import { giveWaysUp, type Ways } from './ways.ts'
import './ways.css'

/** The machine at work on ways: what it is asked, how far it has come, and what it found. */
export function WaysWork({ now }: { readonly now: Exclude<Ways, { readonly stage: 'rest' }> }) {
  switch (now.stage) {
    case 'asking': return <AskForWays wish={now.wish} />
    case 'looking': return <LookingForWays now={now} />
    case 'found': return <FoundWays asked={now.asked} found={now.found} shownId={now.shownId} />
    case 'failed': return (
      <section role="alert">
        <h3>That could not be worked out</h3>
        <p>Every run lies as it did. {now.why}</p>
        <button type="button" className="button" onClick={giveWaysUp}>Back</button>
      </section>
    )
  }
}
