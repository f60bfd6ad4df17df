import { Suspense, lazy, useEffect, useMemo } from 'react'
import { AirKey } from './AirKey.tsx'
import { Card } from './Card.tsx'
import { DropPlace } from './DropPlace.tsx'
import { EmptyJob } from './EmptyJob.tsx'
import { Hint } from './Hint.tsx'
import { Notices } from './Notices.tsx'
import { Panel } from './Panel.tsx'
import { PlacePanel } from './PlacePanel.tsx'
import { PlacesBar } from './PlacesBar.tsx'
import { PictureGuard } from './PictureGuard.tsx'
import { Refusal } from './Refusal.tsx'
import { TopStrip } from './TopStrip.tsx'
import { ViewButtons } from './ViewButtons.tsx'
import { Working } from './Working.tsx'
import { desk, pickOut, turnTo } from '../desk.ts'
import type { OpenJob } from '../desk.ts'
import { pictureCame, useFirstPicture } from '../firstPicture.ts'
import { loadInView, loadView } from '../laterParts.ts'
import { findingsLeft } from '../filtering.ts'
import { tagOf } from '../tag.ts'
import { useDesk } from '../useDesk.ts'
import { withLookingHand } from '../places/looking/lookingHand.ts'
import { useCut, useDrawing, useFaintRuns } from '../places/looking/useLooking.ts'
import { usePlace } from '../usePlace.ts'
import { usePhone, useWide } from '../useWide.ts'

const VoidView = lazy(async () => ({ default: (await loadView()).VoidView }))
const InView = lazy(async () => ({ default: (await loadInView()).InView }))

/** the view's buttons and the room round them; on a wide screen the card lies over the picture too */
const CARD_OVER_PICTURE = { topPx: 80, bottomPx: 240 }
const CARD_BESIDE = { topPx: 70, bottomPx: 0 }
/** a phone's buttons lie along the lower edge while it threads (style.css) */
const BUTTONS_BELOW = { topPx: 30, bottomPx: 64 }
const NO_FINDINGS = [] as const
const PLAN_FAILED = 'Something in this job could not be drawn in plan. The job itself is whole: it can be saved, and worked on in the other places.'

/** The one screen: the void or its plan, the place of the workshop that is open beside it, and what was picked out. */
export function Desk() {
  const open = useDesk((now) => now.open)
  const verdict = useDesk((now) => now.verdict)
  const selection = useDesk((now) => now.selection)
  const order = useDesk((now) => now.order)
  const severities = useDesk((now) => now.severities)
  const search = useDesk((now) => now.search)
  const tab = useDesk((now) => now.tab)
  const isWide = useWide(), isPhone = usePhone()
  const isSettled = useFirstPicture()
  const findings = verdict?.findings ?? NO_FINDINGS
  const shown = useMemo(
    () => new Set(findingsLeft(findings, severities, tab === 'findings' ? search : '').map(({ id }) => id)), [findings, severities, search, tab])
  useEffect(() => {
    const putAway = (event: KeyboardEvent): void => { if (event.key === 'Escape' && desk.getState().refusal === null) pickOut(null) }
    addEventListener('keydown', putAway)
    return () => { removeEventListener('keydown', putAway) }
  }, [])
  const place = usePlace()
  const inVoid = useDesk((now) => now.inVoid)
  const { Inset, InTheVoid } = place ?? {}
  const Stage = inVoid ? undefined : place?.Stage
  const hand = useMemo(() => withLookingHand(place?.hand), [place])
  const drawing = useDrawing(), cut = useCut(), faintRuns = useFaintRuns()
  const covered = isWide && place === null ? CARD_OVER_PICTURE : isPhone && place?.id === 'thread' ? BUTTONS_BELOW : CARD_BESIDE
  // away from the list of findings a finding's figure would only lie over the work
  const isTold = place !== null && (selection?.kind === 'finding' || place.tellsOfRun === true && selection?.kind === 'run')
  useEffect(() => { document.title = open === null ? 'Joistway' : `${open.job.name} \u2013 Joistway` }, [open])
  const tag = useMemo(() => open === null || isTold ? null : tagOf(open.assembly, findings, selection), [open, findings, selection, isTold])

  return (
    <div className="desk" data-job={open?.fileName ?? ''} data-verdict={verdict === null ? 'none' : 'ready'}>
      <TopStrip />
      <PlacesBar />
      <main className="bench" data-inset={Inset === undefined ? undefined : ''}>
        <section className="picture" data-place-open={place?.id} aria-label={Stage === undefined ? 'The void' : place?.stageName ?? 'The plan'}>
          {open === null ? <NothingOpen /> : (
            <PictureGuard>
              <div className="stage" hidden={Stage !== undefined}>
                <Suspense fallback={<p className="picture-words">Setting out the void…</p>}>
                  <VoidView assembly={open.assembly} findings={findings} shown={shown} selection={selection} tag={tag} order={order} covered={covered}
                    hand={hand} drawing={drawing} cut={cut} faintRuns={faintRuns} onSelect={pickOut} onOrder={turnTo} onDrawn={pictureCame} isSettled={isSettled} isHidden={Stage !== undefined}>
                    {(place !== null || cut !== null) && <Suspense fallback={null}><InView /></Suspense>}
                    {InTheVoid !== undefined && Stage === undefined && <Suspense fallback={null}><InTheVoid /></Suspense>}
                  </VoidView>
                </Suspense>
                {isEmpty(open) ? <EmptyJob /> : (
                  <>
                    <ViewButtons />
                    <div className="picture-foot">
                      <AirKey />
                      {place === null && <Hint />}
                    </div>
                  </>
                )}
              </div>
            </PictureGuard>
          )}
          {open !== null && Stage !== undefined && <PictureGuard key={place?.id} words={PLAN_FAILED}><div className="stage"><Stage /></div></PictureGuard>}
          <Working />
        </section>
        {open !== null && Inset !== undefined && <div className="inset"><Inset /></div>}
        {place === null ? (
          <>
            <Card />
            <Panel />
          </>
        ) : <PlacePanel place={place} />}
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
