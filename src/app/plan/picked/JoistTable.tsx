import { useEffect, useRef, useState } from 'react'
import type { KeyboardEvent } from 'react'
import { formatLength, parseLength } from '#commands/typedLength.ts'
import type { Joist, JoistField, JoistSection } from '#model/index.ts'
import { pickInPlan } from '../board.ts'
import { tried } from './tried.ts'

type Measure = 'firstNodeMm' | 'positionMm'

/**
 * Tape measurements, joist after joist: a number and Enter goes to the next one, F turns the joist over, up and down go
 * back and forth. The field is drawn anew at every digit, and the digits of one joist are one step.
 */
export function JoistTable({ field, section, joistId }: { readonly field: JoistField, readonly section: JoistSection | undefined, readonly joistId: string | undefined }) {
  const table = useRef<HTMLTableElement>(null)
  const isOpenWeb = section?.kind === 'open-web'
  const go = (to: number, column: Measure): boolean => {
    const input = table.current?.querySelector<HTMLInputElement>(`input[data-row="${to}"][data-measure="${column}"]`)
    input?.focus()
    input?.scrollIntoView({ block: 'nearest' })
    return input !== null && input !== undefined
  }
  useEffect(() => {
    if (joistId === undefined) return
    table.current?.querySelector(`tr[data-joist="${CSS.escape(joistId)}"]`)?.scrollIntoView({ block: 'nearest' })
  }, [joistId])
  return (
    <>
      <p className="quiet">Type, then Enter for the next joist{isOpenWeb ? '; F turns one over' : ''}. Empty means as the field says.</p>
      <details className="corners">
        <summary>What these measures are</summary>
        {isOpenWeb && <p className="quiet"><b>First node</b>: along the joist from its datum end to where the first two webs meet at the bottom chord.</p>}
        {isOpenWeb && <p className="quiet"><b>Flip</b>: the joist lies upside down, so its first node is at the top chord.</p>}
        <p className="quiet"><b>Position</b>: from the middle of the first joist to the middle of this one, square across.</p>
      </details>
      <div className="joist-table">
        <table ref={table}>
          <thead>
            <tr><th scope="col">Joist</th>{isOpenWeb && <th scope="col">First node</th>}{isOpenWeb && <th scope="col">Flip</th>}<th scope="col">Position</th></tr>
          </thead>
          <tbody>
            {field.joists.map((joist, row) => {
              const name = joist.name ?? joist.id
              const flip = joist.flip ?? field.flip
              const turn = (): void => { tried({ do: 'edit-joist', id: joist.id, set: { flip: !flip } }) }
              return (
                <tr key={joist.id} data-joist={joist.id} aria-current={joist.id === joistId ? 'true' : undefined}>
                  <th scope="row">{name}</th>
                  {isOpenWeb && <td><Measured joist={joist} row={row} measure="firstNodeMm" label={`First node of ${name}`} usualMm={field.firstNodeMm} onFlip={turn} go={go} /></td>}
                  {isOpenWeb && <td><button type="button" className="button flip" tabIndex={-1} aria-pressed={flip} aria-label={`Flip ${name}`} onClick={turn}>{flip ? '\u25bd' : '\u25b3'}</button></td>}
                  <td><Measured joist={joist} row={row} measure="positionMm" label={`Position of ${name}`} usualMm={row * field.centresMm} onFlip={isOpenWeb ? turn : undefined} go={go} /></td>
                </tr>
              )
            })}
          </tbody>
        </table>
      </div>
    </>
  )
}

function Measured({ joist, row, measure, label, usualMm, onFlip, go }: {
  readonly joist: Joist, readonly row: number, readonly measure: Measure, readonly label: string, readonly usualMm: number
  readonly onFlip?: () => void, readonly go: (to: number, measure: Measure) => boolean
}) {
  const value = joist[measure]
  const written = value === undefined ? '' : formatLength(value)
  const [text, setText] = useState<string | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  const isSame = useRef(false)

  const take = (typed: string): string | null => {
    if (typed.trim() !== '') {
      const read = parseLength(typed, { negative: true })
      if (!read.ok) return read.why
      return set(read.mm)
    }
    return value === undefined ? null : set(null)
  }
  const set = (mm: number | null): string | null => {
    if (mm === (value ?? null)) return null
    const refused = tried({ do: 'edit-joist', id: joist.id, set: { [measure]: mm } }, isSame.current)
    isSame.current = true
    return refused ?? null
  }
  const leave = (): void => {
    if (text === null) return
    const refused = take(text)
    setWhy(refused)
    if (refused === null) setText(null)
  }
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    const to = event.key === 'Enter' || event.key === 'ArrowDown' ? row + (event.shiftKey ? -1 : 1) : event.key === 'ArrowUp' ? row - 1 : null
    if (to !== null) {
      event.preventDefault()
      const refused = text === null ? null : take(text)
      setWhy(refused)
      if (refused === null) {
        setText(null)
        if (!go(to, measure)) event.currentTarget.select()
      }
    } else if ((event.key === 'f' || event.key === 'F') && onFlip !== undefined && !event.ctrlKey && !event.metaKey && !/ft?$/.test(text ?? '')) {
      event.preventDefault()
      onFlip()
    } else if (event.key === 'Escape' && text !== null) {
      event.stopPropagation()
      setText(null)
      setWhy(null)
    }
  }
  return (
    <>
      <input data-row={row} data-measure={measure} inputMode="decimal" enterKeyHint="next" autoComplete="off" aria-label={label} aria-invalid={why !== null} title={why ?? undefined}
        placeholder={formatLength(usualMm)} value={text ?? written} onKeyDown={onKeyDown} onBlur={leave}
        onFocus={(event) => {
          isSame.current = false
          event.currentTarget.select()
          pickInPlan({ kind: 'joist', id: joist.id })
        }}
        onChange={(event) => {
          setText(event.target.value)
          // what cannot be read yet may be half typed: it is said when the field is left
          if (parseLength(event.target.value, { negative: true }).ok) setWhy(take(event.target.value))
        }} />
      {why !== null && <p className="field-why" role="alert">{why}</p>}
    </>
  )
}
