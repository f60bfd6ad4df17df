import { useEffect, useState } from 'react'
import { checkAgain, stopWork } from '../opening.ts'
import { STEP_WORDS } from '../words.ts'
import { useDesk } from '../useDesk.ts'
import type { WorkStep } from '../desk.ts'

/** What takes less is not worth a word, ms. */
const WORTH_SHOWING_MS = 200
/** how much of the whole is behind when each step starts: about what they take on a large job */
const STARTS_AT: Record<WorkStep, number> = { 'reading': 0.02, 'setting-out': 0.1, 'checking': 0.15 }
const ENDS_AT: Record<WorkStep, number> = { 'reading': STARTS_AT['setting-out'], 'setting-out': STARTS_AT.checking, 'checking': 1 }

/** What is being worked out, as a tape being pulled out, with a way to stop it. */
export function Working() {
  const work = useDesk((desk) => desk.work)
  const stopped = useDesk((desk) => desk.stopped)
  const isLong = useStillGoing(work !== null)
  if (work === null) {
    return stopped ? (
      <div className="working" role="status">
        <p>Checking was stopped, so nothing is marked yet.</p>
        <button type="button" className="button" onClick={() => { void checkAgain() }}>Check it now</button>
      </div>
    ) : null
  }
  if (!isLong) return null
  const done = STARTS_AT[work.step] + (ENDS_AT[work.step] - STARTS_AT[work.step]) * work.doneRatio
  return (
    <div className="working" role="status">
      <p>{STEP_WORDS[work.step]}… <span className="quiet">{Math.round(done * 100)} % done</span></p>
      <progress max={1} value={done} aria-label={STEP_WORDS[work.step]} />
      <button type="button" className="button" onClick={stopWork}>Stop</button>
    </div>
  )
}

function useStillGoing(going: boolean): boolean {
  const [long, setLong] = useState(false)
  useEffect(() => {
    if (!going) return
    const timer = setTimeout(() => { setLong(true) }, WORTH_SHOWING_MS)
    return () => {
      clearTimeout(timer)
      setLong(false)
    }
  }, [going])
  return going && long
}
