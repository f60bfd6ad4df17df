import { mm, titleOf } from '#checks/wording.ts'
import { mmText } from '../../figures.ts'
import { amountWords } from '../../words.ts'
import type { PackerTrial, RunOnPackers } from './packerTrial.ts'
import { tried } from './tried.ts'

/** What the packers would do to each run on the terminal, and the step that sets them. */
export function TriedPackers({ trial: { packer, command, runs }, leave }: { readonly trial: PackerTrial, readonly leave: () => void }) {
  return (
    <>
      <ul className="tried-runs" role="status" aria-label="With the packers under it">
        {runs.map(run => (
          <li key={run.name} className={run.faults.length === 0 ? 'is-good' : undefined}>
            <p><b>{run.name}</b>{roomWords(run)}</p>
            <p>{run.faults.length === 0 ? '\u2713 Nothing to put right on it.' : run.faults.map(finding => `\u2717 ${titleOf(finding)}: ${amountWords(finding)}`).slice(0, MOST_TOLD).join('. ')}{run.faults.length > MOST_TOLD ? `, and ${run.faults.length - MOST_TOLD} more` : ''}</p>
            {run.faults.length > run.faultsNow.length && <p>That is worse than now, with {run.faultsNow.length === 0 ? 'nothing' : run.faultsNow.length} to put right: thread it anew afterwards.</p>}
          </li>
        ))}
      </ul>
      <div className="pad-buttons">
        <button type="button" className="button button-strong" onClick={() => { if (tried(command) === undefined) leave() }}>Set packers of {mmText(packer.heightMm)}</button>
        <button type="button" className="button" onClick={leave}>Leave it as it is</button>
      </div>
    </>
  )
}

const MOST_TOLD = 3

function roomWords({ gate, spareMm, spareNowMm }: RunOnPackers): string {
  if (gate === null) return ' passes no opening.'
  const now = spareNowMm === null ? '' : ` (now ${spareWords(spareNowMm)})`
  return spareMm === null ? ` no longer passes ${gate}${now}.` : `: ${spareWords(spareMm)} in ${gate}${now}.`
}

function spareWords(spareMm: number): string {
  return spareMm < 0 ? `${mm(-spareMm)} too little` : `${mm(spareMm)} to spare all round`
}
