import { Suspense, lazy, useRef, useState } from 'react'
import { loadJobs, loadWorkStrip } from '../laterParts.ts'
import { openFile, openPicked } from '../opening.ts'
import { countText } from '../figures.ts'
import { useDesk } from '../useDesk.ts'

const Jobs = lazy(async () => ({ default: (await loadJobs()).Jobs }))
const WorkStrip = lazy(async () => ({ default: (await loadWorkStrip()).WorkStrip }))

/** The name of the job, the steps made in it, and the ways to others. Its lower edge is a tape measure. */
export function TopStrip() {
  const open = useDesk((desk) => desk.open)
  const input = useRef<HTMLInputElement>(null)
  const [showsJobs, setShowsJobs] = useState(false)
  return (
    <header className="top">
      <div className="top-words">
        <p className="sign">Joistway</p>
        <h1>{open?.job.name ?? 'Will the ducts go in?'}</h1>
        {open !== null && (
          <p className="top-counts">
            {countText(open.assembly.joists.length, 'joist')}, {countText(open.assembly.runs.length, 'run')}
          </p>
        )}
      </div>
      <div className="top-work">
        {open !== null && <Suspense fallback={null}><WorkStrip /></Suspense>}
        <button type="button" className="button" onClick={() => { setShowsJobs(true) }}>Jobs</button>
        <button type="button" className="button button-strong top-open" onClick={() => { void openPicked().then((picks) => { if (!picks) input.current?.click() }) }}>Open a job</button>
      </div>
      {showsJobs && <Suspense fallback={null}><Jobs close={() => { setShowsJobs(false) }} /></Suspense>}
      <input ref={input} type="file" accept=".json,application/json" hidden aria-hidden="true" tabIndex={-1}
        onChange={(event) => {
          const file = event.target.files?.[0]
          event.target.value = ''
          if (file !== undefined) void openFile(file)
        }} />
      <div className="tape" aria-hidden="true" />
    </header>
  )
}
