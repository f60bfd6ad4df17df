import { NO_LEVEL, QUIET_SOURCES, limitOf } from '#air/noise.ts'
import { LEVEL_NOTE, lps } from '#air/wording.ts'
import { useAirView } from './airView.ts'
import { FigureField } from './FigureField.tsx'
import { SpeedChoice } from './PressureTab.tsx'
import { editAir } from './RatesTab.tsx'
import { From } from './said.tsx'
import { TintChoice } from './TintChoice.tsx'
import { goTo } from './useAir.ts'
import type { AirShown } from './useAir.ts'

/** How fast the air goes against the job's limits, and what is said of noise. */
export function SpeedTab({ report, assembly }: AirShown) {
  const speed = useAirView((view) => view.speed)
  const { settings } = report
  const rooms = new Map<string, (typeof assembly.job.rooms)[number]>(assembly.job.rooms.map((room) => [room.id, room]))
  const rows = report[speed].pressures.flatMap(({ runs, system }) => runs.map((run) => ({ run, system, limit: limitOf(run.run, system, settings, rooms) })))
    .sort((a, b) => b.run.velocityMps / b.limit.mps - a.run.velocityMps / a.limit.mps)
  return (
    <>
      <section className="air-part">
        <h3>Limits of this job</h3>
        <div className="fields">
          <FigureField label="In a duct to a bedroom" unit="m/s" value={settings.bedroomMps} least={0.1} onTake={(bedroomMps) => editAir({ bedroomMps })} />
          <FigureField label="In any other duct" unit="m/s" value={settings.elsewhereMps} least={0.1} onTake={(elsewhereMps) => editAir({ elsewhereMps })} />
        </div>
        <p className="air-note">Compare <From source={QUIET_SOURCES.bedroom} />; <From source={QUIET_SOURCES.elsewhere} />. Boost is what is held to them.</p>
      </section>
      <section className="air-part">
        <h3>Noise</h3>
        <p><b>Not estimated.</b> {NO_LEVEL.replace('The level in decibels is not estimated: that', 'A level in decibels')}</p>
        <p className="air-note">{LEVEL_NOTE.replace(`${NO_LEVEL} `, '')}</p>
      </section>
      <section className="air-part">
        <h3>How fast the air goes</h3>
        <SpeedChoice />
        <TintChoice tint="speed" />
      </section>
      <ul className="rows">
        {rows.map(({ run, system, limit }) => {
          const isOver = run.velocityMps > limit.mps
          return (
            <li key={run.run.placed.run.id} data-speed-run={run.run.placed.run.id}>
              <button type="button" className="row" onClick={() => { goTo(assembly, run.run.placed.run.id) }}>
                <span className="row-words air-wide">
                  <span className="row-title">{run.run.placed.run.name}</span>
                  <span className="row-more">{isOver ? <b>{'\u2717'} Over the limit: </b> : '\u2713 '}{run.velocityMps.toFixed(2)} m/s of {limit.mps} m/s {limit.isToBedroom ? 'to a bedroom' : 'elsewhere'}; {lps(run.lps)} of {system.stream} in {run.run.way.boreMm} mm</span>
                  <span className="air-bar" aria-hidden="true"><span className={isOver ? 'air-bar-over' : ''} style={{ width: `${Math.min(1, run.velocityMps / limit.mps) * 100}%` }} /></span>
                </span>
              </button>
            </li>
          )
        })}
      </ul>
    </>
  )
}
