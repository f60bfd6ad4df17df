import { openText } from '../../opening.ts'
import { pickInPlan, putToolAway } from '../../plan/board.ts'
import { STARTING_VOIDS } from './voids.ts'

/** Ways to begin. What is on the bench now is kept as a job of its own. */
export function StartCards({ title = 'Start a job' }: { readonly title?: string }) {
  return (
    <section className="start" aria-label={title}>
      <h2>{title}</h2>
      <div className="start-cards">
        {STARTING_VOIDS.map(({ id, name, about, make }) => (
          <button key={id} type="button" className="start-card" data-start={id} onClick={() => {
            const job = make()
            putToolAway()
            pickInPlan(null)
            void openText(JSON.stringify(job), job.name)
          }}>
            <b>{name}</b>
            <span>{about}</span>
          </button>
        ))}
      </div>
    </section>
  )
}
