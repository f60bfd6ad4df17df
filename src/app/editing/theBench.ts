/** The one bench of this window, with the worker that reads and checks jobs. */
import { createBench } from './bench.ts'
import { openScriptDoor } from './scriptDoor.ts'

export const bench = createBench({ spawn: () => new Worker(new URL('../checker.worker.ts', import.meta.url), { type: 'module' }) })
openScriptDoor(bench)
