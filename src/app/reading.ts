/** Reading a project file: read and checked in a worker, set out for the view here. One at a time; a new one puts an end to the one before. */
import type { Job } from '#model/index.ts'
import type { Verdict } from '#routing/verdict.ts'
import { desk, layOut } from './desk.ts'
import { firstPicture } from './firstPicture.ts'
import { loadAssembly, loadTubes } from './laterParts.ts'
import type { FromChecker, ToChecker } from './checkerMessages.ts'
import { inSlices } from './slices.ts'
import type { Shown } from './storage/keeper.ts'

/** what setting the solids out is of setting out all that is drawn */
const ASSEMBLING = 0.6
/** idle, and kept warm for the next file */
let spare: Worker | null = null
let busy: Worker | null = null
/** told of every whole verdict of a job that was read here */
let judged: (job: Job, verdict: Verdict) => void = () => {}

const newWorker = (): Worker => new Worker(new URL('./checker.worker.ts', import.meta.url), { type: 'module' })

/** Starts a worker before it is asked for. */
export function warmUp(): void {
  spare ??= newWorker()
}

export function onJudged(tell: (job: Job, verdict: Verdict) => void): void {
  judged = tell
}

function hire(): Worker {
  const worker = spare ?? newWorker()
  spare = null
  return worker
}

function letGo(worker: Worker): void {
  if (busy === worker) busy = null
  worker.onmessage = worker.onerror = null
  spare?.terminate()
  spare = worker
}

/**
 * Reads the text of a project file and puts it on the desk; what is there stays until the new job is known to be whole.
 * @returns once it can be seen, before it has been checked; null when it was refused, stopped, or another took its place
 */
export function readText(text: string, fileName: string): Promise<Shown | null> {
  desk.setState({ work: { step: 'reading', fileName, doneRatio: 0 }, refusal: null })
  return work({ kind: 'open', text }, fileName)
}

/** Stops reading or checking. The job on the desk stays. */
export function stopReading(): void {
  const stopped = busy
  stopped?.terminate()
  busy = null
  stopped?.dispatchEvent(new Event('stopped'))
}

export function refuse(fileName: string, found: string, allowed: string): void {
  desk.setState({ refusal: { fileName, problems: [{ path: '', code: 'unreadable', found, allowed }], unlisted: 0 } })
}

function work(ask: ToChecker, fileName: string): Promise<Shown | null> {
  stopReading()
  const worker = busy = hire()
  return new Promise((resolve) => {
    let shown: Promise<Shown | null> = Promise.resolve(null)
    worker.addEventListener('stopped', () => { resolve(null) }, { once: true })
    const end = (): void => {
      letGo(worker)
      desk.setState({ work: null })
      resolve(shown)
    }
    const broke = (why: string): void => {
      refuse(fileName, `something that stopped the checker (${why})`, 'a job that can be checked')
      resolve(shown)
    }
    worker.onerror = (event) => {
      event.preventDefault()
      worker.terminate()
      if (busy === worker) busy = null
      desk.setState({ work: null })
      broke(event.message ?? 'no reason given')
    }
    worker.onmessage = async ({ data }: MessageEvent<FromChecker>) => {
      switch (data.kind) {
        case 'refused':
          desk.setState({ refusal: { fileName, problems: data.problems, unlisted: data.unlisted } })
          end()
          return
        case 'job':
          desk.setState({ work: { step: 'setting-out', fileName, doneRatio: 0 } })
          shown = setOut(data.job, fileName, worker)
          shown.then(resolve, () => { resolve(null) })
          return
        case 'checking':
          desk.setState((now) => now.work?.step === 'checking' ? { work: { step: 'checking', fileName, doneRatio: data.doneRatio } } : {})
          return
        case 'verdict': {
          const read = await shown
          // another file may have taken its place meanwhile
          if (busy !== worker) return
          // or it has been changed since
          if (desk.getState().open?.job === read?.job) desk.setState({ verdict: data.verdict, stopped: false })
          end()
          if (read !== null) judged(read.job, data.verdict)
          return
        }
        case 'failed':
          end()
          broke(data.why)
      }
    }
    worker.postMessage(ask)
  })
}

/**
 * The worker's own assembly cannot be sent: its joists and names are functions as much as numbers, and sending the rest takes as long as
 * making it. So it is made again here, in slices.
 */
async function setOut(job: Job, fileName: string, worker: Worker): Promise<Shown | null> {
  const { assembleInSteps } = await loadAssembly()
  const isWanted = (): boolean => busy === worker
  const progress = (doneRatio: number): void => { desk.setState({ work: { step: 'setting-out', fileName, doneRatio: doneRatio * ASSEMBLING } }) }
  const assembly = await inSlices(assembleInSteps(job), { isWanted, progress })
  if (assembly === null) return null
  const { tubesInSteps } = await loadTubes()
  const drawn = await inSlices(tubesInSteps(assembly), { isWanted, progress: (ratio) => { progress(1 + ratio * (1 / ASSEMBLING - 1)) } })
  if (drawn === null) return null
  layOut({ job, assembly, fileName })
  desk.setState({ work: { step: 'checking', fileName, doneRatio: 0 } })
  void firstPicture.then(() => { worker.postMessage({ kind: 'check-it' } satisfies ToChecker) })
  const verdict: Shown['verdict'] = () => {
    const now = desk.getState()
    if (now.open?.job !== job) return null
    return now.verdict ?? (busy === worker ? null : 'stopped')
  }
  return { job, assembly, verdict }
}
