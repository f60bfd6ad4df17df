import { fanPa } from '#air/fans.ts'
import type { AirReport, FanDuty } from '#air/index.ts'
import { lps, pa, percent } from '#air/wording.ts'
import { FAN_SPEEDS, type Equipment, type FanPoint } from '#model/index.ts'
import { tried } from '../../plan/picked/tried.ts'
import { RowsField } from './RowsField.tsx'
import { SPEED_NAMES } from './PressureTab.tsx'
import { Fold } from './said.tsx'

type Duty = FanDuty & { readonly speed: (typeof FAN_SPEEDS)[number] }

/** What each fan must give at each speed, and where that lies on its curve. */
export function FanWork({ report }: { readonly report: AirReport }) {
  const duties: readonly Duty[] = FAN_SPEEDS.flatMap((speed) => report[speed].fans.map((duty) => ({ ...duty, speed })))
  const units = [...new Map(duties.map(({ unit }) => [unit.id, unit])).values()]
  if (units.length === 0) return <section className="air-part"><h3>What the fans must give</h3><p>No unit is joined to the runs: set one down, and run ducts from its spigots to the manifolds.</p></section>
  return <>{units.map((unit) => <UnitWork key={unit.id} unit={unit} duties={duties.filter((duty) => duty.unit.id === unit.id)} />)}</>
}

function UnitWork({ unit, duties }: { readonly unit: Equipment, readonly duties: readonly Duty[] }) {
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-equipment-air' }>['set']) => tried({ do: 'edit-equipment-air', id: unit.id, set })
  const { fan, extractFan } = unit.airflow ?? {}
  return (
    <section className="air-part">
      <h3>What the fans of {unit.name} must give</h3>
      {(['supply', 'extract'] as const).map((which) => {
        const own = duties.filter((duty) => duty.fan === which)
        const curve = which === 'extract' ? extractFan ?? fan : fan
        return (
          <div key={which} className="air-fan" data-fan={which}>
            <table className="air-table">
              <caption>{which === 'supply' ? 'Supply fan' : 'Extract fan'}</caption>
              <thead><tr><th scope="col">Speed</th><th scope="col">Flow</th><th scope="col">Pressure</th><th scope="col">Of full speed</th></tr></thead>
              <tbody>{own.map(({ speed, lps: flow, neededPa, answer }) => (
                <tr key={speed}><th scope="row">{SPEED_NAMES[speed]}</th><td>{lps(flow)}</td><td>{pa(neededPa)}</td><td>{answer === null ? 'no curve' : answer.ok ? percent(answer.speedRatio) : <b>{'\u2717'} too weak</b>}</td></tr>
              ))}</tbody>
            </table>
            {own.filter(({ speed }) => speed === 'boost').map(({ roomsPa, outdoorsPa, unitPa }) => (
              <p key="parts" className="air-note">In boost: {pa(roomsPa)} on the rooms’ side, {pa(outdoorsPa)} on the outdoors’ side, {pa(unitPa)} entered for the unit itself.</p>
            ))}
            {curve !== undefined && <Curve curve={curve} duties={own} />}
          </div>
        )
      })}
      <p className="air-note">At trickle a fan commonly turns at 40 to 60 % of full speed: common practice, no published source.</p>
      <Fold title="Fan curves" more={fan === undefined ? 'none entered: the share of full speed cannot be told' : 'as entered from the maker'}>
        <p className="air-note">What the fan has left for ducts at full speed, for air of 1.2 kg/m³, from no flow to most.</p>
        <CurveField title={`Supply fan of ${unit.name}${extractFan === undefined ? ', and extract too' : ''}`} curve={fan} onCurve={(now) => edit({ fan: now })} />
        <CurveField title={`Extract fan of ${unit.name}, where it is another`} curve={extractFan} onCurve={(now) => edit({ extractFan: now })} />
      </Fold>
    </section>
  )
}

function CurveField({ title, curve, onCurve }: { readonly title: string, readonly curve: readonly FanPoint[] | undefined, readonly onCurve: (curve: FanPoint[] | null) => string | undefined }) {
  return (
    <RowsField title={title} one="point" least={2} rows={curve ?? []} onRows={(rows) => onCurve(rows as FanPoint[] | null)}
      columns={[{ key: 'flowLps', label: 'flow', unit: 'l/s', least: 0 }, { key: 'pressurePa', label: 'pressure', unit: 'Pa', least: 0 }]} />
  )
}

const WIDE = 380, HIGH = 190, LEFT = 46, FOOT = 34, TOP = 12, RIGHT = 14

/** The curve at full speed with what is asked at each speed; the curve at the speed found runs through it, dashed. */
function Curve({ curve, duties }: { readonly curve: readonly FanPoint[], readonly duties: readonly Duty[] }) {
  const mostLps = Math.max(curve[curve.length - 1].flowLps, ...duties.map(({ lps: flow }) => flow)) * 1.05 || 1
  const mostPa = Math.max(...curve.map(({ pressurePa }) => pressurePa), ...duties.map(({ neededPa }) => neededPa)) * 1.1 || 1
  const x = (flow: number): number => LEFT + flow / mostLps * (WIDE - LEFT - RIGHT)
  const y = (pressure: number): number => HIGH - FOOT - Math.max(0, pressure) / mostPa * (HIGH - FOOT - TOP)
  const lineAt = (ratio: number): string => Array.from({ length: 41 }, (_, i) => {
    const flow = curve[curve.length - 1].flowLps * ratio * i / 40
    return `${i === 0 ? 'M' : 'L'}${x(flow).toFixed(1)} ${y(ratio * ratio * fanPa(curve, flow / ratio)).toFixed(1)}`
  }).join('')
  const seen = duties.filter(({ speed, lps: flow }) => speed !== 'trickle' || duties.every((other) => other.speed !== 'normal' || other.lps !== flow))
  return (
    <svg className="air-curve" viewBox={`0 0 ${WIDE} ${HIGH}`} role="img" aria-label={`Fan curve; ${duties.map(({ speed, lps: flow, neededPa }) => `${SPEED_NAMES[speed].toLowerCase()} at ${lps(flow)} and ${pa(neededPa)}`).join(', ')}`}>
      <path d={`M${LEFT} ${TOP}V${HIGH - FOOT}H${WIDE - RIGHT}`} className="air-axis" />
      <text x={LEFT - 6} y={TOP + 10} textAnchor="end">{Math.round(mostPa)}</text>
      <text x={LEFT - 6} y={HIGH - FOOT} textAnchor="end">0 Pa</text>
      <text x={WIDE - RIGHT} y={HIGH - FOOT + 20} textAnchor="end">{Math.round(mostLps)} l/s</text>
      <path d={lineAt(1)} className="air-full" />
      {seen.map(({ speed, answer }) => answer?.ok === true && answer.speedRatio > 0 && <path key={speed} d={lineAt(answer.speedRatio)} className="air-part-speed" />)}
      {seen.map(({ speed, lps: flow, neededPa }) => (
        <g key={speed}>
          <circle cx={x(flow)} cy={y(neededPa)} r="5" className="air-point" />
          <text x={x(flow) + (speed === 'boost' ? 9 : -9)} y={y(neededPa) - 8} textAnchor={speed === 'boost' ? 'start' : 'end'}>{SPEED_NAMES[speed]}</text>
        </g>
      ))}
    </svg>
  )
}
