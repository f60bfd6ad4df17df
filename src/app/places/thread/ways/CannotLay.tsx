import { sentenceOf, joistPlaceWords } from '#checks/wording.ts'
import { joistPlaceOf } from '#checks/joistPlace.ts'
import type { CannotRoute } from '#routing/router/routeJob.ts'
import { causeWords, largestWords, lookedIntoWords, namesOf, shortList, stopOf } from '#routing/router/whyWords.ts'
import { OF_THE_ENDS } from '#routing/router/whyNot.ts'
import { boundsOver } from '#scene/frame.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { turnTo } from '../../../desk.ts'
import { useBench } from '../../../editing/useBench.ts'
import { capital } from '../../../facts.ts'
import { cureOffer } from './cures.ts'
import { lookWith, type Asked } from './ways.ts'

/** more than so many names of what is in the way help nobody */
const MOST_NAMES = 3

/** Runs for which no way was found, and why as far as that is known. They lie as they did. */
export function CannotLay({ asked, cannot, isStopped, isAll }: { readonly asked: Asked, readonly cannot: readonly CannotRoute[], readonly isStopped: boolean, readonly isAll: boolean }) {
  const assembly = useBench((now) => now.assembly)
  if (assembly === null) return null
  return (
    <section className="ways-cannot" aria-label="Runs for which no way was found">
      {!isAll && <h3>{isStopped ? 'Not tried to the end' : 'No way was found for'}</h3>}
      {isStopped ? <p>{shortList(cannot.map(({ name }) => name), MOST_STOPPED)}: that says nothing about whether {cannot.length === 1 ? 'it' : 'they'} can be laid.</p> : (
        <ul className="thread-wrong">
          {cannot.map((why) => <li key={why.runId}><Cannot why={why} asked={asked} assembly={assembly} /></li>)}
        </ul>
      )}
    </section>
  )
}

const MOST_STOPPED = 6

function Cannot({ why, asked, assembly }: { readonly why: CannotRoute, readonly asked: Asked, readonly assembly: Assembly }) {
  const { runId, name, cause, findings, by, cure, curedWith } = why, at = stopOf(why)
  const offer = cure === null || asked.first !== null ? null : cureOffer(asked.job, runId, cure, curedWith)
  const points = assembly.job.runs.find(({ id }) => id === runId)?.waypoints ?? []
  const names = namesOf(assembly, by), largest = largestWords(why, asked.job), looked = asked.first === null ? lookedIntoWords(why) : ''
  const on = at === null ? null : joistPlaceOf(assembly.joists, { parts: [], mark: { x: at[0], y: at[1], z: at[2] } })
  return (
    <>
      <p><b>{name}</b></p>
      <p>{causeWords(why, asked.job)}</p>
      {cause === 'ends' && findings.length > 0 && <ul>{findings.filter(({ code }) => OF_THE_ENDS.has(code)).map((finding) => <li key={finding.id} className="ways-cannot-why">{capital(sentenceOf(finding))}</li>)}</ul>}
      {names.length > 0 && <p>In the way: {shortList(names, MOST_NAMES)}.</p>}
      {largest !== '' && <p>{largest}</p>}
      {cause !== 'ends' && on !== null && <p>On site: <b>{joistPlaceWords(on)}</b>.</p>}
      {offer !== null && <p><b>Tried and checked:</b> it goes in {offer.words}.</p>}
      {offer !== null && offer.caution !== '' && <p className="ways-caution">{offer.caution}</p>}
      {looked !== '' && <p className="quiet">{looked}</p>}
      <div className="thread-buttons">
        {offer?.command != null && (
          <button type="button" className="button button-strong" aria-label={`Show ${name} ${offer.words}`}
            onClick={() => { lookWith(offer.command!, offer.words, runId, curedWith) }}>Show it so</button>
        )}
        {at !== null && <button type="button" className="button" aria-label={`Look where ${name} is stopped`} onClick={() => { turnTo({ placeMm: at }) }}>Look where it stops</button>}
        {at === null && points.length > 0 && <button type="button" className="button" aria-label={`Look at ${name}`} onClick={() => { turnTo({ boundsMm: boundsOver(...points.map((point) => [...point.at, ...point.at])) }) }}>Look at it</button>}
      </div>
    </>
  )
}
