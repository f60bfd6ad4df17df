import { useEffect, useRef } from 'react'
import { useBench } from '../../editing/useBench.ts'
import { desk } from '../../desk.ts'
import { useDesk } from '../../useDesk.ts'
import { FindingWork } from './FindingWork.tsx'
import { LayingWork } from './LayingWork.tsx'
import { PlanFold } from './PlanFold.tsx'
import { RunWork } from './RunWork.tsx'
import { StartHere } from './StartHere.tsx'
import { WhichEnd } from './WhichEnd.tsx'
import { WaysWork } from './ways/WaysWork.tsx'
import { useWays } from './ways/ways.ts'
import { onThreadKey } from './keys.ts'
import { cancelPull } from './points.ts'
import { EMPTY_HANDS, hush, threading, useThreading } from './threading.ts'
import './thread.css'

/** Threading by hand, in words: whatever can be done in the picture can be done here too. */
export function ThreadPanel() {
  const laying = useThreading((now) => now.laying)
  const waysNow = useWays((now) => now)
  const said = useThreading((now) => now.said)
  const pullMs = useThreading((now) => now.pullMs)
  const isPulling = useThreading((now) => now.isPulling)
  const selection = useDesk((now) => now.selection)
  const assembly = useBench((now) => now.assembly)
  const findings = useBench((now) => now.verdict?.findings)
  useEffect(() => {
    addEventListener('keydown', onThreadKey, true)
    return () => {
      removeEventListener('keydown', onThreadKey, true)
      cancelPull()
      // only once the place has been left: what was taken in hand on the way here stays
      if (desk.getState().place !== 'thread') threading.setState({ ...EMPTY_HANDS, lift: threading.getState().lift, typeId: threading.getState().typeId })
    }
  }, [])
  useEffect(hush, [selection])
  const isAsked = useThreading((now) => now.several.length > 0)
  const number = selection?.kind === 'finding' ? findings?.findIndex(({ id }) => id === selection.id) ?? -1 : -1
  const placed = selection?.kind === 'run' ? assembly?.runs.find(({ run }) => run.id === selection.runId) : undefined
  const sheet = useRef<HTMLDivElement>(null)
  const inHand = waysNow.stage !== 'rest' ? waysNow.stage : laying !== null ? `laying ${laying.anewId ?? ''}` : placed?.run.id ?? number
  // other work starts at its top; on a phone it is the panel that scrolls
  useEffect(() => {
    const panel = sheet.current?.closest<HTMLElement>('.panel')
    sheet.current?.scrollTo({ top: 0 })
    panel?.scrollTo({ top: inHand === -1 && !isAsked ? 0 : panel.querySelector<HTMLElement>('.place-head')?.offsetHeight ?? 0 })
  }, [inHand, isAsked])
  return (
    <div ref={sheet} className="thread" data-pull-ms={pullMs?.toFixed(3)} data-pulling={isPulling}>
      <p className="thread-said" role="status" aria-live="polite">{said}</p>
      {waysNow.stage === 'rest' && <WhichEnd />}
      {waysNow.stage !== 'rest' ? <WaysWork now={waysNow} />
        : laying !== null ? <LayingWork laying={laying} />
        : findings !== undefined && number >= 0 ? <FindingWork finding={findings[number]} number={number + 1} />
        : placed !== undefined ? <RunWork placed={placed} />
        : <StartHere />}
      {assembly !== null && <PlanFold />}
    </div>
  )
}
