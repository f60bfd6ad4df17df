/** The thread place with a plain frame round it, as the workshop opens it. */
import { StrictMode, Suspense, useMemo } from 'react'
import { createRoot } from 'react-dom/client'
import { pickOut, turnTo } from '#app/desk.ts'
import { bench } from '#app/editing/theBench.ts'
import { keepWork, start } from '#app/opening.ts'
import { thread } from '#app/places/thread/index.ts'
import { TopStrip } from '#app/screens/TopStrip.tsx'
import { ViewButtons } from '#app/screens/ViewButtons.tsx'
import { tagOf } from '#app/tag.ts'
import { useDesk } from '#app/useDesk.ts'
import { VoidView } from '#scene/VoidView.tsx'
import '#app/style.css'

const { Panel, InTheVoid } = thread
const NONE = [] as const
function Frame() {
  const open = useDesk((now) => now.open), verdict = useDesk((now) => now.verdict), selection = useDesk((now) => now.selection), order = useDesk((now) => now.order)
  const findings = verdict?.findings ?? NONE
  const shown = useMemo(() => new Set(findings.map(({ id }) => id)), [findings])
  const tag = useMemo(() => open === null ? null : tagOf(open.assembly, findings, selection), [open, findings, selection])
  return (
    <div className="desk" data-job={open?.fileName ?? ''} data-verdict={verdict === null ? 'none' : 'ready'}>
      <TopStrip />
      <main className="bench">
        <section className="picture" aria-label="The void">
          {open !== null && (
            <>
              <VoidView assembly={open.assembly} findings={findings} shown={shown} selection={selection} tag={selection?.kind === 'run' ? null : tag} order={order} covered={{ topPx: 80, bottomPx: 0 }}
                onSelect={pickOut} onOrder={turnTo} hand={thread.hand}>
                <Suspense fallback={null}>{InTheVoid !== undefined && <InTheVoid />}</Suspense>
              </VoidView>
              <ViewButtons />
            </>
          )}
        </section>
        <section className="panel" aria-label="Thread"><Panel /></section>
      </main>
    </div>
  )
}

Object.assign(window, { bench })
createRoot(document.getElementById('desk')!).render(<StrictMode><Frame /></StrictMode>)
void start().then(() => { void keepWork() })
