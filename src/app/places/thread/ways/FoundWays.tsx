import { useEffect, useMemo } from 'react'
import { turnTo } from '../../../desk.ts'
import { useBench } from '../../../editing/useBench.ts'
import { countText, lengthText, mmText } from '../../../figures.ts'
import { boundsOver } from '#scene/frame.ts'
import type { CourseChange } from '#routing/compareCourses.ts'
import type { RunEnd } from '#model/index.ts'
import { viewing } from '../../looking/viewing.ts'
import { endPlacesOf, keyOfEnd } from '../ends.ts'
import { CannotLay } from './CannotLay.tsx'
import { HeldHeading } from './HeldHeading.tsx'
import type { Found } from './routerMessages.ts'
import { acceptWays, giveWaysUp, showChange, type Asked } from './ways.ts'

/** What would change, run by run, before it does: new courses are drawn in full, old ones faint. */
export function FoundWays({ asked, found, shownId }: { readonly asked: Asked, readonly found: Found, readonly shownId: string | null }) {
  const { changes, laid, cannot, ended } = found
  const faint = useMemo(() => new Set<string>(laid.map(({ id }) => id)), [laid])
  useEffect(() => {
    const was = viewing.getState().faintRuns
    viewing.setState({ faintRuns: faint })
    return () => { viewing.setState({ faintRuns: was }) }
  }, [faint])
  const isOfOne = changes.changes.length === 1
  return (
    <section className="ways" aria-label="What would change">
      <HeldHeading>{title(asked, found)}</HeldHeading>
      <div className="thread-now">
        <p className="thread-aim">{laid.length === 0 ? nothingWords(asked, found) : `Nothing is changed yet. New courses are drawn in full, old ones faint.${asked.first === null || asked.first.words === '' ? '' : ` ${asked.what} goes in ${asked.first.words}: that change comes with it.`}`}</p>
        <div className="thread-buttons">
          {laid.length > 0 && <button type="button" className="button button-strong" onClick={acceptWays}>{isOfOne ? 'Accept it' : `Accept all ${laid.length}`}</button>}
          <button type="button" className="button" onClick={giveWaysUp}>{asked.back !== null ? 'Back' : laid.length > 0 ? 'Give up' : 'Back'}</button>
        </div>
      </div>
      {laid.length > 0 && !isOfOne && <Together found={found} />}
      {changes.changes.length > 0 && (
        <ul className="ways-rows" aria-label="Changes, run by run">
          {changes.changes.map((change) => <li key={change.runId}><ChangeRow change={change} asked={asked} found={found} isShown={change.runId === shownId} /></li>)}
        </ul>
      )}
      {cannot.length > 0 && <CannotLay asked={asked} cannot={cannot} isStopped={ended === 'out-of-budget' || ended === 'cancelled'} isAll={laid.length === 0} />}
    </section>
  )
}

function title({ what, isNew }: Asked, { laid, cannot }: Found): string {
  if (laid.length === 0) return cannot.length === 0 ? 'Nothing would change' : `No way was found for ${cannot.length === 1 ? cannot[0].name : countText(cannot.length, 'run')}`
  if (isNew) return `A way for ${what}`
  return laid.length === 1 ? `${laid[0].name} would lie otherwise` : `${countText(laid.length, 'run')} would lie otherwise`
}

function nothingWords({ isNew }: Asked, { cannot, ended }: Found): string {
  if (isNew) return 'Nothing was added.'
  if (cannot.length === 0) return ended === 'nothing-to-route' ? 'No run needs another way.' : 'No better ways were found than those that the runs have.'
  return 'Every run lies as it did.'
}

function Together({ found: { changes: { before, after } } }: { readonly found: Found }) {
  return (
    <dl className="ways-together" aria-label="All of them together">
      <div><dt>Duct in all</dt><dd><FromTo was={before && lengthText(before.lengthMm)} now={lengthText(after.lengthMm)} /></dd></div>
      <div><dt>Bends</dt><dd><FromTo was={before && String(before.bendCount)} now={String(after.bendCount)} /></dd></div>
      <div><dt>Passes over or under another run</dt><dd><FromTo was={before && String(before.crossingCount)} now={String(after.crossingCount)} /></dd></div>
      <div><dt>Least to spare before one touches</dt><dd><FromTo was={before && spareText(before.spareMm)} now={spareText(after.spareMm)} /></dd></div>
    </dl>
  )
}

/** '3,420 mm → 3,100 mm', or once where it stays. */
function FromTo({ was, now }: { readonly was: string | null, readonly now: string }) {
  if (was === null || was === now) return <b>{now}</b>
  return <>{was} <span aria-hidden="true">→</span><span className="unseen"> before, now </span> <b>{now}</b></>
}

function ChangeRow({ change, asked, found, isShown }: { readonly change: CourseChange, readonly asked: Asked, readonly found: Found, readonly isShown: boolean }) {
  const { runId, name, before, after, newFrom, newTo } = change
  const assembly = useBench((now) => now.assembly)
  const nameOf = (end: RunEnd): string => (assembly === null ? undefined : endPlacesOf(assembly).find(({ key }) => key === keyOfEnd(end))?.name) ?? keyOfEnd(end)
  const was = asked.job.runs.find(({ id }) => id === runId)
  const show = (): void => {
    showChange(isShown ? null : runId)
    const points = found.laid.find(({ id }) => id === runId)?.waypoints ?? []
    if (!isShown && points.length > 0) turnTo({ boundsMm: boundsOver(...points.map(({ at }) => [...at, ...at])) })
  }
  return (
    <button type="button" className="button ways-row" aria-pressed={isShown} onClick={show}>
      <span className="ways-row-name">{name}</span>
      <span>Length <FromTo was={before && lengthText(before.lengthMm)} now={lengthText(after.lengthMm)} /></span>
      <span>Bends <FromTo was={before && String(before.bendCount)} now={String(after.bendCount)} />, passes over or under <FromTo was={before && String(before.crossingCount)} now={String(after.crossingCount)} /></span>
      <span>To spare <FromTo was={before && spareText(before.spareMm)} now={spareText(after.spareMm)} />{after.touches !== null && <> to {after.touches.name}</>}</span>
      {newFrom !== null && was !== undefined && <span className="ways-swap">Starts at <FromTo was={nameOf(was.from)} now={nameOf(newFrom)} /></span>}
      {newTo !== null && was !== undefined && <span className="ways-swap">Ends at <FromTo was={nameOf(was.to)} now={nameOf(newTo)} /></span>}
    </button>
  )
}

function spareText(spareMm: number | null): string {
  return spareMm === null ? 'all there is' : spareMm < 0 ? `none, ${mmText(-spareMm)} too little` : mmText(spareMm)
}
