import { useEffect, useRef, useState } from 'react'
import type { KeyboardEvent } from 'react'
import { parseLength } from '#commands/typedLength.ts'
import type { Job, Point2 } from '#model/index.ts'
import { LengthField } from './LengthField.tsx'
import { ChoiceField, NumberField, TextField, TickField } from './PlainFields.tsx'
import { backPen, closePen, pointTowards, putToolAway, setSquare, typeLength, typePoint, typeValue, valuesOf } from './board.ts'
import { towardsWords } from './pen.ts'
import type { Tool } from './tool.ts'
import { useBoard } from './useBoard.ts'

const WAYS: readonly { readonly words: string, readonly sign: string, readonly key: string, readonly towards: Point2 }[] = [
  { words: 'left', sign: '\u2190', key: 'ArrowLeft', towards: [-1, 0] }, { words: 'up', sign: '\u2191', key: 'ArrowUp', towards: [0, 1] },
  { words: 'down', sign: '\u2193', key: 'ArrowDown', towards: [0, -1] }, { words: 'right', sign: '\u2192', key: 'ArrowRight', towards: [1, 0] },
]

/** The tool in hand: what to do next, the next point by numbers, and the sizes of what is being made. */
export function ToolPad({ tool, job }: { readonly tool: Tool, readonly job: Job }) {
  const pen = useBoard(({ pen }) => pen)
  const typed = useBoard(({ typed }) => typed)
  const said = useBoard(({ said }) => said)
  const count = pen.points.length
  const values = valuesOf({ typed }, tool, job)
  return (
    <section className="pad" aria-label={tool.name} onKeyDown={(event) => { if (event.key === 'Escape') putToolAway() }}>
      <div className="pad-head">
        <span className="sketch"><tool.Sketch /></span>
        <h2>{tool.name}</h2>
        <button type="button" className="button" onClick={putToolAway}>Put away</button>
      </div>
      <p className="pad-step" role="status">{said?.isRefusal === true ? said.words : tool.steps[Math.min(count, tool.steps.length - 1)]}</p>
      {said !== null && !said.isRefusal && count === 0 && <p className="pad-said">{said.words}</p>}
      {count === 0 || pen.shape === 'box' ? <FirstPoint key={`${tool.id}${count}`} last={pen.points.at(-1)} isBox={pen.shape === 'box'} /> : <NextPoint />}
      <div className="pad-buttons">
        {count > 0 && <button type="button" className="button" onClick={backPen}>Take the last point back</button>}
        {pen.shape === 'ring' && count >= 3 && <button type="button" className="button button-strong" onClick={closePen}>Close the outline</button>}
        {pen.shape === 'path' && count >= 2 && <button type="button" className="button button-strong" onClick={closePen}>That was the last</button>}
      </div>
      {pen.shape !== 'box' && pen.shape !== 'point' && <TickField label="Square only: left, right, up and down" isOn={pen.square} onTick={setSquare} />}
      <div className="fields">
        {tool.asks.map((ask) => {
          const value = values[ask.key]
          switch (ask.kind) {
            case 'length': return <LengthField key={ask.key} label={ask.label} valueMm={Number(value)} negative={ask.negative} zero={ask.zero ?? ask.negative} onType={(mm) => { typeValue(tool, ask.key, mm) }} />
            case 'degrees': return <NumberField key={ask.key} label={ask.label} value={Number(value)} unit={'\u00b0'} least={-360} most={360} onType={(deg) => { typeValue(tool, ask.key, deg) }} />
            case 'count': return <NumberField key={ask.key} label={ask.label} value={Number(value)} least={1} most={ask.most} onType={(number) => { typeValue(tool, ask.key, number) }} />
            case 'text': return <TextField key={ask.key} label={ask.label} value={String(value)} onType={(text) => { typeValue(tool, ask.key, text) }} />
            case 'choice': return <ChoiceField key={ask.key} label={ask.label} value={String(value)} choices={ask.choices(job)} onChoose={(choice) => { typeValue(tool, ask.key, choice) }} />
          }
        })}
      </div>
    </section>
  )
}

/** Where the first point is from the datum, or how far the other corner of a box lies from it. */
function FirstPoint({ last, isBox }: { readonly last: Point2 | undefined, readonly isBox: boolean }) {
  const [x, setX] = useState(last === undefined ? '0' : ''), [y, setY] = useState(last === undefined ? '0' : '')
  const [why, setWhy] = useState<string | null>(null)
  const place = (): void => {
    const across = parseLength(x, { negative: true }), up = parseLength(y, { negative: true })
    if (!across.ok) setWhy(across.why)
    else if (!up.ok) setWhy(up.why)
    else {
      setWhy(null)
      typePoint(last === undefined ? [across.mm, up.mm] : [last[0] + across.mm, last[1] + up.mm])
    }
  }
  const asks = last === undefined ? ['x from the datum', 'y from the datum'] : ['How far across', 'How far up']
  return (
    <form className="pad-typed" onSubmit={(event) => {
      event.preventDefault()
      place()
    }}>
      <label className="field"><span>{asks[0]}</span><input inputMode="decimal" autoComplete="off" value={x} autoFocus={isBox && last !== undefined} onFocus={select} onChange={(event) => { setX(event.target.value) }} /></label>
      <label className="field"><span>{asks[1]}</span><input inputMode="decimal" autoComplete="off" value={y} onFocus={select} onChange={(event) => { setY(event.target.value) }} /></label>
      <button type="submit" className="button">Put it there</button>
      {why !== null && <p className="field-why" role="alert">{why}</p>}
    </form>
  )
}

/** The next point so far along the way that is shown; with nothing typed, Enter closes the outline. */
function NextPoint() {
  const pen = useBoard(({ pen }) => pen)
  const [text, setText] = useState('')
  const [why, setWhy] = useState<string | null>(null)
  const input = useRef<HTMLInputElement>(null)
  // a phone's keyboard would hide the plan: there the field waits to be touched
  useEffect(() => { if (matchMedia('(pointer: fine)').matches) input.current?.focus() }, [])
  const onKeyDown = (event: KeyboardEvent): void => {
    const way = WAYS.find(({ key }) => key === event.key)
    if (way === undefined) return
    event.preventDefault()
    pointTowards(way.towards)
  }
  const place = (): void => {
    if (text.trim() === '') {
      closePen()
      return
    }
    const read = parseLength(text)
    setWhy(read.ok ? null : read.why)
    if (!read.ok) return
    setText('')
    typeLength(read.mm)
  }
  return (
    <form className="pad-typed" onSubmit={(event) => {
      event.preventDefault()
      place()
    }}>
      <div className="ways" role="group" aria-label="Which way">
        {WAYS.map(({ words, sign, towards }) => (
          <button key={words} type="button" className="button button-square" aria-label={words} aria-pressed={towardsWords(pen.towards) === words} onClick={() => {
            pointTowards(towards)
            input.current?.focus()
          }}>{sign}</button>
        ))}
      </div>
      <label className="field"><span>Length to the next, {towardsWords(pen.towards)}</span>
        <input ref={input} inputMode="decimal" autoComplete="off" placeholder={'1245, 1.245 m or 4\u2032 1\u2033'} value={text} onChange={(event) => { setText(event.target.value) }} onKeyDown={onKeyDown} /></label>
      <button type="submit" className="button">Next point</button>
      {why !== null && <p className="field-why" role="alert">{why}</p>}
    </form>
  )
}

function select(event: { readonly currentTarget: HTMLInputElement }): void {
  event.currentTarget.select()
}
