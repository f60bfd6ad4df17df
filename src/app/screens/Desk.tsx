import { Suspense, lazy, useEffect, useMemo } from 'react'
import { AirKey } from './AirKey.tsx'
import { Card } from './Card.tsx'
import { DropPlace } from './DropPlace.tsx'
import { EmptyJob } from './EmptyJob.tsx'
import { Hint } from './Hint.tsx'
import { Notices } from './Notices.tsx'
import { Panel } from './Panel.tsx'
import { PictureGuard } from './PictureGuard.tsx'
import { Refusal } from './Refusal.tsx'
import { TopStrip } from './TopStrip.tsx'
import { ViewButtons } from './ViewButtons.tsx'
import { Working } from './Working.tsx'
import { desk, pickOut, turnTo } from '../desk.ts'
import type { OpenJob } from '../desk.ts'
import { loadView } from '../laterParts.ts'
import { findingsLeft } from '../filtering.ts'
import { tagOf } from '../tag.ts'
import { useDesk } from '../useDesk.ts'
import { useWide } from '../useWide.ts'

const VoidView = lazy(async () => ({ default: (await loadView()).VoidView }))

/** the view's buttons and the room round them; on a wide screen the card lies over the picture too */
const CARD_OVER_PICTURE = { topPx: 80, bottomPx: 240 }
const CARD_BESIDE = { topPx: 70, bottomPx: 0 }
const NO_FINDINGS = [] as const

/** The one screen: the void, what is wrong with it, and what was picked out. */
export function Desk() {
  const open = useDesk((now) => now.open)
  const verdict = useDesk((now) => now.verdict)
  const selection = useDesk((now) => now.selection)
  const order = useDesk((now) => now.order)
  const severities = useDesk((now) => now.severities)
  const search = useDesk((now) => now.search)
  const tab = useDesk((now) => now.tab)
  const isWide = useWide()
  const findings = verdict?.findings ?? NO_FINDINGS
  const shown = useMemo(
    () => new Set(findingsLeft(findings, severities, tab === 'findings' ? search : '').map(({ id }) => id)), [findings, severities, search, tab])
  useEffect(() => {
    const putAway = (event: KeyboardEvent): void => { if (event.key === 'Escape' && desk.getState().refusal === null) pickOut(null) }
    addEventListener('keydown', putAway)
    return () => { removeEventListener('keydown', putAway) }
  }, [])
  const tag = useMemo(() => open === null ? null : tagOf(open.assembly, findings, selection), [open, findings, selection])

  return (
    <div className="desk" data-job={open?.fileName ?? ''} data-verdict={verdict === null ? 'none' : 'ready'}>
      <TopStrip />
      <main className="bench">
        <section className="picture" aria-label="The void">
          {open === null ? <NothingOpen /> : (
            <PictureGuard>
              <Suspense fallback={<p className="picture-words">Setting out the void…</p>}>
                <VoidView assembly={open.assembly} findings={findings} shown={shown} selection={selection} tag={tag} order={order} covered={isWide ? CARD_OVER_PICTURE : CARD_BESIDE}
                  onSelect={pickOut} onOrder={turnTo} />
              </Suspense>
              <ViewButtons />
              {isEmpty(open) ? <EmptyJob /> : (
                <div className="picture-foot">
                  <AirKey />
                  <Hint />
                </div>
              )}
            </PictureGuard>
          )}
          <Working />
        </section>
        <Card />
        <Panel />
      </main>
      <Notices />
      <Refusal />
      <DropPlace />
    </div>
  )
}

function isEmpty({ assembly: { solids, zones, runs } }: OpenJob): boolean {
  return solids.count + zones.count + runs.length === 0
}

function NothingOpen() {
  const busy = useDesk((now) => now.work !== null)
  return busy
    ? <p className="picture-words">Opening…</p>
    : (
        <div className="picture-words">
          <h2>No job open</h2>
          <p>A job is one file that holds the joists, the ducts and everything else in the void. Open one with the button above, or drop it here.</p>
        </div>
      )
}
