import { sentenceOf } from '#checks/wording.ts'
import type { FindingCode } from '#checks/finding.ts'
import type { CannotCause, CannotRoute } from '#routing/router/routeJob.ts'
import { boundsOver } from '#scene/frame.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { turnTo } from '../../../desk.ts'
import { useBench } from '../../../editing/useBench.ts'
import { capital } from '../../../facts.ts'
import { mmText } from '../../../figures.ts'
import { cureOffer } from './cures.ts'
import { lookWith, type Asked } from './ways.ts'

const CAUSES: Readonly<Record<CannotCause, string>> = {
  'ends': 'Its ends are wrong, whatever its course.',
  'spigot-blocked': 'It cannot even leave its spigot: what stands before it bars the way, whatever course it takes.',
  'shut-in': 'There is no way at all for a duct of its size between its ends.',
  'no-fitting': 'No course of the fittings that its type lists was found. That does not prove that there is none.',
  'no-way': 'No way was found for it beside the others. That does not prove that there is none.',
  'not-tried': 'It was not tried to the end. That says nothing about whether it can be laid.',
}
const OF_THE_ENDS: ReadonlySet<FindingCode> = new Set<FindingCode>(['spigot-size', 'spigot-used-twice', 'outdoor-too-near'])
/** more than so many names of what is in the way help nobody */
const MOST_NAMES = 3

/** Runs for which no way was found, and why as far as that is known. They lie as they did. */
export function CannotLay({ asked, cannot, isOutOfWork, isAll }: { readonly asked: Asked, readonly cannot: readonly CannotRoute[], readonly isOutOfWork: boolean, readonly isAll: boolean }) {
  const assembly = useBench((now) => now.assembly)
  if (assembly === null) return null
  return (
    <section className="ways-cannot" aria-label="Runs for which no way was found">
      {!isAll && <h3>{isOutOfWork ? 'Not tried to the end' : 'No way was found for'}</h3>}
      <ul className="thread-wrong">
        {cannot.map((why) => <li key={why.runId}><Cannot why={why} asked={asked} assembly={assembly} /></li>)}
      </ul>
    </section>
  )
}

function Cannot({ why, asked, assembly }: { readonly why: CannotRoute, readonly asked: Asked, readonly assembly: Assembly }) {
  const { runId, name, cause, findings, by, at, largestMm, cure } = why
  const offer = cure === null || asked.first !== null ? null : cureOffer(asked.job, runId, cure)
  const points = assembly.job.runs.find(({ id }) => id === runId)?.waypoints ?? []
  const names = by.flatMap((id) => nameOf(assembly, id) ?? [])
  return (
    <>
      <p><b>{name}</b></p>
      <p>{CAUSES[cause]}</p>
      {cause === 'ends' && findings.length > 0 && <ul>{findings.filter(({ code }) => OF_THE_ENDS.has(code)).map((finding) => <li key={finding.id} className="ways-cannot-why">{capital(sentenceOf(finding))}</li>)}</ul>}
      {names.length > 0 && <p>In the way: {names.slice(0, MOST_NAMES).join(', ')}{names.length > MOST_NAMES && ` and ${names.length - MOST_NAMES} more`}.</p>}
      {largestMm !== null && <p>{largestMm > 0 ? <>A duct of up to <b>{mmText(Math.floor(largestMm * 10) / 10)}</b> would pass there.</> : 'No duct at all would pass there.'}</p>}
      {offer !== null && <p><b>Tried and checked:</b> it goes in {offer.words}.</p>}
      <div className="thread-buttons">
        {offer?.command != null && (
          <button type="button" className="button button-strong" aria-label={`Show ${name} ${offer.words}`}
            onClick={() => { lookWith(offer.command!, offer.words, runId) }}>Show it so</button>
        )}
        {at !== null && <button type="button" className="button" aria-label={`Look where ${name} is stopped`} onClick={() => { turnTo({ placeMm: at }) }}>Look where it stops</button>}
        {at === null && points.length > 0 && <button type="button" className="button" aria-label={`Look at ${name}`} onClick={() => { turnTo({ boundsMm: boundsOver(...points.map((point) => [...point.at, ...point.at])) }) }}>Look at it</button>}
      </div>
    </>
  )
}

function nameOf({ job, joists }: Assembly, id: string): string | undefined {
  const lists: readonly (readonly { readonly id: string, readonly name: string }[])[] = [joists, job.runs, job.equipment, job.solids, job.sleeves, job.zones]
  for (const list of lists) {
    const one = list.find((each) => each.id === id)
    if (one !== undefined) return one.name
  }
  return undefined
}
