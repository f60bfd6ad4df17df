/** Reads and checks a job away from the window, so that the view never waits. */
import { parseJob } from '#model/parse.ts'
import type { Job } from '#model/index.ts'
import type { FromChecker, ToChecker } from './checkerMessages.ts'

/** a step of progress smaller than this is not sent */
const WORTH_SAYING = 0.02

/** Moves for more findings than this keep a person waiting; the worst come first, and the next ones once those are cleared. */
const MOST_MOVES = 150

const say = (message: FromChecker): void => { postMessage(message) }

/** The checks come in their own file, so that reading a job, and the picture after it, never wait for them. */
async function check(job: Job): Promise<void> {
  let said = 0
  say({ kind: 'checking', doneRatio: 0 })
  const { assemble, contextFor, verdictOf } = await import('./checking.ts')
  const assembly = assemble(job)
  const onProgress = (doneRatio: number): void => {
    if (doneRatio < said + WORTH_SAYING) return
    said = doneRatio
    say({ kind: 'checking', doneRatio })
  }
  const verdict = verdictOf(job, assembly, contextFor(assembly), { onProgress, mostMoves: MOST_MOVES })
  say({ kind: 'verdict', verdict })
}

/** what was opened, until it is checked */
let opened: Job | undefined

async function answer(ask: ToChecker): Promise<void> {
  if (ask.kind === 'check-it') {
    if (opened !== undefined) await check(opened)
    opened = undefined
    return
  }
  if (ask.kind === 'check') {
    await check(ask.job)
    return
  }
  const read = parseJob(ask.text)
  if (!read.ok) {
    say({ kind: 'refused', problems: read.problems, unlisted: read.unlisted })
    return
  }
  opened = read.job
  say({ kind: 'job', job: read.job })
}

addEventListener('message', ({ data }: MessageEvent<ToChecker>) => {
  answer(data).catch((error: unknown) => { say({ kind: 'failed', why: error instanceof Error ? error.message : String(error) }) })
})
