import { useEffect } from 'react'
import type { TrialRow } from '#routing/trialList.ts'
import { pickOut, turnTo } from '../../desk.ts'
import { countText, mmText } from '../../figures.ts'
import { useBench } from '../../editing/useBench.ts'
import { useListKeys } from '../../screens/useListKeys.ts'
import { Field } from '../looking/Field.tsx'
import { TypedLength } from '../looking/TypedLength.tsx'
import { useOpen } from '../looking/useChecks.ts'
import { useViewing, viewing } from '../looking/viewing.ts'
import type { TrialSet } from '../looking/viewing.ts'
import { failsAt, useTrying } from './trying.ts'
import '../looking/looking.css'

const LEAST_MM = -60, MOST_MM = 120
const NO_RUNS = [] as const

/** Grows and shrinks ducts to see what touches first. The job stays as it is. */
export function TrialPanel() {
  useOpen('trial')
  const runs = useBench((now) => now.assembly?.runs ?? NO_RUNS)
  const set = useViewing((now) => now.trialSet)
  const growMm = useViewing((now) => now.trialGrowMm)
  const { trying, stop, again } = useTrying()
  // a run that is gone cannot be tried
  const isGone = set.kind === 'run' && !runs.some(({ run }) => run.id === set.runId)
  useEffect(() => { if (isGone) viewing.setState({ trialSet: { kind: 'all' } }) }, [isGone])
  if (runs.length === 0) return <section className="teach"><h3>No ducts to try</h3><p>Once there are runs, they can be made larger or smaller here to see what they touch first.</p></section>
  const groups = [...new Set(runs.flatMap(({ run }) => run.group ?? []))].sort()
  const one = set.kind === 'run' ? runs.find(({ run }) => run.id === set.runId) : undefined
  return (
    <div className="looking-panel">
      <p className="looking-note"><b>Nothing in the job changes.</b> Ducts are only drawn larger or smaller, to see what they would touch.</p>
      <Field name="Which ducts">{(id) => (
        <select id={id} value={keyOf(set)} onChange={(event) => { viewing.setState({ trialSet: setOf(event.target.value) }) }}>
          <option value="all">All runs</option>
          {groups.length > 0 && <optgroup label="A group">{groups.map((group) => <option key={group} value={`group:${group}`}>{group}</option>)}</optgroup>}
          <optgroup label="One run">{runs.map(({ run }) => <option key={run.id} value={`run:${run.id}`}>{run.name}</option>)}</optgroup>
        </select>
      )}</Field>
      <Field name={<>Larger or smaller: <b>{grownText(growMm)}</b></>}>{(id) => (
        <input id={id} type="range" min={LEAST_MM} max={MOST_MM} step={1} value={growMm} aria-valuetext={grownText(growMm)}
          onChange={(event) => { viewing.setState({ trialGrowMm: Number(event.target.value) }) }} />
      )}</Field>
      <div className="looking-pair trial-size">
        {one === undefined
          ? <TypedLength label="Larger by (below 0 is smaller)" valueMm={growMm} negative onMm={(mm) => { viewing.setState({ trialGrowMm: mm ?? 0 }) }} />
          : <TypedLength label="Size to try, outside" valueMm={2 * one.outerRadiusMm + growMm} onMm={(mm) => { viewing.setState({ trialGrowMm: (mm ?? 0) - 2 * one.outerRadiusMm }) }} />}
        <button type="button" className="button" disabled={growMm === 0} onClick={() => { viewing.setState({ trialGrowMm: 0 }) }}>As drawn</button>
      </div>
      {trying !== null && <Progress trying={trying} stop={stop} again={again} />}
      <Limits growMm={growMm} />
    </div>
  )
}

function Progress({ trying, stop, again }: { readonly trying: NonNullable<ReturnType<typeof useTrying>['trying']>, readonly stop: () => void, readonly again: () => void }) {
  if (typeof trying === 'string') {
    return (
      <div className="looking-work"><p role="status">{trying === 'stopped' ? 'Stopped.' : 'That could not be worked out.'}</p><button type="button" className="button" onClick={again}>Try again</button></div>
    )
  }
  return (
    <div className="looking-work">
      <p role="status">Growing every duct until it touches…</p>
      <progress value={trying.doneRatio} max={1} aria-label="Growing every duct" />
      <button type="button" className="button" onClick={stop}>Stop</button>
    </div>
  )
}

