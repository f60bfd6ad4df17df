import type { OpenPlace } from '../usePlace.ts'

/** The column of a place: its name, what it is for, and its work. */
export function PlacePanel({ place }: { readonly place: OpenPlace }) {
  const { Panel, name, about, id } = place
  return (
    <section className="panel place-panel" aria-label={name} data-open-place={id}>
      <div className="place-head">
        <h2>{name}</h2>
        <p>{about}</p>
      </div>
      <Panel />
    </section>
  )
}
