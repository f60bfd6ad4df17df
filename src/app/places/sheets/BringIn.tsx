import { useEffect, useRef, useState } from 'react'
import { LIMITS } from '#model/basics.ts'
import type { ReadBuilding } from '#sheets/ifc/readIfc.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { countText } from '../../figures.ts'
import { showVoid } from '../../desk.ts'
import type { FromIfc, ToIfc } from './ifc.worker.ts'

/** So many lines of what was not read are shown; the rest is counted. */
const MOST_LINES = 60

/** Someone else's building, as IFC, becomes solids to check against: first what would come is told, then it is brought in as one step. */
export function BringIn({ busy }: { readonly busy: boolean }) {
  const job = useBench((now) => now.assembly?.job ?? null)
  const [found, setFound] = useState<{ readonly fileName: string, readonly read: ReadBuilding } | null>(null)
  const [words, setWords] = useState('')
  const picker = useRef<HTMLInputElement>(null), worker = useRef<Worker | null>(null)
  useEffect(() => () => { worker.current?.terminate() }, [])
  if (job === null) return null
  const read = async (file: File): Promise<void> => {
    setFound(null)
    setWords(`Reading ${file.name}…`)
    worker.current?.terminate()
    const reader = worker.current = new Worker(new URL('./ifc.worker.ts', import.meta.url), { type: 'module' })
    reader.onmessage = ({ data }: MessageEvent<FromIfc>) => {
      reader.terminate()
      if ('why' in data) return setWords(`${file.name}: ${data.why}.`)
      setFound({ fileName: file.name, read: data })
      setWords(data.solids.length === 0 ? `Nothing in ${file.name} can be brought in.` : `${countText(data.solids.length, 'solid')} in ${file.name}.`)
    }
    reader.onerror = (event) => {
      event.preventDefault()
      reader.terminate()
      setWords(`${file.name} could not be read.`)
    }
    reader.postMessage({ bytes: new Uint8Array(await file.arrayBuffer()), taken: job.solids.map(({ id }) => id), mostSolids: LIMITS.solids - job.solids.length } satisfies ToIfc)
  }
  const bringIn = (): void => {
    const done = bench.perform({ do: 'add-solids', solids: found!.read.solids })
    setFound(null)
    setWords(done.ok ? 'Brought in. Undo takes it out again.' : done.why)
    if (done.ok) showVoid(true)
  }
  return (
    <section className="sheets-part" aria-label="A building to check against">
      <h3>Someone else’s building</h3>
      <p className="quiet">An IFC file of the structure or the services becomes solids that the ducts are checked against. Both must mean the same place by 0,0,0.</p>
      <div className="sheets-buttons">
        <button type="button" className="button" disabled={busy} onClick={() => { picker.current?.click() }}>Read an IFC file</button>
        <input ref={picker} type="file" accept=".ifc" hidden aria-label="IFC file of a building" className="ifc-file" onChange={(event) => {
          const file = event.target.files?.[0]
          event.target.value = ''
          if (file !== undefined) void read(file)
        }} />
        {found !== null && found.read.solids.length > 0 && <button type="button" className="button button-strong" disabled={busy} onClick={bringIn}>Bring them in</button>}
      </div>
      <p role="status">{words}</p>
      {found !== null && <Told title="Taken as the upright box round them" lines={found.read.asBox.map(({ name, why }) => `${name}: ${why}`)} />}
      {found !== null && <Told title="Not read" lines={found.read.unread.map(({ what, name, why }) => `${name} (${what}): ${why}`)} />}
    </section>
  )
}

function Told({ title, lines }: { readonly title: string, readonly lines: readonly string[] }) {
  if (lines.length === 0) return null
  return (
    <>
      <h4>{title}</h4>
      <ul className="sheets-plain">{lines.slice(0, MOST_LINES).map((line, i) => <li key={i}>{line}</li>)}</ul>
      {lines.length > MOST_LINES && <p>and {countText(lines.length - MOST_LINES, 'more', 'more')}.</p>}
    </>
  )
}
