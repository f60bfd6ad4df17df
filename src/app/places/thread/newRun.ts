import { nextId } from '#commands/index.ts'
import type { Job } from '#model/index.ts'

/** Id and name of the run after the last, in the job's own way of numbering: 'R24', 'Run 24'. The id is one that no room or other part has. */
export function newRun(job: Job): { readonly id: string, readonly name: string } {
  const numbers = job.runs.flatMap(({ id, name }) => [/(\d+)$/.exec(id)?.[1], /^Run (\d+)\b/.exec(name)?.[1]]).map((text) => Number(text ?? 0))
  const number = Math.max(0, ...numbers.filter((value) => value < 1e6)) + 1
  const prefix = /^(.*?)\d+$/.exec(job.runs.at(-1)?.id ?? '')?.[1]
  return { id: nextId(job, 'runs', prefix), name: `Run ${number}` }
}
