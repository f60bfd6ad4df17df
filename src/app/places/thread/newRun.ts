import { nextId } from '#commands/index.ts'
import type { Job } from '#model/index.ts'

/** Id and name of the run after the last, in the job's own way of numbering: 'R24', 'Run 24'. */
export function newRun(job: Job): { readonly id: string, readonly name: string } {
  const numbers = job.runs.flatMap(({ id, name }) => [/(\d+)$/.exec(id)?.[1], /^Run (\d+)\b/.exec(name)?.[1]]).map((text) => Number(text ?? 0))
  const number = Math.max(0, ...numbers.filter((value) => value < 1e6)) + 1
  const prefix = /^(.*?)\d+$/.exec(job.runs.at(-1)?.id ?? 'R0')?.[1]
  const id = `${prefix ?? ''}${number}`
  return { id: prefix === undefined || job.runs.some((run) => run.id === id) ? nextId(job, 'runs') : id, name: `Run ${number}` }
}
