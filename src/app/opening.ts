/** Whole jobs: opening them from files and from where they are kept, starting new ones, saving them. */
import type { Bench } from './editing/bench.ts'
import { desk } from './desk.ts'
import { loadAssembly, loadBench, loadDemo, loadPointing, loadView, loadVoids, loadWriting } from './laterParts.ts'
import { onJudged, readText, refuse, stopReading, warmUp } from './reading.ts'
import { showOnDesk } from './ontoDesk.ts'
import { canPick, pickFile, save as saveFile, saveAs as saveAsFile, type Saved } from './storage/files.ts'
import { holdJob } from './storage/hold.ts'
import { JobStore, randomId } from './storage/jobStore.ts'
import { Keeper, type KeeperNews } from './storage/keeper.ts'
import { lastOpen, rememberOpen } from './storage/lastOpen.ts'
import type { FileMark } from './storage/shelf.ts'
import { shelfOrMemory } from './storage/shelfOrMemory.ts'

/** Larger files than this are not read at all, bytes. */
export const LARGEST_FILE = 64 * 1024 * 1024
const DEMO_NAME = 'the demo building'

const others = typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel('joistway-jobs')
const store = new JobStore({ shelf: shelfOrMemory(() => { keeper.nothingLasts() }), sitting: randomId() })
let theBench: Promise<Bench> | undefined

export const keeper = new Keeper({
  store,
  show: readText,
  loadBench: bench,
  hold: holdJob,
  tell: (news) => { others?.postMessage(news) },
  remember: (id) => { rememberOpen(store, id) },
})
others?.addEventListener('message', ({ data }: MessageEvent<KeeperNews>) => { keeper.heard(data) })

/** The bench comes in a file of its own, after the first picture. */
function bench(): Promise<Bench> {
  theBench ??= loadBench().then(({ bench }) => {
    showOnDesk(bench)
    onJudged(bench.acceptVerdict)
    return bench
  })
  return theBench
}

/** What the window shows when it is loaded: the job that was open, or else the demo. */
export async function start(): Promise<void> {
  addEventListener('beforeunload', (event) => { if (keeper.isUnkept) event.preventDefault() })
  // all are wanted for the first picture, so none waits for the one before
  void loadView()
  void loadAssembly()
  void loadPointing()
  warmUp()
  const id = await lastOpen(store)
  if (id === undefined || !await keeper.open(id)) await openDemo()
  await keeper.refresh()
  void store.sweep().catch(() => {})
}

/** Before the window is loaded again. @returns false when that would lose work */
export async function keepWork(): Promise<boolean> {
  await keeper.flush()
  return !keeper.isUnkept
}

/** Reads the text of a project file; what is on the desk stays until the new job is known to be whole. */
export async function openText(text: string, fileName: string, { file, isWorthKeeping = true, anyway = false }: {
  readonly file?: FileMark, readonly isWorthKeeping?: boolean, readonly anyway?: boolean
} = {}): Promise<boolean> {
  const again = (): void => { void openText(text, fileName, { file, isWorthKeeping, anyway: true }) }
  if (!await keeper.leave(anyway, again)) return false
  const shown = await readText(text, fileName)
  if (shown === null) return false
  await keeper.adopt(shown, { file, isWorthKeeping })
  return true
}

export async function openFile(file: File, mark?: FileMark): Promise<void> {
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
  await openText(text, file.name, { file: mark })
}

/** Lets a person pick a file that can be saved to again. @returns false where the browser has no such picker */
export async function openPicked(): Promise<boolean> {
  if (!canPick()) return false
  const picked = await pickFile()
  if (picked !== undefined) await openFile(picked.file, picked.mark)
  return true
}

/** The building that a newcomer sees first. It is kept once it has been changed. */
export async function openDemo(): Promise<void> {
  desk.setState({ work: { step: 'reading', fileName: DEMO_NAME, doneRatio: 0 } })
  try {
    const { default: text } = await loadDemo()
    await openText(text, DEMO_NAME, { isWorthKeeping: false })
  } catch {
    desk.setState({ work: null })
  }
}

/** A job with nothing in it but the usual sizes of duct. */
export async function newJob(name = 'New job'): Promise<void> {
  const { bare } = await loadVoids()
  await openText(JSON.stringify(bare(name)), name)
}

/** Saves to the file that the job has, or asks for one. */
export async function save(): Promise<void> {
  const { file } = keeper.state.getState()
  await write(file?.handle === undefined ? saveAsFile : (text) => saveFile(text, file))
}

export async function saveAs(): Promise<void> {
  await write(saveAsFile)
}

async function write(to: (text: string, name: string) => Promise<Saved>): Promise<void> {
  const job = (await bench()).store.getState().history?.present
  if (job === undefined) return
  const { formatJob } = await loadWriting()
  const saved = await to(formatJob(job), job.name)
  if (saved.ok) await keeper.noteFile(saved.file, saved.how, job)
  else if (saved.why !== 'left-it') keeper.tell({ kind: 'not-saved', words: saved.words })
}

/** Checks the open job again, after that was stopped. */
export async function checkAgain(): Promise<void> {
  (await bench()).checkNow()
}

/** Stops reading or checking. The job on the desk stays. */
export function stopWork(): void {
  stopReading()
  desk.setState((now) => ({ work: null, stopped: now.open !== null && now.verdict === null }))
  void theBench?.then(({ stopChecking }) => { stopChecking() })
}
