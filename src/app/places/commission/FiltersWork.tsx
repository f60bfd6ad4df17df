import { useState } from 'react'
import { TextField } from '../../plan/PlainFields.tsx'
import { tried } from '../../plan/picked/tried.ts'
import { DayField } from './DayField.tsx'
import type { Round } from './rounds.ts'

/** Filters by name, when they were fitted and when they are to be cleaned or changed. */
export function FiltersWork({ now: { record } }: { readonly now: Round }) {
  const [name, setName] = useState('')
  const [why, setWhy] = useState<string | null>(null)
  const filters = record?.filters ?? []
  const add = (text: string): void => {
    const refused = tried({ do: 'add-filter', name: text }) ?? null
    setWhy(refused)
    if (refused === null) setName('')
  }
  const usual = ['Fresh air', 'Extract air'].filter((one) => filters.every((filter) => filter.name !== one))
  return (
    <>
      {filters.map((filter, i) => (
        <section key={i} className="air-thing" aria-label={filter.name}>
          <div className="fields">
            <TextField label="Filter" value={filter.name} onType={(text) => { tried({ do: 'edit-filter', filter: i, set: { name: text.trim() } }) }} />
            <DayField label="Fitted" value={filter.fitted} onDay={(fitted) => tried({ do: 'edit-filter', filter: i, set: { fitted } })} />
            <DayField label="Clean or change by" value={filter.cleanBy} onDay={(cleanBy) => tried({ do: 'edit-filter', filter: i, set: { cleanBy } })} />
          </div>
          <div className="cm-steps"><button type="button" className="button" onClick={() => { tried({ do: 'remove-filter', filter: i }) }}>Remove it</button></div>
        </section>
      ))}
      <div className="field"><label htmlFor="cm-filter">Another filter</label>
        <input id="cm-filter" autoComplete="off" value={name} onChange={(event) => { setName(event.target.value) }} onKeyDown={(event) => { if (event.key === 'Enter' && name.trim() !== '') add(name.trim()) }} /></div>
      {why !== null && <p className="field-why" role="alert">{why}</p>}
      <div className="cm-steps">
        <button type="button" className="button" disabled={name.trim() === ''} onClick={() => { add(name.trim()) }}>Add it</button>
        {usual.map((one) => <button key={one} type="button" className="button" onClick={() => { add(one) }}>{one}</button>)}
      </div>
      <p className="air-note">Cleaned about every six months: common practice.</p>
    </>
  )
}
