/** The places that measure and look, with a plain frame round them, as the workshop opens them. */
import { StrictMode, useMemo, useState } from 'react'
import { createRoot } from 'react-dom/client'
import { pickOut, turnTo } from '#app/desk.ts'
import { bench } from '#app/editing/theBench.ts'
import { start } from '#app/opening.ts'
import { joist } from '#app/places/joist/index.ts'
import { looking } from '#app/places/looking/index.ts'
import { InView } from '#app/places/looking/InView.tsx'
import { withLookingHand } from '#app/places/looking/lookingHand.ts'
import { useCut, useDrawing } from '#app/places/looking/useLooking.ts'
import { viewing } from '#app/places/looking/viewing.ts'
import { strip } from '#app/places/strip/index.ts'
import { trial } from '#app/places/trial/index.ts'
import { TopStrip } from '#app/screens/TopStrip.tsx'
import { ViewButtons } from '#app/screens/ViewButtons.tsx'
import { tagOf } from '#app/tag.ts'
import { useDesk } from '#app/useDesk.ts'
import { VoidView } from '#scene/VoidView.tsx'
import '#app/style.css'

const PLACES = [strip, joist, trial, looking]
const NONE = [] as const
const hand = withLookingHand()

function Frame() {
  const open = useDesk((now) => now.open), verdict = useDesk((now) => now.verdict), selection = useDesk((now) => now.selection), order = useDesk((now) => now.order)
  const [id, setId] = useState(location.hash.slice(1) || 'strip')
  const { Panel, Inset } = PLACES.find((place) => place.id === id) ?? strip
  const findings = verdict?.findings ?? NONE
  const shown = useMemo(() => new Set<string>(), [])
  const tag = useMemo(() => open === null ? null : tagOf(open.assembly, findings, selection), [open, findings, selection])
  const drawing = useDrawing(), cut = useCut()
  return (
    <div className="desk" data-job={open?.fileName ?? ''} data-verdict={verdict === null ? 'none' : 'ready'}>
      <TopStrip />
      <main className="bench">
        <section className="picture" aria-label="The void" style={{ display: 'grid', gridTemplateRows: Inset === undefined ? '1fr' : 'minmax(0, 1fr) minmax(230px, 44%)' }}>
          <div style={{ position: 'relative' }}>
            {open !== null && (
              <>
                <VoidView assembly={open.assembly} findings={findings} shown={shown} selection={selection} tag={tag} order={order} covered={{ topPx: 80, bottomPx: 0 }}
                  onSelect={pickOut} onOrder={turnTo} hand={hand} drawing={drawing} cut={cut}>
                  <InView />
                </VoidView>
                <ViewButtons />
              </>
            )}
          </div>
          {Inset !== undefined && <Inset />}
        </section>
        <section className="panel" aria-label="Place">
          <nav aria-label="Places" style={{ display: 'flex', flexWrap: 'wrap', gap: 6, padding: 8 }}>
            {PLACES.map((place) => <button key={place.id} type="button" className="button" aria-current={place.id === id} onClick={() => { setId(place.id) }}>{place.name}</button>)}
          </nav>
          <Panel />
        </section>
      </main>
    </div>
  )
}

Object.assign(window, { bench, viewing })
createRoot(document.getElementById('desk')!).render(<StrictMode><Frame /></StrictMode>)
void start()
