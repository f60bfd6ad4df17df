import { useEffect, useRef } from 'react'
import { dismissRefusal } from '../desk.ts'
import { countText } from '../figures.ts'
import { useDesk } from '../useDesk.ts'

/** A file that was turned away: every wrong place in it at once, and the comfort that nothing here has changed. */
export function Refusal() {
  const refusal = useDesk((desk) => desk.refusal)
  const open = useDesk((desk) => desk.open)
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => {
    if (refusal !== null && dialog.current?.open === false) dialog.current.showModal()
  }, [refusal])
  if (refusal === null) return null
  const { fileName, problems, unlisted } = refusal
  return (
    <dialog ref={dialog} className="refusal" aria-labelledby="refusal-title" onClose={dismissRefusal}>
      <h2 id="refusal-title">{fileName} was not opened</h2>
      <p>
        {problems.length + unlisted === 1 ? 'One thing in it has' : `${countText(problems.length + unlisted, 'thing')} in it have`} to be put right first.
        {open === null ? '' : ` ${open.job.name} is still open, as it was.`}
      </p>
      <ol className="problems" tabIndex={0} aria-label="What is wrong with the file">
        {problems.map(({ path, id, found, allowed }, n) => (
          <li key={n}>
            <p className="problem-path">{path === '' ? 'The file as a whole' : path}{id === undefined ? '' : ` (${id})`}</p>
            <p>Found {found}.</p>
            <p>It may be {allowed}.</p>
          </li>
        ))}
      </ol>
      {unlisted > 0 && <p>and {countText(unlisted, 'more', 'more')}</p>}
      <button type="button" className="button button-strong" autoFocus onClick={() => { dialog.current?.close() }}>Back to the job</button>
    </dialog>
  )
}
