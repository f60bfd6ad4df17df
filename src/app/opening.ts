/** Opening a job: read and checked in a worker, set out for the view here. One at a time; a new file puts an end to the one before. */
import type { Assembly } from '#assembly/assembly.ts'
import type { Job } from '#model/index.ts'
import { desk, layOut } from './desk.ts'
import { loadAssembly, loadDemo, loadView } from './laterParts.ts'
import type { FromChecker, ToChecker } from './checkerMessages.ts'

/** Larger files than this are not read at all, bytes. */
export const LARGEST_FILE = 64 * 1024 * 1024

/** idle, and kept warm for the next file */
let spare: Worker | null = null
let busy: Worker | null = null

const newWorker = (): Worker => new Worker(new URL('./checker.worker.ts', import.meta.url), { type: 'module' })

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

/** Reads the text of a project file; what is on the desk stays until the new job is known to be whole. */
export async function openText(text: string, fileName: string): Promise<void> {
  desk.setState({ work: { step: 'reading', fileName, doneRatio: 0 }, refusal: null })
  await work({ kind: 'open', text }, fileName)
}

export async function openFile(file: File): Promise<void> {
  if (file.size > LARGEST_FILE) {
    refuse(file.name, `${Math.round(file.size / 1024 / 1024)} MB`, `at most ${LARGEST_FILE / 1024 / 1024} MB`)
    return
  }
  let text: string
  try {
    text = await file.text()
  } catch {
    refuse(file.name, 'a file that this browser could not read', 'a project file on this device')
    return
  }
  await openText(text, file.name)
}

/** The building that a newcomer sees first. */
export async function openDemo(): Promise<void> {
  const fileName = 'the demo building'
  desk.setState({ work: { step: 'reading', fileName, doneRatio: 0 } })
  try {
    const demo = loadDemo()
    // all are wanted for the first picture, so none waits for the one before
    void loadView()
    void loadAssembly()
    spare ??= newWorker()
    const { default: text } = await demo
    await openText(text, fileName)
  } catch {
    desk.setState({ work: null })
  }
}

/** Checks the open job again, after that was stopped. */
export async function checkAgain(): Promise<void> {
  const { open } = desk.getState()
  if (open === null) return
  desk.setState({ stopped: false, work: { step: 'checking', fileName: open.fileName, doneRatio: 0 } })
  await work({ kind: 'check', job: open.job }, open.fileName)
}

/** Stops reading or checking. The job on the desk stays. */
export function stopWork(): void {
  busy?.terminate()
  busy = null
  desk.setState((now) => ({ work: null, stopped: now.open !== null && now.verdict === null }))
}

function work(ask: ToChecker, fileName: string): Promise<void> {
  busy?.terminate()
  const worker = busy = hire()
  return new Promise((resolve) => {
    const end = (): void => {
      letGo(worker)
      desk.setState({ work: null })
      resolve()
    }
    worker.onerror = (event) => {
      event.preventDefault()
      worker.terminate()
      if (busy === worker) busy = null
      desk.setState({ work: null })
      refuse(fileName, `something that stopped the checker (${event.message ?? 'no reason given'})`, 'a job that can be checked')
      resolve()
    }
    worker.onmessage = async ({ data }: MessageEvent<FromChecker>) => {
      switch (data.kind) {
        case 'refused':
          desk.setState({ refusal: { fileName, problems: data.problems, unlisted: data.unlisted } })
          end()
          return
        case 'job':
          desk.setState({ work: { step: 'setting-out', fileName, doneRatio: 0 } })
          settingOut = setOut(data.job, fileName, worker)
          return
        case 'checking':
          desk.setState((now) => now.work?.step === 'checking' ? { work: { step: 'checking', fileName, doneRatio: data.doneRatio } } : {})
          return
        case 'verdict':
          await settingOut
          // another file may have taken its place meanwhile
          if (busy !== worker) return
          desk.setState({ verdict: data.verdict, stopped: false })
          end()
          return
        case 'failed':
          end()
          refuse(fileName, `something that stopped the checker (${data.why})`, 'a job that can be checked')
      }
    }
    let settingOut: Promise<void> = Promise.resolve()
    worker.postMessage(ask)
  })
}

/** The worker's own assembly cannot be sent whole, and making it is quick, so it is made again here for the view. */
async function setOut(job: Job, fileName: string, worker: Worker): Promise<void> {
  const { assemble } = await loadAssembly()
  if (busy !== worker) return
  const assembly: Assembly = assemble(job)
  layOut({ job, assembly, fileName })
  desk.setState({ work: { step: 'checking', fileName, doneRatio: 0 } })
}

function refuse(fileName: string, found: string, allowed: string): void {
  desk.setState({ refusal: { fileName, problems: [{ path: '', code: 'unreadable', found, allowed }], unlisted: 0 } })
}
