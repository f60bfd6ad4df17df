import { BEND_SOURCES, INTO_DUCT, OUT_OF_DUCT, UNKNOWN_TERMINAL, USUAL_ROUGHNESS } from '#air/losses.ts'
import type { RunPressure } from '#air/pressure.ts'
import { sourceWords } from '#air/sources.ts'
import { lps, pa } from '#air/wording.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { BEND_METHODS, FAN_SPEEDS, type BendMethod, type FanSpeed } from '#model/index.ts'
import { countText } from '../../figures.ts'
import { ChoiceField } from '../../plan/PlainFields.tsx'
import { tried } from '../../plan/picked/tried.ts'
import { FanWork } from './FanWork.tsx'
import { airView, useAirView } from './airView.ts'
import { FigureField } from './FigureField.tsx'
import { LossesField } from './LossesField.tsx'
import { editAir } from './RatesTab.tsx'
import { Fold, From } from './said.tsx'
import { TintChoice } from './TintChoice.tsx'
import { goTo } from './useAir.ts'
import type { AirShown } from './useAir.ts'

export const SPEED_NAMES: Readonly<Record<FanSpeed, string>> = { trickle: 'Trickle', normal: 'Normal', boost: 'Boost' }

/** What every run costs, which way is the costliest, what the fans must give, and what all of it was worked out with. */
export function PressureTab({ assembly, report }: AirShown) {
  const speed = useAirView((view) => view.speed)
  const { settings, air } = report
  const { pressures } = report[speed]
  const runs = pressures.flatMap(({ runs: own, system }) => own.map((run) => ({ run, stream: system.stream }))).sort((a, b) => b.run.totalPa - a.run.totalPa)
  const mostPa = Math.max(...runs.map(({ run }) => run.totalPa), 1e-9)
  return (
    <>
      <FanWork report={report} />
      <section className="air-part">
        <h3>The costliest way, and run by run</h3>
        <SpeedChoice />
        <TintChoice tint="pressure" />
        <ul className="air-lines">
          {pressures.map(({ index, system, neededPa }, i) => index !== null && (
            <li key={i}><b>{system.stream}: {index.name}</b>, {pa(neededPa)}, of which its ducts take {pa(index.ductsPa)} and it takes {pa(index.openPa)} fully open{index.isEntered ? '' : ' (assumed)'}. By {index.way.map(({ placed }) => placed.run.name).join(', ')}.</li>
          ))}
        </ul>
        {runs.length === 0 && <p>No run carries air from a unit or a manifold yet: nothing to work out.</p>}
      </section>
      <div className="air-part-list" data-runs={speed}>
        {runs.map(({ run, stream }) => <RunFold key={run.run.placed.run.id} run={run} stream={stream} assembly={assembly} share={run.totalPa / mostPa} />)}
      </div>
      <section className="air-part">
        <h3>What it is worked out with</h3>
        <div className="fields">
          <FigureField label="Air in the ducts" unit="°C" value={settings.airC} onTake={(airC) => editAir({ airC })} />
          <FigureField label="Height above the sea" unit="m" value={settings.altitudeM} onTake={(altitudeM) => editAir({ altitudeM })} />
        </div>
        <p className="air-note">So the air weighs {air.density.toFixed(3)} kg/m³ (dry air, ISO 2533; moisture is left out).</p>
        <ChoiceField label="Losses of bends from" value={settings.bends} choices={BEND_METHODS.map((method) => ({ value: method, words: BEND_SOURCES[method].document }))} onChoose={(method) => { editAir({ bends: method as BendMethod }) }} />
        <ul className="air-lines">
          <li>Bends: <From source={BEND_SOURCES[settings.bends]} /></li>
          <li>Friction: Darcy and Weisbach, with Colebrook and White’s factor; below Re 2,300 laminar</li>
          <li>Into a duct from a box or a room {INTO_DUCT.zeta} velocity pressures (<From source={INTO_DUCT.source} />), out of it {OUT_OF_DUCT.zeta} (<From source={OUT_OF_DUCT.source} />)</li>
          <li>A terminal of which nothing is entered: {UNKNOWN_TERMINAL.zeta} velocity pressures of its duct (<From source={UNKNOWN_TERMINAL.source} />); enter its maker’s figures under “Balance”</li>
        </ul>
        <h4>Roughness of the bore</h4>
        <div className="fields">
          {assembly.job.ductTypes.map((type) => (
            <FigureField key={type.id} label={type.name} unit="mm" value={type.roughnessMm} least={0} assumed={`${USUAL_ROUGHNESS[type.kind].mm}, assumed`} onTake={(roughnessMm) => tried({ do: 'edit-duct-type', id: type.id, set: { roughnessMm } })} />
          ))}
        </div>
        <ul className="air-lines">
          {(['rigid', 'semi-rigid'] as const).filter((kind) => assembly.job.ductTypes.some((type) => type.kind === kind && type.roughnessMm === undefined)).map((kind) => (
            <li key={kind}>{kind === 'rigid' ? 'Rigid' : 'Semi-rigid'} duct with nothing entered is taken to be {USUAL_ROUGHNESS[kind].mm} mm rough: {sourceWords(USUAL_ROUGHNESS[kind].source)}</li>
          ))}
        </ul>
      </section>
      <section className="air-part air-part-list">
        <h3>Parts with a loss of their own</h3>
        <p className="air-note">Filters, exchangers and silencers: from their makers, as a drop at a flow. At other flows it goes with the power entered: 2 for most things, nearer 1 for a filter.</p>
        {assembly.job.equipment.filter(({ kind }) => kind !== 'plenum').map((equipment) => (
          <Fold key={equipment.id} title={equipment.name} more={equipment.airflow?.losses === undefined ? equipment.kind === 'outdoor-terminal' ? 'assumed' : 'nothing entered' : equipment.airflow.losses.map(({ name }) => name).join(', ')}>
            <LossesField title={`Losses of ${equipment.name}`} losses={equipment.airflow?.losses} onLosses={(losses) => tried({ do: 'edit-equipment-air', id: equipment.id, set: { losses } })} />
          </Fold>
        ))}
      </section>
    </>
  )
}

