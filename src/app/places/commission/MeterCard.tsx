import { useLayoutEffect, useRef, useState } from 'react'
import type { KeyboardEvent } from 'react'
import type { ReadingRow } from '#air/commissioning.ts'
import { turnReason } from '#air/wording.ts'
import { flowNumber, formatFlow, parseFlow, unitWords } from '#commands/typedFlow.ts'
import { METER_UNITS } from '#model/air.ts'
import { bench } from '../../editing/theBench.ts'
import { neighbour, readingCommand, type Round, verdictOf } from './rounds.ts'
import { inHand, useInHand } from './useRound.ts'

/** One terminal with its target in large figures, and the field for what the meter shows. Enter takes it and goes on. */
export function MeterCard({ now, row }: { readonly now: Round, readonly row: ReadingRow }) {
  const { round, step, shows, record } = now
  const { equipment, room, stream } = row.terminal
  const input = useRef<HTMLInputElement>(null)
  const first = useRef<HTMLDivElement>(null)
  const [text, setText] = useState('')
  const [setting, setSetting] = useState('')
  const [why, setWhy] = useState<string | null>(null)
  const said = useInHand((state) => state.said)
  useLayoutEffect(() => {
    setText('')
    setSetting(row.setting === null ? '' : String(row.setting))
    setWhy(null)
    // the next figure is typed at once: on a phone the keyboard stays up, and what to read stays above it
    input.current?.focus({ preventScroll: true })
    first.current?.scrollIntoView({ block: 'nearest' })
  }, [equipment.id, round?.number])

  const typed = text.trim() === '' ? null : parseFlow(text, shows)
  const go = (by: 1 | -1): void => { inHand.setState({ picked: neighbour(now, equipment.id, by), said: '' }) }
  const take = (): void => {
    if (typed === null) {
      setWhy('type what the meter shows first')
      return
    }
    if (!typed.ok) {
      setWhy(typed.why)
      return
    }
    const stands = setting.trim() === '' ? (row.setting === null ? undefined : null) : Number(setting.replace(',', '.'))
    if (stands !== undefined && stands !== null && !Number.isFinite(stands)) {
      setWhy(`“${setting}” is no setting: type a number`)
      return
    }
    const done = bench.perform(readingCommand(now, equipment.id, typed.lps, stands))
    if (!done.ok) {
      setWhy(done.why)
      return
    }
    inHand.setState({ picked: null, said: `${equipment.name}: ${formatFlow(typed.lps, shows)}. ${verdictOf(typed.lps, row.targetLps, record?.tolerancePercent).words}` })
    setText('')
    setWhy(null)
    input.current?.focus({ preventScroll: true })
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    switch (event.key) {
      case 'Enter':
        event.preventDefault()
        take()
        break
      case 'ArrowDown': case 'PageDown':
        event.preventDefault()
        go(1)
        break
      case 'ArrowUp': case 'PageUp':
        event.preventDefault()
        go(-1)
        break
      case 'Escape':
        if (text === '') return
        event.stopPropagation()
        setText('')
        setWhy(null)
    }
  }
  const isTurning = step?.kind === 'turn' && step.terminal.equipment.id === equipment.id
  const live = typed?.ok === true ? verdictOf(typed.lps, row.targetLps, record?.tolerancePercent) : null
  return (
    <section className="cm-card" aria-label={`Read ${equipment.name}`} data-terminal={equipment.id}>
      <div ref={first} className="cm-first">
        <p className="cm-where">{isTurning ? 'Turn and read again' : row.readLps === null ? 'Read' : 'Read again'}: {stream}{room === null ? '' : `, ${room.name}`}</p>
        <h3>{equipment.name}</h3>
        <dl className="cm-figures">
          <div><dt>Target</dt><dd className="cm-target">{flowNumber(row.targetLps, shows)} <span>{unitWords(shows)}</span></dd></div>
          {isTurning && <div><dt>Turn until it shows</dt><dd className="cm-target cm-aim">{flowNumber(step.turn.aimLps, shows)} <span>{unitWords(shows)}</span></dd></div>}
          {row.readLps !== null && <div><dt>Read</dt><dd>{formatFlow(row.readLps, shows)}</dd></div>}
        </dl>
        {isTurning && <p className="cm-turn"><span className="cm-way" aria-hidden="true">{step.turn.way === 'open' ? '\u2190\u2192' : '\u2192\u2190'}</span>{turnReason(step.turn)}</p>}
        <div className="cm-entry">
          <label htmlFor="cm-reading">The meter shows, {unitWords(shows)}</label>
          <input id="cm-reading" ref={input} className="cm-reading" inputMode="decimal" enterKeyHint="next" autoComplete="off" value={text} aria-invalid={why !== null} aria-describedby={why === null ? 'cm-live' : 'cm-why'}
            onChange={(event) => {
              setText(event.target.value)
              setWhy(null)
            }} onKeyDown={onKeyDown} />
          <button type="button" className="button button-strong cm-take" onPointerDown={(event) => { event.preventDefault() }} onClick={take}>Take it</button>
        </div>
        {why !== null && <p id="cm-why" className="field-why" role="alert">{why}</p>}
        <p id="cm-live" className={live === null ? 'cm-live' : `cm-live cm-${live.kind}`}>{live === null ? <>Enter takes it and goes on.<span className="cm-keys"> Arrow up and down: another terminal.</span></> : live.words}</p>
        <p className="cm-said" role="status">{said}</p>
      </div>
      <div className="cm-more">
        <div className="field"><label htmlFor="cm-setting">Its valve stands at{equipment.airflow?.settingUnit === undefined ? '' : `, ${equipment.airflow.settingUnit}`}</label>
          <input id="cm-setting" inputMode="decimal" autoComplete="off" placeholder="optional" value={setting} onChange={(event) => { setSetting(event.target.value) }} onKeyDown={(event) => { if (event.key === 'Enter') take() }} /></div>
        <div className="cm-units" role="group" aria-label="The meter shows">
          {METER_UNITS.map((unit) => <button key={unit} type="button" className="button" aria-pressed={shows === unit} onClick={() => { bench.perform({ do: 'edit-meter', set: { shows: unit } }) }}>{unitWords(unit)}</button>)}
        </div>
      </div>
      <div className="cm-steps">
        <button type="button" className="button" onClick={() => { go(-1) }}>{'\u2039'} Back</button>
        <button type="button" className="button" onClick={() => { go(1) }}>Next {'\u203a'}</button>
        {row.readLps !== null && <button type="button" className="button" onClick={() => { bench.perform({ do: 'clear-reading', pass: now.rounds.length - 1, terminal: equipment.id }) }}>Clear its reading</button>}
      </div>
    </section>
  )
}
