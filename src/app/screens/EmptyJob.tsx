import { goToPlace } from '../desk.ts'

/** What belongs in a job that has nothing in it, and where to begin. */
export function EmptyJob() {
  return (
    <div className="picture-words picture-words-over">
      <h2>This job is empty</h2>
      <p>A void starts with its ceiling zones and its joists; then come the manifolds and plenums with their spigots, and a run from each spigot to another.</p>
      <button type="button" className="button button-strong" onClick={() => { goToPlace('measure-up') }}>Begin by measuring up</button>
    </div>
  )
}
