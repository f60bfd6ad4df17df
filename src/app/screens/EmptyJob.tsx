/** What belongs in a job that has nothing in it. */
export function EmptyJob() {
  return (
    <div className="picture-words picture-words-over">
      <h2>This job is empty</h2>
      <p>A void starts with its ceiling zones and its joists; then come the manifolds and plenums with their spigots, and a run from each spigot to another.</p>
    </div>
  )
}