export function SpeedChoice() {
  const speed = useAirView((view) => view.speed)
  return (
    <div className="air-choice" role="group" aria-label="Speed">
      {FAN_SPEEDS.map((one) => <button key={one} type="button" className="button" aria-pressed={one === speed} onClick={() => { airView.setState({ speed: one }) }}>{SPEED_NAMES[one]}</button>)}
    </div>
  )
}

function RunFold({ run, stream, assembly, share }: { readonly run: RunPressure, readonly stream: string, readonly assembly: Assembly, readonly share: number }) {
  const { run: { placed, way }, velocityMps, reynolds, frictionPaPerM, frictionPa, bendsPa, endsPa, inLinePa, totalPa, bends } = run
  const lengthM = way.legsM + way.arcsM
  return (
    <Fold title={placed.run.name} more={<>
      {stream}, {lps(run.lps)}, {velocityMps.toFixed(2)} m/s, <b>{pa(totalPa)}</b>
      <span className="air-bar" aria-hidden="true"><span style={{ width: `${share * 100}%` }} /></span>
    </>}>
      <table className="air-table">
        <tbody>
          <tr><th scope="row">Friction, {lengthM.toFixed(2)} m at {frictionPaPerM.toFixed(3)} Pa/m</th><td>{pa(frictionPa)}</td></tr>
          <tr><th scope="row">{countText(bends.length, 'bend')}</th><td>{pa(bendsPa)}</td></tr>
          <tr><th scope="row">Its two ends, {way.endsZeta} velocity pressures</th><td>{pa(endsPa)}</td></tr>
          <tr><th scope="row">Parts in it</th><td>{pa(inLinePa)}</td></tr>
          <tr><th scope="row">In all</th><td><b>{pa(totalPa)}</b></td></tr>
        </tbody>
      </table>
      <p className="air-note">Bore {way.boreMm} mm, {way.roughnessMm} mm rough{placed.type.roughnessMm === undefined ? ' (assumed)' : ''}; Re {Math.round(reynolds).toLocaleString('en-GB')}.</p>
      <LossesField title={`Parts in ${placed.run.name}`} losses={placed.run.inLine} onLosses={(parts) => tried({ do: 'set-run-parts', id: placed.run.id, parts })} />
      <button type="button" className="button" onClick={() => { goTo(assembly, placed.run.id) }}>Show it in the void</button>
    </Fold>
  )
}
