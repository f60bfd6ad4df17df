import { sentenceOf } from '#checks/wording.ts'
import type { CannotRoute } from '#routing/router/routeJob.ts'
import { turnTo } from '../../../desk.ts'
import { capital } from '../../../facts.ts'

const CAUSES: Record<CannotRoute['cause'], string> = {
  'ends': 'Its ends are wrong, whatever its course.',
  'rigid': 'Rigid duct is not laid by itself yet: thread it by hand.',
  'no-way': 'No way was found for it beside the others. That does not prove that there is none.',
}

/** Runs for which no way was found, and why as far as that is known. They lie as they did. */
export function CannotLay({ cannot, isOutOfWork }: { readonly cannot: readonly CannotRoute[], readonly isOutOfWork: boolean }) {
  return (
    <section className="ways-cannot" aria-label="Runs for which no way was found">
      <h3>{isOutOfWork ? 'Not tried to the end' : 'No way was found for'}</h3>
      <ul className="thread-wrong">
        {cannot.map(({ runId, name, cause, findings }) => (
          <li key={runId}>
            <h4>{name}</h4>
            <p>{isOutOfWork && cause === 'no-way' ? 'The most work that may be spent was spent first. That says nothing about whether it can be laid.' : CAUSES[cause]}</p>
            {cause === 'ends' && findings.map((finding) => (
              <p key={finding.id}>{capital(sentenceOf(finding))} <button type="button" className="button" onClick={() => { turnTo({ placeMm: [finding.mark.x, finding.mark.y, finding.mark.z] }) }}>Look there</button></p>
            ))}
          </li>
        ))}
      </ul>
    </section>
  )
}
