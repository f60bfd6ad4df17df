import { useEffect, useRef, useState } from 'react'
import type { Assembly } from '#assembly/assembly.ts'
import type { View } from '#model/index.ts'
import { boundsOver, frameOf } from '#scene/frame.ts'
import type { BoundsMm } from '#scene/frame.ts'
import { KIND_WORDS, kindsIn } from '#scene/kinds.ts'
import type { Selection } from '#scene/selection.ts'
import { turnTo } from '../../desk.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { countText, mmText } from '../../figures.ts'
import { useDesk } from '../../useDesk.ts'
import { Field } from './Field.tsx'
import { CUT_WAYS, CUT_WORDS, flipCut, moveCut, reachOf, settingOf, startCut } from './cutting.ts'
import { goToView, keepView } from './savedViews.ts'
import { endChoices, keyOfEnd, useReading } from './taping.ts'
import { TypedLength } from './TypedLength.tsx'
import { useOpen } from './useChecks.ts'
import { showAllKinds, turnKind, useViewing, viewing } from './viewing.ts'
import './looking.css'

const NO_VIEWS = [] as const

/** Ways to look: nothing here changes what is built; only a view that is kept goes into the job. */
export function LookPanel() {
  useOpen('looking')
  const assembly = useBench((now) => now.assembly)
  if (assembly === null) return <section className="teach"><h3>Nothing to look at</h3><p>Open a job first.</p></section>
  return (
    <div className="looking-panel">
      <TapeTools assembly={assembly} />
      <Nearer assembly={assembly} />
      <CutTools assembly={assembly} />
      <Kinds assembly={assembly} />
      <Names />
      <Views />
    </div>
  )
}

function Nearer({ assembly }: { readonly assembly: Assembly }) {
  const selection = useDesk((now) => now.selection)
  const bounds = boundsOf(assembly, selection)
  return (
    <div className="looking-buttons">
      <button type="button" className="button" disabled={bounds === null} onClick={() => { if (bounds !== null) turnTo({ boundsMm: bounds }) }}>
        {bounds === null ? 'Touch a thing to go to it' : 'Go to what is picked out'}
      </button>
    </div>
  )
}

export function boundsOf({ solids, runs, joists }: Assembly, selection: Selection | null): BoundsMm | null {
  switch (selection?.kind) {
    case 'run': {
      const placed = runs.find(({ run }) => run.id === selection.runId)
      const r = placed?.outerRadiusMm ?? 0
      return placed === undefined ? null : boundsOver(...placed.run.waypoints.map(({ at: [x, y, z] }) => [x - r, y - r, z - r, x + r, y + r, z + r]))
    }
    case 'solid': return boundsOver(solids.bounds.subarray(6 * selection.solidIndex, 6 * selection.solidIndex + 6))
    case 'opening': {
      const { firstSolid, endSolid } = joists[selection.joistIndex]
      return boundsOver(solids.bounds.subarray(6 * firstSolid, 6 * endSolid))
    }
    default: return null
  }
}

function CutTools({ assembly }: { readonly assembly: Assembly }) {
  const cut = useViewing((now) => now.cut)
  const setting = cut === null ? null : settingOf(assembly, cut)
  return (
    <fieldset className="looking-group">
      <legend>Cut away</legend>
      <div className="looking-buttons">
        <button type="button" className="button" aria-pressed={cut === null} onClick={() => { viewing.setState({ cut: null }) }}>Whole</button>
        {CUT_WAYS.map((way) => (
          <button key={way} type="button" className="button" aria-pressed={setting?.way === way} onClick={() => { startCut(assembly, way) }}>{CUT_WORDS[way]}</button>
        ))}
      </div>
      {setting !== null && <CutPlace assembly={assembly} setting={setting} />}
    </fieldset>
  )
}

function CutPlace({ assembly, setting: { way, normal, positionMm } }: { readonly assembly: Assembly, readonly setting: ReturnType<typeof settingOf> }) {
  const [low, high] = reachOf(normal, frameOf(assembly).boundsMm)
  const label = way === 'level' ? 'Height above the datum' : 'Distance from the datum'
  return (
    <>
      <p className="quiet">Drag the double arrow in the view, slide, or type.</p>
      <div className="looking-field">
        <input aria-label={`${label}, slide`} type="range" min={low} max={high} step={10} value={Math.min(Math.max(positionMm, low), high)} aria-valuetext={mmText(positionMm)} onChange={(event) => { moveCut(assembly, Number(event.target.value)) }} />
      </div>
      <div className="looking-pair">
        <TypedLength label={label} valueMm={positionMm} negative onMm={(mm) => { if (mm !== null) moveCut(assembly, mm) }} />
        <button type="button" className="button" onClick={flipCut}>Other side</button>
      </div>
    </>
  )
}

