import { PLACE_RULES } from '#air/placement.ts'
import { SEVERITY_WORDS, sentenceOf, titleOf } from '#checks/wording.ts'
import { useBench } from '../../editing/useBench.ts'
import { goToFinding } from '../../desk.ts'
import { tried } from '../../plan/picked/tried.ts'
import { SeverityMark } from '../../screens/SeverityMark.tsx'
import { FigureField } from './FigureField.tsx'
import { editAir } from './RatesTab.tsx'
import { From } from './said.tsx'
import type { AirShown } from './useAir.ts'

const CODES: ReadonlySet<string> = new Set(['terminal-near-wall', 'terminal-near-door', 'outdoor-too-near', 'outdoor-nearer-than-advised'])
const NONE = [] as const

/** Where terminals, intake and exhaust are: what the void's checks say, the job's own limits, and what only an eye on site can judge. */
export function PlacesTab({ assembly: { job }, report: { settings } }: AirShown) {
  const findings = useBench((now) => now.verdict?.findings ?? NONE)
  const own = findings.filter(({ code }) => CODES.has(code))
  const { terminals, outdoor } = job.settings
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-settings' }>['set']) => tried({ do: 'edit-settings', set })
  return (
    <>
      {own.length > 0 && (
        <ul className="rows air-remarks" aria-label="Found by the checks of the void">
          {own.map((finding) => (
            <li key={finding.id}>
              <button type="button" className="row" onClick={() => { goToFinding(finding.id) }}>
                <SeverityMark severity={finding.severity} />
                <span className="row-words"><span className="row-title">{titleOf(finding)}</span><span className="row-more"><b>{SEVERITY_WORDS[finding.severity]}.</b> {sentenceOf(finding)}</span></span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <section className="air-part">
        <h3>Limits of this job</h3>
        <p className="air-note">No figure is published for walls, corners and doors: these are yours. 0 switches one off.</p>
        <div className="fields">
          <FigureField label="Side of the meter’s hood" unit="mm" value={settings.hoodMm} least={0} onTake={(hoodMm) => editAir({ hoodMm })} />
          <FigureField label="Supply from both walls of a corner" unit="mm" value={settings.cornerMm} least={0} onTake={(cornerMm) => editAir({ cornerMm })} />
          <FigureField label="Terminal from a wall" unit="mm" value={terminals.wallMm} least={0} onTake={(wallMm) => edit({ terminals: { wallMm } })} />
          <FigureField label="Terminal from a door" unit="mm" value={terminals.doorMm} least={0} onTake={(doorMm) => edit({ terminals: { doorMm } })} />
          <FigureField label="Intake to exhaust, least" unit="mm" value={outdoor.leastMm} least={0} onTake={(leastMm) => edit({ outdoor: { leastMm } })} />
          <FigureField label="Intake to exhaust, advised" unit="mm" value={outdoor.advisedMm} least={0} onTake={(advisedMm) => edit({ outdoor: { advisedMm } })} />
        </div>
      </section>
      <section className="air-part">
        <h3>To be judged on site</h3>
        <ul className="air-lines">{PLACE_RULES.map(({ text, source }) => <li key={text}>{text} <From source={source} /></li>)}</ul>
      </section>
    </>
  )
}
