import { CHECK, PLACES } from '../places/index.ts'
import { goToPlace } from '../desk.ts'
import { useDesk } from '../useDesk.ts'

const ALL = [...PLACES.slice(0, 3), { id: CHECK, name: 'Check' }, ...PLACES.slice(3)]

/** The places of the workshop in the order of the work; on a phone along the lower edge, under the thumb. */
export function PlacesBar() {
  const place = useDesk((now) => now.place)
  return (
    <nav className="places" aria-label="Places of the workshop">
      {ALL.map(({ id, name }) => (
        <button key={id} type="button" className="place" data-place={id} aria-current={id === place ? 'page' : undefined}
          onClick={({ currentTarget }) => {
            goToPlace(id)
            currentTarget.scrollIntoView({ block: 'nearest', inline: 'center' })
          }}>{name}</button>
      ))}
    </nav>
  )
}
