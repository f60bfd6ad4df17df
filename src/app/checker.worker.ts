/** Reads and checks a job away from the window, so that the view never waits. */
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { parseJob } from '#model/parse.ts'
import type { Job } from '#model/index.ts'
import { verdictOf } from '#routing/verdict.ts'
import type { FromChecker, ToChecker } from './checkerMessages.ts'

/** a step of progress smaller than this is not sent */
const WORTH_SAYING = 0.02

const say = (message: FromChecker): void => { postMessage(message) }

function check(job: Job): void {
  let said = 0
  say({ kind: 'checking', doneRatio: 0 })
  const assembly = assemble(job)
  const verdict = verdictOf(job, assembly, contextFor(assembly), (doneRatio) => {
    if (doneRatio < said + WORTH_SAYING) return
    said = doneRatio
    say({ kind: 'checking', doneRatio })
  })
  say({ kind: 'verdict', verdict })
}

addEventListener('message', ({ data }: MessageEvent<ToChecker>) => {
  try {
    if (data.kind === 'check') {
      check(data.job)
      return
    }
    const read = parseJob(data.text)
    if (!read.ok) {
      say({ kind: 'refused', problems: read.problems, unlisted: read.unlisted })
      return
    }
    say({ kind: 'job', job: read.job })
    check(read.job)
  } catch (error) {
    say({ kind: 'failed', why: error instanceof Error ? error.message : String(error) })
  }
})
