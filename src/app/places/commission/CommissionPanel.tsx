import { METER_ACCURACY } from '#air/commissioning.ts'
import { LEVEL_NOTE, TOLERANCE_NOTE, percent } from '#air/wording.ts'
import { formatFlow } from '#commands/typedFlow.ts'
import { FAN_SPEEDS, type FanSpeed } from '#model/index.ts'
import { countText } from '../../figures.ts'
import { TextField } from '../../plan/PlainFields.tsx'
import { tried } from '../../plan/picked/tried.ts'
import { FigureField } from '../air/FigureField.tsx'
import { Fold } from '../air/said.tsx'
import { DayField } from './DayField.tsx'
import { FiltersWork } from './FiltersWork.tsx'
import { SoundWork } from './SoundWork.tsx'
import { SIGNERS } from '#air/handoverSheet.ts'
import { SPEED_WORDS, type Round } from './rounds.ts'
import { inHand, useRound } from './useRound.ts'
import '../../plan/picked/picked.css'
import '../air/air.css'
import './commission.css'

/** Beside the readings: totals, passes, fans, sound, filters, the meter, who signs, and the sheet. */
export function CommissionPanel() {
  const now = useRound()
  if (now === null) return <section className="teach"><h3>No job open</h3><p>Open a job, and its terminals can be measured here.</p></section>
  return (
    <div className="cm-panel">
      <Totals now={now} />
      <section className="air-part">
        <button type="button" className="button button-strong" onClick={() => { inHand.setState({ isSheetOpen: true }) }}>See and print the sheet</button>
      </section>
      <section className="air-part air-part-list">
        <h3>The record</h3>
        <Passes now={now} />
        <Fans now={now} />
        <Fold title="Sound" more={(now.record?.sound.length ?? 0) === 0 ? 'nothing noted' : countText(now.record!.sound.length, 'reading')}>
          <SoundWork now={now} />
          <p className="air-note">{LEVEL_NOTE}</p>
        </Fold>
        <Fold title="Filters" more={(now.record?.filters.length ?? 0) === 0 ? 'none noted' : now.record!.filters.map(({ name, cleanBy }) => `${name}${cleanBy === undefined ? '' : `, clean by ${cleanBy}`}`).join('; ')}>
          <FiltersWork now={now} />
        </Fold>
        <Meter now={now} />
        <Signers now={now} />
        <Fold title="Note" more={now.record?.note === undefined || now.record.note === '' ? 'nothing written' : now.record.note.slice(0, 80)}>
          <div className="field"><label htmlFor="cm-note">For whoever reads the sheet</label>
            <textarea id="cm-note" key={now.record?.note ?? ''} defaultValue={now.record?.note ?? ''} rows={4} onBlur={(event) => {
              const text = event.target.value.trim()
              if (text !== (now.record?.note ?? '')) tried({ do: 'edit-record', set: { note: text === '' ? null : text } })
            }} /></div>
        </Fold>
      </section>
    </div>
  )
}

function Totals({ now: { round, shows, record } }: { readonly now: Round }) {
  if (round === null) return <section className="air-part"><p>Readings are typed as the meter shows them, in l/s or m³/h. Nothing is read yet.</p></section>
  return (
    <section className="air-part" aria-label="Totals" data-totals="">
      <h3>Pass {round.number} in all</h3>
      <table className="air-table">
        <thead><tr><th scope="col">Air</th><th scope="col">Target</th><th scope="col">Read</th><th scope="col">Off</th></tr></thead>
        <tbody>
          {round.streams.map(({ stream, targetLps, readLps, unread, totalRatio }) => (
            <tr key={stream}><th scope="row">{stream}</th><td>{formatFlow(targetLps, shows)}</td><td>{formatFlow(readLps, shows)}</td><td>{unread > 0 ? `${unread} not read` : totalRatio === null ? '\u2013' : offText(totalRatio - 1)}</td></tr>
          ))}
        </tbody>
      </table>
      <p>{round.imbalanceRatio === null ? 'Supply is held against extract once every terminal is read.'
        : Math.abs(round.imbalanceRatio) < 0.0005 ? 'Supply and extract are equal.'
          : <><b>Supply is {percent(Math.abs(round.imbalanceRatio))} {round.imbalanceRatio > 0 ? 'above' : 'below'} extract.</b> {Math.abs(round.imbalanceRatio) <= METER_ACCURACY ? 'That is within what the meter itself may be wrong by, 5 % in Approved Document F 4.10.' : 'More than the meter itself may be wrong by, 5 % in Approved Document F 4.10.'}</>}</p>
      {record?.tolerancePercent === undefined ? <p className="air-entered">No tolerance is named, so nothing is called in or out: name yours under “Meter and tolerance”.</p>
        : <p className="air-note">{round.rows.filter(({ isWithin }) => isWithin === true).length} of {round.rows.filter(({ targetLps }) => targetLps > 0).length} terminals within your {record.tolerancePercent} %.</p>}
    </section>
  )
}

function offText(ratio: number): string {
  return `${ratio > 0 ? '+' : ratio < 0 ? '\u2212' : ''}${percent(Math.abs(ratio))}`
}

