import { sentenceOf } from '#checks/wording.ts'
import type { FindingCode } from '#checks/finding.ts'
import type { CannotRoute } from '#routing/router/routeJob.ts'
import { boundsOver } from '#scene/frame.ts'
import { turnTo } from '../../../desk.ts'
import { useBench } from '../../../editing/useBench.ts'
import { capital } from '../../../facts.ts'

const CAUSES: Record<CannotRoute['cause'], string> = {
  'ends': 'Its ends are wrong, whatever its course:',
  'rigid': 'Rigid duct is not laid by itself yet: thread it by hand.',
  'no-way': 'No way was found for it beside the others. That does not prove that there is none.',
}
const OF_THE_ENDS: ReadonlySet<FindingCode> = new Set<FindingCode>(['spigot-size', 'spigot-used-twice'])

/** Runs for which no way was found, and why as far as that is known. They lie as they did. */
export function CannotLay({ cannot, isOutOfWork, isAll }: { readonly cannot: readonly CannotRoute[], readonly isOutOfWork: boolean, readonly isAll: boolean }) {
  const runs = useBench((now) => now.assembly?.job.runs)
  return (
    <section className="ways-cannot" aria-label="Runs for which no way was found">
      {!isAll && <h3>{isOutOfWork ? 'Not tried to the end' : 'No way was found for'}</h3>}
      <ul className="thread-wrong">
        {cannot.map(({ runId, name, cause, findings }) => {
          const points = runs?.find(({ id }) => id === runId)?.waypoints ?? []
          return (
            <li key={runId}>
              <p><b>{name}</b></p>
              <p>{isOutOfWork && cause === 'no-way' ? 'The most work that may be spent was spent first. That says nothing about whether it can be laid.' : CAUSES[cause]}</p>
              {cause === 'ends' && <ul>{findings.filter(({ code }) => OF_THE_ENDS.has(code)).map((finding) => <li key={finding.id} className="ways-cannot-why">{capital(sentenceOf(finding))}</li>)}</ul>}
              {points.length > 0 && <button type="button" className="button" aria-label={`Look at ${name}`} onClick={() => { turnTo({ boundsMm: boundsOver(...points.map(({ at }) => [...at, ...at])) }) }}>Look at it</button>}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
