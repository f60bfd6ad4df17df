import { useEffect, useMemo, useRef } from 'react'
import { createPortal } from 'react-dom'
import { airOfJob } from '#air/index.ts'
import { SIGNERS } from '#air/handoverSheet.ts'
import { SEVERITY_WORDS, LEVEL_NOTE, TOLERANCE_NOTE, percent, ratesWords, sentenceOf } from '#air/wording.ts'
import { cautionWords } from '#air/cautions.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { FAN_SPEEDS } from '#model/index.ts'
import { SPEED_WORDS } from './rounds.ts'
import { inHand } from './useRound.ts'
import './sheet.css'

const close = (): void => { inHand.setState({ isSheetOpen: false }) }

/** The record as a sheet of paper: seen on the screen, and the only thing that is printed while it is open. */
export function Sheet({ assembly }: { readonly assembly: Assembly }) {
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => { if (dialog.current?.open === false) dialog.current.showModal() }, [])
  return createPortal(
    <dialog ref={dialog} className="sheet" aria-label="Record of commissioning" onClose={close}>
      <div className="sheet-buttons">
        <button type="button" className="button button-strong" onClick={() => { print() }}>Print</button>
        <button type="button" className="button" onClick={() => { dialog.current?.close() }}>Back to the meter</button>
      </div>
      <Paper assembly={assembly} />
    </dialog>, document.body)
}

function Paper({ assembly }: { readonly assembly: Assembly }) {
  const report = useMemo(() => airOfJob(assembly), [assembly])
  const { job } = assembly
  const { rates, rounds, remarks, cautions } = report
  const record = job.air?.commissioning
  const nameOf = new Map<string, string>(job.rooms.map(({ id, name }) => [id, name]))
  const signed = record?.signatures ?? []
  const roles = [...new Set([...SIGNERS, ...signed.map(({ role }) => role)])]
  const open = remarks.filter(({ severity }) => severity === 'mend')
  const speeds = FAN_SPEEDS.filter((speed) => rounds.some(({ round }) => round.speed === speed))
  return (
    <article className="sheet-paper">
      <header><p>Ventilation: record of commissioning</p><h2>{job.name}</h2></header>
      {ratesWords(rates).map((line) => <p key={line}>{line}</p>)}
      <p>Meter: <Blank>{record?.meter?.name}</Blank> serial <Blank>{record?.meter?.serial}</Blank> calibrated <Blank>{record?.meter?.calibrated}</Blank> accuracy <Blank short>{record?.meter?.accuracyPercent}</Blank> %</p>
      <p>Tolerance on each terminal: <Blank short>{record?.tolerancePercent}</Blank> %. {TOLERANCE_NOTE}</p>
      {speeds.length === 0 && <Readings report={report} speed="normal" />}
      {speeds.map((speed) => <Readings key={speed} report={report} speed={speed} />)}
      <section>
        <h3>Fan settings, share of full speed</h3>
        <table><thead><tr><th>Speed</th><th>Supply</th><th>Extract</th></tr></thead>
          <tbody>{FAN_SPEEDS.map((speed) => {
            const fan = record?.fans.findLast((entry) => entry.speed === speed)
            return <tr key={speed}><th scope="row">{SPEED_WORDS[speed]}</th><td><Blank short>{fan?.supplyPercent}</Blank> %</td><td><Blank short>{fan?.extractPercent}</Blank> %</td></tr>
          })}</tbody>
        </table>
      </section>
      <section>
        <h3>Sound</h3>
        {record?.sound.map(({ room, speed, levelDbA, note }) => <p key={`${room} ${speed}`}>{nameOf.get(room) ?? room}, {SPEED_WORDS[speed]}: {levelDbA} dB(A){note === undefined ? '' : `, ${note}`}</p>)}
        {(record?.sound.length ?? 0) === 0 && <p><Blank>{undefined}</Blank> <Blank short>{undefined}</Blank> dB(A)</p>}
        <p className="sheet-small">{LEVEL_NOTE}</p>
      </section>
      <section>
        <h3>Filters</h3>
        {record?.filters.map(({ name, fitted, cleanBy }, i) => <p key={i}>{name}: fitted <Blank>{fitted}</Blank> clean or change by <Blank>{cleanBy}</Blank></p>)}
        {(record?.filters.length ?? 0) === 0 && <p><Blank>{undefined}</Blank> fitted <Blank>{undefined}</Blank> clean or change by <Blank>{undefined}</Blank> (about every six months: common practice)</p>}
      </section>
      <section>
        <h3>{SEVERITY_WORDS.mend}</h3>
        {open.length === 0 ? <p>Nothing found.</p> : <ul>{open.map((remark) => <li key={remark.id}>{sentenceOf(remark)}</li>)}</ul>}
      </section>
      {record?.note !== undefined && record.note !== '' && <section><h3>Note</h3><p className="sheet-note">{record.note}</p></section>}
      <section>
        <h3>Take care</h3>
        <ul className="sheet-small">{cautions.map((caution) => <li key={caution.text}>{cautionWords(caution)}</li>)}</ul>
      </section>
      <section className="sheet-signatures" tabIndex={0} aria-label="Signatures">
        <h3>Signatures</h3>
        <table>
          <thead><tr><th>As</th><th>Name</th><th>Day</th><th>Signature</th></tr></thead>
          <tbody>{roles.map((role) => {
            const entry = signed.find((one) => one.role === role)
            return <tr key={role}><th scope="row">{role}</th><td>{entry?.name}</td><td>{entry?.day}</td><td /></tr>
          })}</tbody>
        </table>
      </section>
    </article>
  )
}

