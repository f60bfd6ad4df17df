/** The bench for scripts and tests, as `joistway` in the window's console: what a screen can do, with the same commands. */
import { formatJob } from '#model/write.ts'
import type { Bench } from './bench.ts'

export type ScriptDoor = Pick<Bench, 'perform' | 'beginDrag' | 'updateDrag' | 'endDrag' | 'cancelDrag' | 'undo' | 'redo'> & {
  /** the job as shown, as its file would say it */
  readonly text: () => string
}

export function openScriptDoor({ store, perform, beginDrag, updateDrag, endDrag, cancelDrag, undo, redo }: Bench): void {
  const text = (): string => {
    const job = store.getState().history?.present
    return job === undefined ? '' : formatJob(job)
  }
  Object.assign(globalThis, { joistway: { perform, beginDrag, updateDrag, endDrag, cancelDrag, undo, redo, text } satisfies ScriptDoor })
}
