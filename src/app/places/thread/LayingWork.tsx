import { useMemo, useState } from 'react'
import type { Assembly } from '#assembly/assembly.ts'
import { datumEndOf } from '#checks/joistPlace.ts'
import { mm } from '#checks/wording.ts'
import type { Gate } from '#routing/threadRun.ts'
import { inJoist } from '#routing/threadGates.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import type { Xyz } from '#scene/frame.ts'
import { capital } from '../../facts.ts'
import { countText, mmText } from '../../figures.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { Choice } from './Choice.tsx'
import { EndChoice } from './EndChoice.tsx'
import { LengthBox } from './LengthBox.tsx'
import { endPlacesOf, keyOfEnd } from './ends.ts'
import { aimAt, aimAtHole, aimAtOpening, endAt, finish, gatesNow, giveUp, layAs, passThrough, takeAim, takeBack } from './laying.ts'
import { useThreading, type Laying } from './threading.ts'
import { lookForLaying } from './ways/ways.ts'

/** A run being threaded: what it passes so far, what the next tap would do, and the same by lists. */
export function LayingWork({ laying }: { readonly laying: Laying }) {
  const assembly = useBench((now) => now.assembly)
  const aim = useThreading((now) => now.aim)
  if (assembly === null) return null
  const ends = endPlacesOf(assembly)
  const nameOf = (key: string): string => ends.find((place) => place.key === key)?.name ?? key
  // a duct seldom goes back to what it comes from
  const fromOn = ends.find(({ key }) => key === keyOfEnd(laying.from))?.on
  // what is wrong is said where the eye is, above the buttons, until something is pointed at
  const worst = aim === null && laying.laid?.ok === false ? faultsOf(laying.laid)[0] : undefined
  const isWhole = laying.to !== null && laying.laid?.placed != null
  return (
    <>
      {laying.anewId === undefined ? <h3>From {nameOf(keyOfEnd(laying.from))}</h3> : (
        <>
          <h3>{assembly.job.runs.find(({ id }) => id === laying.anewId)?.name} anew</h3>
          <p className="quiet">From {nameOf(keyOfEnd(laying.from))} to {nameOf(keyOfEnd(laying.to ?? laying.from))}: both stay. Its old course is drawn faint until you take the new one.</p>
        </>
      )}
      <div className="thread-now">
        <p className={worst === undefined ? 'thread-aim' : 'thread-aim is-wrong'} role="status">{aim !== null ? aim.words : worst === undefined ? 'Point at or tap an opening, or choose one: what it has to spare is shown before it is taken.' : asSentence(worst)}</p>
        <div className="thread-buttons">
          {aim !== null && <button type="button" className="button button-strong" onClick={() => { takeAim(aim) }}>{aim.kind === 'end' ? 'End here' : 'Through here'}</button>}
          <button type="button" className={isWhole && aim === null ? 'button button-strong' : 'button'} onClick={finish}>{isWhole && !laying.laid!.ok ? 'Lay it all the same' : laying.anewId === undefined ? 'Lay it' : 'Take the new course'}</button>
          {laying.to !== null && <button type="button" className="button" onClick={lookForLaying}>Find the way</button>}
          <button type="button" className="button" onClick={takeBack}>Take back</button>
          <button type="button" className="button" onClick={giveUp}>Give up</button>
        </div>
      </div>
      {laying.gates.length + (laying.to === null || laying.anewId !== undefined ? 0 : 1) === 0
        ? <p className="quiet">Tap the first opening or bay that the duct passes, or choose it below.</p>
        : (
            <ol className="thread-passed" aria-label="Passed so far">
              {laying.gates.map((gate, i) => <li key={i}>{gateName(assembly, gate)}</li>)}
              {laying.to !== null && <li><b>Ends at {nameOf(keyOfEnd(laying.to))}</b></li>}
            </ol>
          )}
      {laying.laid !== null && <Explained laid={laying.laid} said={worst} />}
      {isWhole && laying.laid!.ok && <p className="thread-good">It goes in: nothing to put right.</p>}
      <Choice label="Duct" value={laying.typeId} onChoose={layAs}>
        {assembly.job.ductTypes.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </Choice>
      {laying.anewId !== undefined && <OldGates runId={laying.anewId} assembly={assembly} />}
      <p className="quiet keys-note">Enter lays it, Backspace takes the last tap back, Escape gives up.</p>
      <section className="thread-next" aria-label="What comes next">
        <h3>Next, from lists</h3>
        <ByList assembly={assembly} laying={laying} />
        <Place onTake={(at) => { passThrough({ kind: 'point', at }) }} />
        {laying.anewId === undefined && <EndChoice label="Ends at" empty="Choose where it ends" places={ends.filter(({ takenBy, key }) => takenBy === null && key !== keyOfEnd(laying.from)).sort((a, b) => Number(a.on === fromOn) - Number(b.on === fromOn))}
          value={laying.to === null ? '' : keyOfEnd(laying.to)} onChoose={(end) => { endAt(end, true) }} />}
      </section>
    </>
  )
}

function asSentence(words: string): string {
  return capital(words).replace(/(?!^)\bThis run\b/, 'this run')
}

/** What of the explanation is no note. */
function faultsOf({ explanation, notes }: NonNullable<Laying['laid']>): readonly string[] {
  return explanation.slice(0, explanation.length - notes.length)
}

/**
 * Faults first; what was taken on the way is no fault, and quieter.
 * @param said the fault that stands above the buttons already
 */
function Explained({ laid, said }: { readonly laid: NonNullable<Laying['laid']>, readonly said: string | undefined }) {
  const { notes, ok } = laid
  const rows = (sentences: readonly string[]) => sentences.map((sentence) => <li key={sentence}>{asSentence(sentence)}</li>)
  const faults = faultsOf(laid).filter((sentence) => sentence !== said)
  return (
    <>
      {faults.length > 0 && <ul className={ok ? 'thread-notes' : 'thread-wrong'} aria-label={ok ? 'What was filled in' : said === undefined ? 'What is wrong with it' : 'What else is wrong with it'}>{rows(faults)}</ul>}
      {notes.length > 0 && (
        <details className="thread-more" open={faults.length === 0 && said === undefined}>
          <summary>{countText(notes.length, 'opening')} taken on the way</summary>
          <ul className="thread-notes quiet" aria-label="Taken on the way">{rows(notes)}</ul>
        </details>
      )}
    </>
  )
}

/** What its old course passes, each to be passed again. */
function OldGates({ runId, assembly }: { readonly runId: string, readonly assembly: Assembly }) {
  const context = bench.context()
  const old = context === null ? [] : gatesNow(context, runId)
  if (old.length === 0) return <p className="quiet">It passes no opening now.</p>
  return (
    <section aria-label="Passed until now">
      <h3>It passes until now</h3>
      <ol className="thread-old">
        {old.map(({ gate, spareMm }, i) => (
          <li key={i}>
            <span>{gateName(assembly, gate)}<span className="quiet">{spareMm === null ? '' : spareMm < 0 ? `, ${mm(-spareMm)} too little` : `, ${mm(spareMm)} to spare`}</span></span>
            <button type="button" className="button" aria-label={`Through ${gateName(assembly, gate)} again`} onClick={() => { passThrough(gate) }}>Again</button>
          </li>
        ))}
      </ol>
    </section>
  )
}

export function gateName({ joists }: Assembly, gate: Gate): string {
  switch (gate.kind) {
    case 'opening': return `${capital(joists.find(({ id }) => id === gate.joistId)?.name ?? gate.joistId)}, opening ${gate.opening}`
    case 'hole': return `Hole ${gate.holeId}`
    case 'point': return `Bay, at x ${Math.round(gate.at[0])} y ${Math.round(gate.at[1])} z ${Math.round(gate.at[2])} mm`
  }
}

const fit = new Float64Array(8)

/** Joist and opening from lists: the nearest joists first, each opening with the largest duct that it takes. */
function ByList({ assembly, laying }: { readonly assembly: Assembly, readonly laying: Laying }) {
  const aim = useThreading((now) => now.aim)
  const [joistId, setJoistId] = useState('')
  const at: Xyz = laying.laid?.waypoints.at(-1)?.at ?? endPlacesOf(assembly).find(({ key }) => key === keyOfEnd(laying.from))?.at ?? [0, 0, 0]
  const joists = useMemo(() => assembly.joists.filter(({ openings }) => openings.length > 0).map((joist) => {
    const [x, , n] = inJoist(joist, [at[0], at[1], at[2]])
    return { joist, awayMm: Math.hypot(n, Math.max(0, -x, x - joist.lengthMm)) }
  }).sort((a, b) => a.awayMm - b.awayMm).map(({ joist }) => joist), [assembly, at[0], at[1], at[2]])
  const shown = aim?.kind === 'opening' ? aim.gate.joistId : joistId
  const joist = joists.find(({ id }) => id === shown)
  const openings = useMemo(() => (joist?.openings ?? []).map(({ number, opening }) => {
    largestStraight(opening, fit)
    const xs = opening.verticesXy.filter((_, i) => i % 2 === 0)
    return { number, largestMm: fit[0], fromMm: Math.min(...xs), toMm: Math.max(...xs) }
  }), [joist])
  // where the duct has come to, along this joist
  const hereMm = joist === undefined ? 0 : inJoist(joist, [at[0], at[1], at[2]])[0]
  const middleOf = ({ fromMm, toMm }: (typeof openings)[number]): number => (fromMm + toMm) / 2
  const nearest = openings.reduce<(typeof openings)[number] | undefined>((best, one) => best === undefined || Math.abs(middleOf(one) - hereMm) < Math.abs(middleOf(best) - hereMm) ? one : best, undefined)
  return (
    <div className="thread-lists">
      <Choice label="Joist" value={joist?.id ?? ''} onChoose={(id) => {
        setJoistId(id)
        aimAt(null)
      }}>
        <option value="">Choose a joist</option>
        {joists.map(({ id, name }, i) => <option key={id} value={id}>{capital(name)}{i === 0 ? ', the nearest' : ''}</option>)}
      </Choice>
      <Choice label="Opening" value={aim?.kind === 'opening' ? aim.gate.opening : ''} disabled={joist === undefined}
        onChoose={(number) => { aimAt(joist === undefined || number === '' ? null : aimAtOpening(joist.id, Number(number))) }}>
        <option value="">{joist === undefined ? 'Joist first' : 'Choose an opening'}</option>
        {openings.map((one) => <option key={one.number} value={one.number}>{one.number}: takes {mm(one.largestMm)}, {mmText(Math.round(middleOf(one)))} along{one !== nearest ? '' : hereMm >= one.fromMm && hereMm <= one.toMm ? ', straight ahead' : ', the nearest'}</option>)}
      </Choice>
      {joist !== undefined && <p className="quiet">Along: to the middle of the opening, from the joist{'\u2019'}s datum end ({datumEndOf(joist)}).</p>}
      {assembly.holes.length > 0 && (
        <Choice label="Drilled hole" value={aim?.kind === 'hole' ? aim.gate.holeId : ''} onChoose={(id) => { aimAt(id === '' ? null : aimAtHole(id)) }}>
          <option value="">Choose a hole</option>
          {assembly.holes.map(({ id, radiusMm, joistIndex }) => <option key={id} value={id}>{id} in {assembly.joists[joistIndex].name}, {mm(2 * radiusMm)}</option>)}
        </Choice>
      )}
    </div>
  )
}

/** A place in a bay by its numbers. */
function Place({ onTake }: { readonly onTake: (at: [number, number, number]) => void }) {
  const [at, setAt] = useState<readonly (number | null)[]>([null, null, null])
  const set = (k: number) => (value: number): undefined => { setAt((was) => was.with(k, value)) }
  const [x, y, z] = at
  return (
    <details className="thread-more">
      <summary>A place in a bay, by its numbers</summary>
      <div className="thread-xyz">
        {['x', 'y', 'z'].map((name, k) => <LengthBox key={name} label={name} mm={at[k]} take={set(k)} />)}
      </div>
      <button type="button" className="button" disabled={x === null || y === null || z === null} onClick={() => { onTake([x!, y!, z!]) }}>Through this place</button>
    </details>
  )
}
