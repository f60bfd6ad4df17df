import type { Job } from '#model/index.ts'
import { bench } from '../../editing/theBench.ts'
import { board } from '../../plan/board.ts'
import { STARTING_VOIDS } from './voids.ts'

/** Ways to begin. @param onStart takes the job instead of the bench alone, so that it can be kept as one of several */
export function StartCards({ onStart = startOnBench }: { readonly onStart?: (job: Job) => void }) {
  return (
    <section className="start" aria-label="Start a job">
      <h2>Start a job</h2>
      <div className="start-cards">
        {STARTING_VOIDS.map(({ id, name, about, make }) => (
          <button key={id} type="button" className="start-card" data-start={id} onClick={() => { onStart(make()) }}>
            <b>{name}</b>
            <span>{about}</span>
          </button>
        ))}
      </div>
    </section>
  )
}

export function startOnBench(job: Job): void {
  board.setState({ pick: null, tool: null, said: null, asked: null })
  bench.take(job)
}