function Passes({ now: { rounds } }: { readonly now: Round }) {
  return (
    <Fold title="Passes" more={rounds.length === 0 ? 'none yet' : rounds.map(({ number, round: { speed, ended } }) => `${number}: ${SPEED_WORDS[speed]}${ended === true ? ', ended' : ''}`).join('; ')}>
      {rounds.map(({ number, round, rows }) => (
        <section key={number} className="air-thing" aria-label={`Pass ${number}`}>
          <h4>Pass {number}, {SPEED_WORDS[round.speed]}: {countText(rows.filter(({ readLps }) => readLps !== null).length, 'reading')}</h4>
          <div className="fields">
            <TextField label="Who held the meter" value={round.by ?? ''} onType={(by) => { tried({ do: 'edit-pass', pass: number - 1, set: { by: by.trim() === '' ? null : by.trim() } }) }} />
            <DayField label="Day" value={round.day} onDay={(day) => tried({ do: 'edit-pass', pass: number - 1, set: { day } })} />
          </div>
          <div className="cm-steps">
            <button type="button" className="button" onClick={() => { tried({ do: 'edit-pass', pass: number - 1, set: { ended: round.ended === true ? null : true } }) }}>{round.ended === true ? 'Open it again' : 'End it'}</button>
            <button type="button" className="button" onClick={() => { tried({ do: 'remove-pass', pass: number - 1 }) }}>Remove it</button>
          </div>
        </section>
      ))}
      {rounds.length === 0 && <p>None yet: “Start pass 1” begins the first.</p>}
    </Fold>
  )
}

function Fans({ now: { record } }: { readonly now: Round }) {
  const of = (speed: FanSpeed) => record?.fans.findLast((fan) => fan.speed === speed)
  const told = FAN_SPEEDS.flatMap((speed) => {
    const fan = of(speed)
    return fan === undefined ? [] : [`${SPEED_WORDS[speed]} ${fan.supplyPercent ?? '\u2013'} and ${fan.extractPercent ?? '\u2013'} %`]
  })
  return (
    <Fold title="Fan settings" more={told.join('; ') || 'none noted'}>
      <p className="air-note">Share of full speed, supply and extract, for each speed.</p>
      {FAN_SPEEDS.map((speed) => (
        <div key={speed} className="fields cm-pair" role="group" aria-label={SPEED_WORDS[speed]}>
          <FigureField label={`Supply, ${SPEED_WORDS[speed]}`} unit="%" value={of(speed)?.supplyPercent} least={0} most={100} onTake={(supplyPercent) => tried({ do: 'set-fan', speed, set: { supplyPercent } })} />
          <FigureField label={`Extract, ${SPEED_WORDS[speed]}`} unit="%" value={of(speed)?.extractPercent} least={0} most={100} onTake={(extractPercent) => tried({ do: 'set-fan', speed, set: { extractPercent } })} />
        </div>
      ))}
    </Fold>
  )
}

function Meter({ now: { record } }: { readonly now: Round }) {
  const { meter, tolerancePercent } = record ?? {}
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-meter' }>['set']) => tried({ do: 'edit-meter', set })
  const words = (text: string): string | null => text.trim() === '' ? null : text.trim()
  return (
    <Fold title="Meter and tolerance" more={`${tolerancePercent === undefined ? 'no tolerance named' : `${tolerancePercent} % on each terminal`}${meter?.name === undefined ? '' : `; ${meter.name}`}`}>
      <p className="air-note">{TOLERANCE_NOTE}</p>
      <div className="fields">
        <FigureField label="Tolerance on each terminal" unit="%" value={tolerancePercent} least={0} most={100} assumed="yours to name" onTake={(value) => tried({ do: 'edit-record', set: { tolerancePercent: value } })} />
        <TextField label="Meter" value={meter?.name ?? ''} onType={(name) => { edit({ name: words(name) }) }} />
        <TextField label="Serial number" value={meter?.serial ?? ''} onType={(serial) => { edit({ serial: words(serial) }) }} />
        <DayField label="Calibrated" value={meter?.calibrated} onDay={(calibrated) => edit({ calibrated })} />
        <FigureField label="Its accuracy" unit="%" value={meter?.accuracyPercent} least={0} most={100} onTake={(accuracyPercent) => edit({ accuracyPercent })} />
      </div>
    </Fold>
  )
}

function Signers({ now: { record } }: { readonly now: Round }) {
  const signed = record?.signatures ?? []
  const roles = [...new Set([...SIGNERS, ...signed.map(({ role }) => role)])]
  return (
    <Fold title="Who signs" more={signed.map(({ role, name }) => `${role}${name === undefined ? '' : `: ${name}`}`).join('; ') || 'nobody named yet; the sheet has room'}>
      {roles.map((role) => {
        const entry = signed.find((one) => one.role === role)
        return (
          <div key={role} className="fields cm-pair">
            <TextField label={role} value={entry?.name ?? ''} onType={(name) => { tried({ do: 'set-signature', role, set: { name: name.trim() === '' ? null : name.trim() } }) }} />
            <DayField label="Day" value={entry?.day} onDay={(day) => tried({ do: 'set-signature', role, set: { day } })} />
          </div>
        )
      })}
    </Fold>
  )
}