/** A pass that is not read yet has empty boxes: the sheet can be filled in by hand. */
const BLANK_PASSES = 3

function Readings({ report: { rates, rounds }, speed }: { readonly report: ReturnType<typeof airOfJob>, readonly speed: (typeof FAN_SPEEDS)[number] }) {
  const own = rounds.filter(({ round }) => round.speed === speed)
  const blanks = Math.max(0, BLANK_PASSES - own.length)
  const key = { trickle: 'trickleLps', normal: 'normalLps', boost: 'boostLps' } as const
  return (
    <section tabIndex={0} aria-label={`Readings in ${SPEED_WORDS[speed]}`}>
      <h3>Readings in {SPEED_WORDS[speed]}, l/s</h3>
      {own.map(({ number, round: { day, by } }) => <p key={number} className="sheet-small">Pass {number}: {by ?? 'by'} <Blank short>{by === undefined ? undefined : ''}</Blank> on <Blank short>{day}</Blank></p>)}
      <table>
        <thead><tr><th>Terminal</th><th>Air</th><th>Target</th>{own.map(({ number }) => <th key={number}>Pass {number}</th>)}{Array.from({ length: blanks }, (_, i) => <th key={`blank ${i}`}>Pass</th>)}</tr></thead>
        <tbody>
          {rates.terminals.map((terminal, i) => (
            <tr key={terminal.equipment.id}>
              <th scope="row">{terminal.equipment.name}</th><td>{terminal.stream}</td><td>{terminal[key[speed]].toFixed(1)}</td>
              {own.map(({ number, rows }) => {
                const { readLps, offRatio, isWithin } = rows[i]
                return <td key={number}>{readLps === null ? '' : `${readLps.toFixed(1)}${offRatio === null ? '' : ` (${offRatio > 0 ? '+' : '\u2212'}${percent(Math.abs(offRatio))}${isWithin === false ? ', out' : ''})`}`}</td>
              })}
              {Array.from({ length: blanks }, (_, n) => <td key={`blank ${n}`} />)}
            </tr>
          ))}
          {(['supply', 'extract'] as const).map((stream, s) => (
            <tr key={stream} className="sheet-total">
              <th scope="row">In all</th><td>{stream}</td><td>{rates.terminals.filter((one) => one.stream === stream).reduce((sum, one) => sum + one[key[speed]], 0).toFixed(1)}</td>
              {own.map(({ number, streams }) => <td key={number}>{streams[s].totalRatio === null ? '' : streams[s].readLps.toFixed(1)}</td>)}
              {Array.from({ length: blanks }, (_, n) => <td key={`blank ${n}`} />)}
            </tr>
          ))}
        </tbody>
      </table>
      {own.filter(({ imbalanceRatio }) => imbalanceRatio !== null).map(({ number, imbalanceRatio }) => <p key={number}>Pass {number}: supply is {percent(Math.abs(imbalanceRatio!))} {imbalanceRatio! >= 0 ? 'above' : 'below'} extract.</p>)}
    </section>
  )
}

function Blank({ children, short = false }: { readonly children: string | number | undefined, readonly short?: boolean }) {
  return children === undefined ? <span className={short ? 'sheet-blank sheet-blank-short' : 'sheet-blank'} /> : <b>{children}</b>
}
