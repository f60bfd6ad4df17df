/** Whole jobs as the command line sees them: reading, assembling, checking, one run again, and the verdict with its moves. */
import { existsSync, readFileSync, readdirSync } from 'node:fs'
import { assemble } from '#assembly/assemble.ts'
import { checkJob, checkRun, contextFor } from '#checks/index.ts'
import { parseJob, formatJob, type Job } from '#model/index.ts'
import { clearingMove } from '#routing/clearingMove.ts'
import { trialSize } from '#routing/trialSize.ts'
import { verdictOf } from '#routing/verdict.ts'
import type { Bench } from './bench.ts'
import { instanceOf } from './instance.ts'
import { sideBySide, summary } from './measure.ts'
import type { Cell } from './table.ts'

const FOLDER = new URL('../../fixtures/good/', import.meta.url)
/** findings whose moves are looked for one by one */
const MOST_MOVES = 40

export const jobs: Bench = {
  name: 'jobs',
  run({ isQuick }) {
    const rows: Cell[][] = [], moves: Cell[][] = []
    const named: [string, Job][] = filesOf()
    named.push(['house, threaded', instanceOf('S', 'threaded').job])
    if (!isQuick) named.push(['house, blind', instanceOf('S', 'blind').job])
    for (const [name, job] of named) {
      const text = formatJob(job), assembly = assemble(job), context = contextFor(assembly)
      const findings = checkJob(assembly, context)
      const timed = sideBySide([
        { name: 'read', work: () => parseJob(text) },
        { name: 'assemble', work: () => assemble(job) },
        { name: 'context', work: () => contextFor(assembly) },
        { name: 'check', work: () => checkJob(assembly, context) },
        { name: 'check one', work: () => { for (let i = 0; i < context.runs.length; i++) checkRun(context, i) } },
        { name: 'trial', work: () => { for (let i = 0; i < context.runs.length; i++) trialSize(context, i) } },
      ], 5).map(({ medianMs }) => medianMs)
      const runs = Math.max(1, context.runs.length)
      const [read, assembled, built, checked, one, trial] = timed
      const isLarge = findings.length > 200
      const verdict = isLarge ? NaN : summary([cpuMs(() => verdictOf(job)), cpuMs(() => verdictOf(job))]).leastMs
      rows.push([name, assembly.solids.count, context.runs.length, findings.length, read, assembled, built, checked, one / runs, trial / runs, verdict])
      const each = findings.slice(0, MOST_MOVES).map((finding) => cpuMs(() => clearingMove(context, finding)))
      const { medianMs, mostMs } = summary(each)
      moves.push([name, each.length, medianMs, mostMs])
    }
    return [{
      title: 'Whole jobs: ms', rows,
      head: ['job', 'solids', 'runs', 'findings', 'read', 'assemble', 'prepare checks', 'checkJob', 'checkRun, each', 'trial size, each', 'verdict, cold from the job'],
      notes: ['a verdict of more than 200 findings is left out: it looks for a move for each'],
    }, { title: 'A move that clears a finding: ms each', head: ['job', 'findings tried', 'median', 'most'], rows: moves }]
  },
}

function filesOf(): [string, Job][] {
  if (!existsSync(FOLDER)) return []
  return readdirSync(FOLDER).filter((file) => file.endsWith('.json')).sort().flatMap((file): [string, Job][] => {
    const read = parseJob(readFileSync(new URL(file, FOLDER), 'utf8'))
    return read.ok ? [[file, read.job]] : []
  })
}

function cpuMs(work: () => unknown): number {
  const start = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(start)
  return (user + system) / 1_000
}
