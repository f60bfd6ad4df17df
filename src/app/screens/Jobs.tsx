import { useEffect, useRef, useState } from 'react'
import { jobLine, saveWords } from '../keepingWords.ts'
import { keeper, newJob, openDemo, openFile, openPicked, save, saveAs } from '../opening.ts'
import { useBench } from '../editing/useBench.ts'
import { useKeeper } from '../useKeeper.ts'
import type { KeptJob } from '../storage/shelf.ts'
import '../jobs.css'
import { RUN_STATE_WORDS } from '../words.ts'

/** All jobs that are kept here, and the ways to get another one. */
export function Jobs({ close }: { readonly close: () => void }) {
  const jobs = useKeeper((now) => now.jobs)
  const currentId = useKeeper((now) => now.current?.id)
  const thrownAway = useKeeper((now) => now.thrownAway)
  const fileName = useKeeper((now) => now.file?.name)
  const present = useBench((now) => now.history?.present ?? null)
  const kept = useKeeper((now) => saveWords(now, present))
  const sheet = useRef<HTMLDialogElement>(null)
  const input = useRef<HTMLInputElement>(null)
  useEffect(() => {
    if (sheet.current?.open === false) sheet.current.showModal()
    void keeper.refresh()
  }, [])
  const then = (act: () => Promise<unknown>) => () => {
    sheet.current?.close()
    void act()
  }
  const openFromDisk = async (): Promise<void> => {
    if (!await openPicked()) input.current?.click()
    else sheet.current?.close()
  }
  return (
    <dialog ref={sheet} className="jobs" aria-labelledby="jobs-title" onClose={close}>
      <div className="jobs-head">
        <h2 id="jobs-title">Your jobs</h2>
        <button type="button" className="button" onClick={() => { sheet.current?.close() }}>Back to the void</button>
      </div>
      <div className="jobs-ways">
        <button type="button" className="button button-strong" onClick={then(() => newJob())}>Start an empty job</button>
        <button type="button" className="button" onClick={() => { void openFromDisk() }}>Open a file</button>
        <button type="button" className="button" onClick={then(openDemo)}>Look at the demo building</button>
        <button type="button" className="button" onClick={then(save)}>Save to {fileName ?? 'a file'}</button>
        <button type="button" className="button" onClick={then(saveAs)}>Save as another file</button>
        <input ref={input} type="file" accept=".json,application/json" hidden aria-hidden="true" tabIndex={-1} data-for="jobs"
          onChange={(event) => {
            const file = event.target.files?.[0]
            event.target.value = ''
            if (file !== undefined) then(() => openFile(file))()
          }} />
      </div>
      {thrownAway !== null && (
        <div className="jobs-thrown" role="status">
          <p>{thrownAway.name} was thrown away.</p>
          <button type="button" className="button button-strong" onClick={() => { void keeper.putBack() }}>Put it back</button>
        </div>
      )}
      {jobs.length === 0 ? (
        <div className="teach">
          <h3>No jobs kept yet</h3>
          <p>Every change that you make is kept in this browser at once, without a save button. Start an empty job, or open a file that somebody sent you.</p>
        </div>
      ) : (
        <ul className="jobs-list" aria-label="Jobs that are kept in this browser" data-jobs={jobs.length}>
          {jobs.map((job) => <JobRow key={job.id} job={job} isOpen={job.id === currentId} openIt={then(() => keeper.open(job.id))} />)}
        </ul>
      )}
      <p className="jobs-foot quiet">
        {kept.isKept === 'no' ? 'Nothing more can be kept in this browser now: save to a file.' : 'Jobs stay in this browser on this device. A file is yours to copy, send and back up.'}
      </p>
    </dialog>
  )
}

function JobRow({ job, isOpen, openIt }: { readonly job: KeptJob, readonly isOpen: boolean, readonly openIt: () => void }) {
  const [isNaming, setNaming] = useState(false)
  const { id, name, state } = job
  return (
    <li className="job" data-job-id={id} data-open={isOpen}>
      {isNaming ? (
        <form className="job-naming" onSubmit={(event) => {
          event.preventDefault()
          const wanted = new FormData(event.currentTarget).get('name')
          setNaming(false)
          if (typeof wanted === 'string' && wanted.trim() !== '' && wanted.trim() !== name) void keeper.rename(id, wanted.trim())
        }}>
          <label>
            <span>New name of {name}</span>
            <input name="name" defaultValue={name} maxLength={200} autoFocus onFocus={(event) => { event.currentTarget.select() }} onKeyDown={(event) => {
              if (event.key !== 'Escape') return
              event.preventDefault()
              event.stopPropagation()
              setNaming(false)
            }} />
          </label>
          <button type="submit" className="button button-strong">Use this name</button>
        </form>
      ) : (
        <>
          <button type="button" className="job-open" aria-current={isOpen} onClick={openIt}>
            <span className="job-name">{name}</span>
            <span className="job-line">{state !== null && <b>{RUN_STATE_WORDS[state]}</b>}{state !== null && ' · '}{jobLine(job, Date.now())}</span>
            {isOpen && <span className="job-line">Open now</span>}
          </button>
          <div className="job-buttons">
            <button type="button" className="button" aria-label={`Rename ${name}`} onClick={() => { setNaming(true) }}>Rename</button>
            <button type="button" className="button" aria-label={`Copy ${name}`} onClick={() => { void keeper.duplicate(id) }}>Copy</button>
            {!isOpen && <button type="button" className="button" aria-label={`Throw away ${name}`} onClick={() => { void keeper.remove(id) }}>Throw away</button>}
          </div>
        </>
      )}
    </li>
  )
}