const TURN_WORDS = { shown: 'drawn; press to make faint', faint: 'faint; press to hide', hidden: 'hidden; press to draw' }

function Kinds({ assembly }: { readonly assembly: Assembly }) {
  const hidden = useViewing((now) => now.hidden)
  const faint = useViewing((now) => now.faint)
  return (
    <fieldset className="looking-group">
      <legend>What is drawn</legend>
      <p className="quiet">Press once for faint, twice for hidden.</p>
      <div className="kinds">
        {kindsIn(assembly).map(({ kind, count }) => {
          const as = hidden.has(kind) ? 'hidden' : faint.has(kind) ? 'faint' : 'shown'
          return (
            <button key={kind} type="button" className={`kind kind-${as}`} data-kind={kind} onClick={() => { turnKind(kind) }} aria-label={`${KIND_WORDS[kind]}, ${count}: ${TURN_WORDS[as]}`}>
              <KindMark as={as} /> {KIND_WORDS[kind]} <span className="quiet">{count.toLocaleString('en-GB')}</span>
            </button>
          )
        })}
      </div>
      {hidden.size + faint.size > 0 && <button type="button" className="button" onClick={showAllKinds}>Draw everything</button>}
    </fieldset>
  )
}

/** A full, a half and an empty box. */
function KindMark({ as }: { readonly as: 'shown' | 'faint' | 'hidden' }) {
  return (
    <svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
      <rect x="2" y="2" width="16" height="16" fill={as === 'shown' ? 'currentColor' : 'none'} stroke="currentColor" strokeWidth="2" />
      {as === 'faint' && <path d="M2 18 18 2V18Z" fill="currentColor" />}
    </svg>
  )
}

function Names() {
  const runs = useViewing((now) => now.namesRuns)
  const joists = useViewing((now) => now.namesJoists)
  return (
    <fieldset className="looking-group">
      <legend>Names in the view</legend>
      <label className="looking-tick"><input type="checkbox" checked={runs} onChange={(event) => { viewing.setState({ namesRuns: event.target.checked }) }} /> Runs</label>
      <label className="looking-tick"><input type="checkbox" checked={joists} onChange={(event) => { viewing.setState({ namesJoists: event.target.checked }) }} /> Joists</label>
    </fieldset>
  )
}

/** how much is seen round both ends of the tape, mm each way */
const ROUND_MM = 250

function TapeTools({ assembly }: { readonly assembly: Assembly }) {
  const ends = useViewing((now) => now.tapeEnds)
  const isHeld = useViewing((now) => now.tapeHeld)
  const missed = useViewing((now) => now.tapeMissed)
  const reading = useReading()
  // what was chosen from the lists may lie anywhere: the tape is flown to
  const shown = useRef(ends)
  useEffect(() => {
    if (shown.current === ends) return
    shown.current = ends
    if (isHeld || reading?.ok !== true) return
    const { onFrom, onTo } = reading.tape
    turnTo({ boundsMm: boundsOver(...[onFrom, onTo].map(({ x, y, z }): BoundsMm => [x - ROUND_MM, y - ROUND_MM, z - ROUND_MM, x + ROUND_MM, y + ROUND_MM, z + ROUND_MM])) })
  }, [ends, isHeld, reading])
  const groups = endChoices(assembly)
  const nameOf = (at: 0 | 1): string => {
    const end = ends[at]
    if (end === null) return 'nothing yet'
    return end.kind === 'run' ? assembly.runs[end.runIndex]?.run.name ?? '' : end.kind === 'solid' ? assembly.parts.describe(end.solidIndex).name : `${assembly.job.zones.find(({ id }) => id === end.zoneId)?.name ?? ''}, ${end.face}`
  }
  return (
    <fieldset className="looking-group">
      <legend>Tape</legend>
      <p className="quiet">The shortest clear way between two things, surface to surface.</p>
      <div className="looking-buttons">
        <button type="button" className="button" aria-pressed={isHeld} onClick={() => { viewing.setState({ tapeHeld: !isHeld, tapeMissed: '', tapeEnds: isHeld ? ends : [null, null] }) }}>
          {isHeld ? ends[0] === null || ends[1] !== null ? 'Touch the first thing…' : 'Touch the second thing…' : 'Measure by touch'}
        </button>
        <button type="button" className="button" disabled={ends[0] === null && ends[1] === null} onClick={() => { viewing.setState({ tapeEnds: [null, null], tapeHeld: false, tapeMissed: '' }) }}>Roll it up</button>
      </div>
      {([0, 1] as const).map((at) => (
        <Field key={at} name={at === 0 ? 'From' : 'To'}>{(id) => (
          <select id={id} value={keyOfEnd(ends[at])} onChange={(event) => {
            const chosen = groups.flatMap(({ choices }) => choices).find(({ key }) => key === event.target.value)
            viewing.setState({ tapeEnds: at === 0 ? [chosen?.end ?? null, ends[1]] : [ends[0], chosen?.end ?? null] })
          }}>
            <option value="">nothing yet</option>
            {ends[at] !== null && !groups.some(({ choices }) => choices.some(({ key }) => key === keyOfEnd(ends[at]))) && <option value={keyOfEnd(ends[at])}>{nameOf(at)}</option>}
            {groups.map(({ group, choices }) => <optgroup key={group} label={group}>{choices.map(({ key, words }) => <option key={key} value={key}>{words}</option>)}</optgroup>)}
          </select>
        )}</Field>
      ))}
      <p className="reading" role="status">{missed !== '' ? missed : reading === null ? isHeld && ends[0] !== null ? `From ${nameOf(0)}. Now the second thing.` : '' : reading.ok ? reading.tape.words : reading.why}</p>
    </fieldset>
  )
}

