import { useEffect } from 'react'
import { saveWords } from '../keepingWords.ts'
import { listenForKeys } from '../editing/keys.ts'
import { bench } from '../editing/theBench.ts'
import { useBench } from '../editing/useBench.ts'
import { save } from '../opening.ts'
import { useKeeper } from '../useKeeper.ts'

/** Back and forth through the steps, by name, and saving. */
export function WorkStrip() {
  const undoName = useBench((now) => now.undoName)
  const redoName = useBench((now) => now.redoName)
  const closed = useBench((now) => now.closed)
  const present = useBench((now) => now.history?.present ?? null)
  const keeping = useKeeper((now) => saveWords(now, present))
  const current = useKeeper((now) => now.current)
  useEffect(() => listenForKeys(bench, save), [])
  return (
    <div className="work-strip" role="group" aria-label="Steps" data-job-id={current?.id ?? ''} data-revision={current?.revision ?? 0} data-undo={undoName ?? ''} data-redo={redoName ?? ''}>
      <StepButton words="Undo" name={closed === null ? undoName : null} act={bench.undo} sign={'\u21b6'} keys="Control+Z" />
      <StepButton words="Redo" name={closed === null ? redoName : null} act={bench.redo} sign={'\u21b7'} keys="Control+Shift+Z" />
      <button type="button" className="button work-save" aria-keyshortcuts="Control+S" onClick={() => { void save() }}>
        Save to a file
        <span className="work-kept" role="status" data-kept={keeping.isKept}>{keeping.words}</span>
      </button>
    </div>
  )
}

/** Says what it takes back: 'Undo Move point 3 of Run 7'. Stays in its place when there is nothing, so that nothing jumps under the finger. */
function StepButton({ words, name, act, sign, keys }: { readonly words: string, readonly name: string | null, readonly act: () => void, readonly sign: string, readonly keys: string }) {
  const whole = name === null ? words : `${words} ${name}`
  return (
    <button type="button" className="button step" aria-disabled={name === null} aria-keyshortcuts={keys} aria-label={whole} title={whole}
      onClick={() => { if (name !== null) act() }}>
      <span aria-hidden="true" className="step-sign">{sign}</span>
      <span className="step-words">{words}{name !== null && <span className="step-name"> {name}</span>}</span>
    </button>
  )
}