function Limits({ growMm }: { readonly growMm: number }) {
  const list = useViewing((now) => now.trialList)
  const keys = useListKeys(list?.rows.length ?? 0)
  if (list === null) return null
  const { rows, largestCommonGrowthMm } = list
  const failing = rows.filter((row) => failsAt(row, growMm)).length
  return (
    <>
      <div role="status"><h3 className="looking-title">
        {growMm === 0 && failing === 0 ? summary(rows, largestCommonGrowthMm) : `${grownText(growMm)}: ${failing === 0 ? 'nothing touches' : `${countText(failing, 'run')} of ${rows.length} ${failing === 1 ? 'touches' : 'touch'} something`}`}
      </h3></div>
      <ul className="rows" ref={keys.list} onKeyDown={keys.onKeyDown} aria-label="Sizes at which each run fails, first to fail first">
        {rows.map((row, n) => (
          <li key={row.runId}>
            <button type="button" className="row" tabIndex={keys.tabIndexOf(n)} onFocus={keys.onFocusOf(n)} data-trial={row.runId} onClick={() => { goToLimit(row) }}>
              <span className={failsAt(row, growMm) ? 'trial-mark trial-mark-bad' : 'trial-mark'} aria-hidden="true">{failsAt(row, growMm) ? '\u2717' : '\u2713'}</span>
              <span className="row-words">
                <span className="row-title">{row.name}</span>
                <span className="row-more"><b>{failsAt(row, growMm) ? 'Touches' : 'Goes in'}</b> at {mmText(Math.max(0, row.diameterMm + growMm))}; drawn {mmText(row.diameterMm)}</span>
                <span className="row-more">{limitText(row)}</span>
                {clearText(row) !== '' && <span className="row-more">{clearText(row)}</span>}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </>
  )
}

function summary(rows: readonly TrialRow[], mostMm: number | null): string {
  if (mostMm === null) return 'Nothing is near enough to touch'
  return `${rows.length === 1 ? 'It' : 'All of them'} can grow by ${mmText(Math.floor(mostMm * 10) / 10)}, then ${rows[0].name} touches ${rows[0].together.touchesFirst?.name ?? 'something'}`
}

/** Floored, so that the size told is one that still goes in. */
function limitText({ together, alone, diameterMm }: TrialRow): string {
  if (together.diameterMm === null || together.touchesFirst === null) return 'Nothing near enough to touch'
  const size = mmText(Math.floor(Math.max(0, together.diameterMm) * 10) / 10)
  const first = together.diameterMm < diameterMm ? `Only ${size} clears ${together.touchesFirst.name}` : `Fails above ${size}: touches ${together.touchesFirst.name}`
  const byItself = alone.diameterMm !== null && alone.diameterMm - together.diameterMm > 0.05 && alone.touchesFirst !== null
    ? `. Grown by itself: ${mmText(Math.floor(alone.diameterMm * 10) / 10)}, ${alone.touchesFirst.name}` : ''
  return first + byItself
}

/** The second figure, where the job asks for more than no contact. */
function clearText({ together, keepsClear }: TrialRow): string {
  if (keepsClear.diameterMm === null || keepsClear.touchesFirst === null || (together.diameterMm ?? Infinity) - keepsClear.diameterMm < 0.05) return ''
  return keepsClear.diameterMm <= 0 ? `No size keeps what is asked clear of ${keepsClear.touchesFirst.name}` : `Keeps what is asked clear up to ${mmText(Math.floor(keepsClear.diameterMm * 10) / 10)}; then ${keepsClear.touchesFirst.name} is too near`
}

function goToLimit({ runId, together: { at } }: TrialRow): void {
  if (at === null) {
    pickOut({ kind: 'run', runId })
    return
  }
  const place = [at.x, at.y, at.z] as const
  pickOut({ kind: 'run', runId, at: place })
  turnTo({ placeMm: place })
}

function grownText(mm: number): string {
  return mm === 0 ? 'as drawn' : mm > 0 ? `${mmText(mm)} larger` : `${mmText(-mm)} smaller`
}

function keyOf(set: TrialSet): string {
  return set.kind === 'all' ? 'all' : set.kind === 'run' ? `run:${set.runId}` : `group:${set.group}`
}

function setOf(key: string): TrialSet {
  const [kind, ...rest] = key.split(':'), name = rest.join(':')
  return kind === 'run' ? { kind, runId: name } : kind === 'group' ? { kind, group: name } : { kind: 'all' }
}