function Views() {
  const views = useBench((now) => now.history?.present.views ?? NO_VIEWS)
  const [name, setName] = useState('')
  const [note, setNote] = useState('')
  const [why, setWhy] = useState<string | null>(null)
  return (
    <fieldset className="looking-group">
      <legend>Kept views</legend>
      {views.length === 0 ? <p className="quiet">None yet. Keep a view to come back to it, or to show somebody: it is saved with the job.</p> : (
        <ul className="views">{views.map((view) => <KeptView key={view.id} view={view} />)}</ul>
      )}
      <Field name="Name">{(id) => <input id={id} type="text" value={name} maxLength={100} onChange={(event) => { setName(event.target.value) }} />}</Field>
      <Field name="Note for the client">{(id) => <textarea id={id} rows={2} value={note} onChange={(event) => { setNote(event.target.value) }} />}</Field>
      {why !== null && <p className="looking-why" role="alert">{why}</p>}
      <div className="looking-buttons">
        <button type="button" className="button button-strong" onClick={() => {
          const refused = keepView(name, note)
          setWhy(refused)
          if (refused !== null) return
          setName('')
          setNote('')
        }}>Keep this view</button>
      </div>
    </fieldset>
  )
}

function KeptView({ view }: { readonly view: View }) {
  const [note, setNote] = useState<string | null>(null)
  const parts = [...view.hidden.length > 0 ? [`${countText(view.hidden.length, 'kind')} hidden`] : [], ...(view.faint?.length ?? 0) > 0 ? [`${countText(view.faint!.length, 'kind')} faint`] : [], ...view.cut === undefined ? [] : ['cut away']]
  return (
    <li className="view">
      <button type="button" className="row" data-view={view.id} onClick={() => { goToView(view) }}>
        <span className="row-words">
          <span className="row-title">{view.name}</span>
          {note === null && view.note !== '' && <span className="row-more">{view.note}</span>}
          {parts.length > 0 && <span className="row-more">{parts.join(', ')}</span>}
        </span>
      </button>
      {note !== null && (
        <Field name={`Note of ${view.name}`}>{(id) => <textarea id={id} rows={2} value={note} onChange={(event) => { setNote(event.target.value) }} />}</Field>
      )}
      <div className="looking-buttons">
        {note === null
          ? <button type="button" className="button" onClick={() => { setNote(view.note) }} aria-label={`Change the note of ${view.name}`}>Note</button>
          : <button type="button" className="button button-strong" onClick={() => { if (bench.perform({ do: 'edit-view', id: view.id, set: { note } }).ok) setNote(null) }}>Save the note</button>}
        <button type="button" className="button" onClick={() => { bench.perform({ do: 'remove-view', id: view.id }) }} aria-label={`Remove ${view.name}`}>Remove</button>
      </div>
    </li>
  )
}
