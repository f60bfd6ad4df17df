import { useDesk } from '../../useDesk.ts'
import { Field } from '../looking/Field.tsx'
import { TypedLength } from '../looking/TypedLength.tsx'
import { svgOf } from '#sheets/svgOf.ts'
import { fileName } from '#sheets/fileName.ts'
import { showVoid } from '../../desk.ts'
import { countText } from '../../figures.ts'
import { BringIn } from './BringIn.tsx'
import { Compare } from './Compare.tsx'
import { handOver, keyOf, save, setOptions, sheets, useDrawnSheets, useSheets } from './sheetsShown.ts'
import type { ShownBooklet } from './sheetsMessages.ts'
import '../looking/looking.css'
import './sheets.css'

/** Every sheet to look at and to print, the schedules, and the model to hand on. */
export function SheetsPanel() {
  const checks = useDrawnSheets()
  const booklets = useSheets((now) => now.booklets)
  const making = useSheets((now) => now.making)
  const trouble = useSheets((now) => now.trouble)
  const { paper, date, revision } = useSheets((now) => now.options)
  const job = checks?.assembly.job
  if (job === undefined || job.runs.length + job.joistFields.length === 0) return <section className="teach"><h3>Nothing to print yet</h3><p>Once there are joists and runs, the sheets for the site are here.</p></section>
  return (
    <div className="sheets-panel">
      <div className="sheets-options">
        <Field name="Paper">{(id) => (
          <select id={id} value={paper} onChange={(event) => { setOptions({ paper: event.target.value as 'a4' | 'a3' }) }}><option value="a4">A4</option><option value="a3">A3</option></select>
        )}</Field>
        <Field name="Date">{(id) => <input id={id} type="text" maxLength={60} value={date} onChange={(event) => { setOptions({ date: event.target.value }) }} />}</Field>
        <Field name="Revision">{(id) => <input id={id} type="text" maxLength={20} value={revision} onChange={(event) => { setOptions({ revision: event.target.value }) }} />}</Field>
      </div>
      <Lengths />
      <p className="sheets-now" role="status">{making !== null ? `${making} is being made…` : trouble ?? (booklets === null ? 'Drawing the sheets…' : 'Print at 100 %, not fitted to the page.')}</p>
      {booklets?.map((booklet) => <BookletPart key={booklet.id} booklet={booklet} busy={making !== null} />)}
      <section className="sheets-part">
        <h3>To hand on</h3>
        <div className="sheets-buttons">
          <button type="button" className="button" disabled={making !== null} onClick={() => { void handOver({ kind: 'client' }, 'The page for the client') }}>Page for the client</button>
          <button type="button" className="button" disabled={making !== null} onClick={() => { void handOver({ kind: 'glb' }, 'The glTF model') }}>3D model, glTF</button>
          <button type="button" className="button" disabled={making !== null} onClick={() => { void handOver({ kind: 'ifc' }, 'The IFC model') }}>3D model, IFC</button>
        </div>
        <p className="quiet">The page for the client is one file that opens on any phone or computer, with no network. It shows the model and its saved views, and can change nothing.</p>
      </section>
      <Compare busy={making !== null} />
      <BringIn busy={making !== null} />
    </div>
  )
}

/** What the cut list assumes of the merchant and of whoever cuts. */
function Lengths() {
  const options = useSheets((now) => now.options)
  const field = (label: string, key: 'trimMm' | 'stockMm' | 'coilMm', leastMm: number) => (
    <TypedLength label={label} valueMm={options[key]} onMm={(mm) => { if (mm !== null && mm >= leastMm) setOptions({ [key]: mm }) }} />
  )
  return (
    <details className="sheets-tables">
      <summary>Lengths for the cut list</summary>
      <div className="sheets-lengths">
        {field('Trim on bendable duct', 'trimMm', 0)}
        {field('Rigid duct is sold in', 'stockMm', 300)}
        {field('A coil is', 'coilMm', 1000)}
      </div>
    </details>
  )
}

function BookletPart({ booklet, busy }: { readonly booklet: ShownBooklet, readonly busy: boolean }) {
  const shownKey = useSheets((now) => now.shownKey)
  const inVoid = useDesk((now) => now.inVoid)
  const { id, title, pages, tables } = booklet
  const shown = pages.find((sheet) => keyOf(booklet, sheet) === shownKey)
  return (
    <section className="sheets-part" aria-label={title}>
      <h3>{title} <small>{countText(pages.length, 'sheet')}</small></h3>
      <ul className="sheets-list">
        {pages.map((sheet) => (
          <li key={sheet.id}>
            <button type="button" className="sheets-row" aria-current={!inVoid && keyOf(booklet, sheet) === shownKey ? 'true' : undefined} onClick={() => {
              sheets.setState({ shownKey: keyOf(booklet, sheet) })
              showVoid(false)
            }}>{rowWords(sheet.id, sheet.title)}</button>
          </li>
        ))}
      </ul>
      <div className="sheets-buttons">
        <button type="button" className="button button-strong" disabled={busy} onClick={() => { void handOver({ kind: 'pdf', booklet: id }, title) }}>All as PDF</button>
        {shown !== undefined && !inVoid && <button type="button" className="button" onClick={() => { save({ name: fileName(shown.id, 'svg'), content: svgOf(shown) }) }}>This sheet as SVG</button>}
      </div>
      {tables.length > 0 && (
        <details className="sheets-tables">
          <summary>For a spreadsheet (CSV)</summary>
          <div className="sheets-buttons">{tables.map((table) => <button key={table.id} type="button" className="button" aria-label={`${table.title}, as CSV`} disabled={busy} onClick={() => { void handOver({ kind: 'csv', table: table.id }, table.title) }}>{table.title}</button>)}</div>
        </details>
      )}
    </section>
  )
}

/** Pages of one thing are told apart by their numbers. */
function rowWords(id: string, title: string): string {
  const tile = /^template-.*-(\d+)-(\d+)$/.exec(id), page = /-(\d+)$/.exec(id)
  return tile !== null ? `${title}, row ${tile[1]}, column ${tile[2]}` : page !== null && !id.startsWith('joist-') && !id.startsWith('stands-') ? `${title}, page ${page[1]}` : title
}

