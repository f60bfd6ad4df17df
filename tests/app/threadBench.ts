/** The bench as the thread place has it, with no browser round it: workers that never answer, frames that come when they are asked for. */
import { assemble } from '#assembly/assemble.ts'
import { parseJob, type Job } from '#model/index.ts'
import type { JobInput } from '#model/schema.ts'
import { verdictOf } from '#routing/verdict.ts'
import { smallVoidInput } from '../scene/smallVoid.ts'

class SilentWorker {
  onmessage = null
  onerror = null
  postMessage(): void {}
  terminate(): void {}
}
const frames: (() => void)[] = []
Object.assign(globalThis, { Worker: SilentWorker, requestAnimationFrame: (call: () => void) => frames.push(call) })

/** Lets the next frame come. */
export function frame(): void {
  for (const call of frames.splice(0)) call()
}

/** The small void with a second manifold spigot and a second valve box that wait for a duct. */
export function loftInput(): JobInput {
  const input = smallVoidInput()
  const [manifold, valve] = input.equipment
  return {
    ...input,
    equipment: [
      { ...manifold, spigots: [...manifold.spigots, { id: 'b', at: [180, 140, 0], axis: [0, 1, 0], diameterMm: 90 }] },
      valve,
      { ...valve, id: 'T2', name: 'Second valve box', centre: [1_755, 2_300, 2_500] },
    ],
  }
}

export function jobOf(input: JobInput): Job {
  const read = parseJob(JSON.stringify(input))
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.job
}

export async function openLoft(input: JobInput = loftInput()) {
  const [{ bench }, { desk, layOut }, { threading, EMPTY_HANDS }] = await Promise.all([
    import('#app/editing/theBench.ts'), import('#app/desk.ts'), import('#app/places/thread/threading.ts'),
  ])
  const job = jobOf(input), assembly = assemble(job)
  layOut({ job, assembly, fileName: 'loft.json' })
  bench.take(job, { assembly, verdict: verdictOf(job) })
  threading.setState(EMPTY_HANDS)
  const now = (): Job => bench.store.getState().history!.present
  return { bench, desk, threading, job, now, steps: () => bench.store.getState().history!.past.map(({ label }) => label) }
}
