import { useRef } from 'react'
import { openFile } from '../opening.ts'
import { countText } from '../figures.ts'
import { useDesk } from '../useDesk.ts'

/** The name of the job, and the way to open another. Its lower edge is a tape measure. */
export function TopStrip() {
  const open = useDesk((desk) => desk.open)
  const input = useRef<HTMLInputElement>(null)
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
      <button type="button" className="button button-strong" onClick={() => input.current?.click()}>Open a job</button>
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
