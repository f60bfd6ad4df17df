import { useId, useState } from 'react'
import type { PlacedRun } from '#assembly/assembly.ts'
import type { Command } from '#commands/index.ts'
import { titleOf } from '#checks/wording.ts'
import type { RunEnd } from '#model/index.ts'
import { pickOut } from '../../desk.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { lengthText, mmText, countText } from '../../figures.ts'
import { SeverityMark } from '../../screens/SeverityMark.tsx'
import { amountWords } from '../../words.ts'
import { Choice } from './Choice.tsx'
import { EndChoice } from './EndChoice.tsx'
import { PointsWork } from './PointsWork.tsx'
import { showFinding } from './FindingWork.tsx'
import { endPlacesOf, keyOfEnd } from './ends.ts'
import { startAnew } from './laying.ts'
import { newRun } from './newRun.ts'
import { say } from './threading.ts'
import { beginAsking } from './ways/ways.ts'

/** One run in hand: what is wrong with it, its points, and what can be done with the whole of it. */
export function RunWork({ placed }: { readonly placed: PlacedRun }) {
  const findings = useBench((now) => now.verdict?.findings)
  const verdict = useBench((now) => now.verdict?.runs.find(({ runId }) => runId === placed.run.id))
  const { run } = placed
  const own = (findings ?? []).map((finding, i) => ({ finding, number: i + 1 })).filter(({ finding }) => finding.parts.some(({ id }) => id === run.id))
  return (
    <>
      <div className="thread-heading">
        <h3>{run.name}{run.locked === true && <span className="thread-lock"> Locked</span>}</h3>
        <button type="button" className="button" onClick={() => { pickOut(null) }}>Put down</button>
      </div>
      {run.locked === true && (
        <div className="thread-aim">
          <p>It is locked: its course and its ends stay as they are.</p>
          <button type="button" className="button" onClick={() => { perform({ do: 'lock-run', id: run.id, locked: false }, 'Unlocked: it can be changed now.') }}>Unlock {run.name}</button>
        </div>
      )}
      <div className="thread-buttons">
        <button type="button" className="button" aria-describedby={run.locked === true ? undefined : 'anew-note'} onClick={() => { startAnew(run.id) }}>Thread it anew</button>
        {run.locked !== true && <button type="button" className="button" onClick={() => { beginAsking('one', run.id) }}>Find its way…</button>}
      </div>
      {run.locked !== true && <p id="anew-note" className="quiet">Through other openings; its ends stay.</p>}
      <p className="quiet">{placed.type.name}, {lengthText(placed.centreline.lengthMm)}, {countText(placed.bends.length, 'bend')}.
        {verdict?.trialDiameterMm != null && verdict.touchesFirst !== null && <> At {mmText(verdict.trialDiameterMm)} across it would touch {verdict.touchesFirst.name}.</>}</p>
      {own.length === 0 ? <p className="thread-good">Nothing to change on it.</p> : (
        <ul className="thread-rows" aria-label={`To change on ${run.name}`}>
          {own.map(({ finding, number }) => (
            <li key={finding.id}>
              <button type="button" className="button thread-row thread-fault" onClick={() => { showFinding(finding) }}>
                <SeverityMark severity={finding.severity} number={number} size={28} /> <span>{titleOf(finding)}: {amountWords(finding)}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <PointsWork placed={placed} />
      <WholeRun key={run.id} placed={placed} />
    </>
  )
}

function perform(command: Command, said: string): boolean {
  const done = bench.perform(command)
  say(done.ok ? said : `${done.why}.`)
  return done.ok
}

function WholeRun({ placed }: { readonly placed: PlacedRun }) {
  const job = useBench((now) => now.history?.present)
  const assembly = useBench((now) => now.assembly)
  const id = useId()
  const [name, setName] = useState<string | null>(null)
  const [copyFrom, setCopyFrom] = useState<RunEnd | null>(null)
  const [copyTo, setCopyTo] = useState<RunEnd | null>(null)
  if (job === undefined || assembly === null) return null
  const { run } = placed
  const ends = endPlacesOf(assembly), free = ends.filter(({ takenBy }) => takenBy === null)
  const inGroup = run.group === undefined ? [] : job.runs.filter(({ group }) => group === run.group)
  const rename = (): void => {
    if (name !== null && name !== run.name) perform({ do: 'edit-run', id: run.id, set: { name } }, `Now called ${name}.`)
    setName(null)
  }
  const copy = (): void => {
    if (copyFrom === null || copyTo === null) return
    const { id: newId, name: newName } = newRun(job)
    if (!perform({ do: 'copy-run', of: run.id, id: newId, name: newName, from: copyFrom, to: copyTo }, `${newName} is a copy of ${run.name}.`)) return
    pickOut({ kind: 'run', runId: newId })
  }
  return (
    <section aria-label="The whole run" className="thread-whole">
      <h3>The whole run</h3>
      <div className="thread-buttons">
        <button type="button" className="button" aria-pressed={run.locked === true}
          onClick={() => { perform({ do: 'lock-run', id: run.id, locked: run.locked !== true }, run.locked === true ? 'Unlocked.' : 'Locked: its course stays as it is.') }}>{run.locked === true ? 'Unlock' : 'Lock'}</button>
        <button type="button" className="button" onClick={() => { perform({ do: 'reverse-run', id: run.id }, 'Reversed: it starts at the other end.') }}>Reverse</button>
        <button type="button" className="button" onClick={() => { if (perform({ do: 'remove-run', id: run.id }, `${run.name} removed.`)) pickOut(null) }}>Remove</button>
      </div>
      <div className="thread-choice">
        <label htmlFor={`${id}-name`}>Name</label>
        <input id={`${id}-name`} type="text" value={name ?? run.name} onChange={(event) => { setName(event.target.value) }} onBlur={rename}
          onKeyDown={(event) => { if (event.key === 'Enter') rename() }} />
      </div>
      <Choice label="Duct type" value={run.type} onChoose={(type) => { perform({ do: 'set-run-type', type, runs: [run.id] }, 'Duct type changed.') }}>
        {job.ductTypes.map((type) => <option key={type.id} value={type.id}>{type.name}</option>)}
      </Choice>
      {run.group !== undefined && inGroup.length > 1 && (
        <Choice label={`Duct type of all ${inGroup.length} in ${run.group}`} value={inGroup.every(({ type }) => type === run.type) ? run.type : ''}
          onChoose={(type) => { perform({ do: 'set-run-type', type, group: run.group! }, `Duct type of ${run.group} changed.`) }}>
          <option value="" disabled>They differ</option>
          {job.ductTypes.map((type) => <option key={type.id} value={type.id}>{type.name}</option>)}
        </Choice>
      )}
      <div className="thread-choice">
        <label htmlFor={`${id}-group`}>Group, changed together</label>
        <input id={`${id}-group`} key={run.group ?? ''} type="text" defaultValue={run.group ?? ''} placeholder="none" onBlur={(event) => {
          const group = event.target.value.trim()
          if (group !== (run.group ?? '')) perform({ do: 'edit-run', id: run.id, set: { group: group === '' ? null : group } }, group === '' ? 'In no group now.' : `In ${group} now.`)
        }} />
      </div>
      <EndChoice label="Starts at" empty="Choose where it starts" places={ends.filter(({ key, takenBy }) => takenBy === null || key === keyOfEnd(run.from))} value={keyOfEnd(run.from)} disabled={run.locked === true}
        onChoose={(end) => { perform({ do: 'end-run-at', id: run.id, side: 'from', end, keepAxis: true }, 'It starts elsewhere now.') }} />
      <EndChoice label="Ends at" empty="Choose where it ends" places={ends.filter(({ key, takenBy }) => takenBy === null || key === keyOfEnd(run.to))} value={keyOfEnd(run.to)} disabled={run.locked === true}
        onChoose={(end) => { perform({ do: 'end-run-at', id: run.id, side: 'to', end, keepAxis: true }, 'It ends elsewhere now.') }} />
      <details className="thread-more">
        <summary>Copy it to another spigot</summary>
        <EndChoice label="The copy starts at" empty="Choose a free spigot" places={free} value={copyFrom === null ? '' : keyOfEnd(copyFrom)} onChoose={setCopyFrom} />
        <EndChoice label="The copy ends at" empty="Choose a free spigot" places={free} value={copyTo === null ? '' : keyOfEnd(copyTo)} onChoose={setCopyTo} />
        <button type="button" className="button" disabled={copyFrom === null || copyTo === null} onClick={copy}>Make the copy</button>
      </details>
    </section>
  )
}
