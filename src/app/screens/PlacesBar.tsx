import { useEffect, useRef } from 'react'
import { CHECK, PLACES } from '../places/index.ts'
import { goToPlace } from '../desk.ts'
import { useDesk } from '../useDesk.ts'

const ALL = [...PLACES.slice(0, 3), { id: CHECK, name: 'Check' }, ...PLACES.slice(3)]

/** The places of the workshop in the order of the work; on a phone along the lower edge, under the thumb. */
export function PlacesBar() {
  const place = useDesk((now) => now.place)
  const bar = useRef<HTMLElement>(null)
  // the one that is open is in sight, whoever opened it
  useEffect(() => { bar.current?.querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest', inline: 'center' }) }, [place])
  return (
    <nav ref={bar} className="places" aria-label="Places of the workshop">
      {ALL.map(({ id, name }) => (
        <button key={id} type="button" className="place" data-place={id} aria-current={id === place ? 'page' : undefined} onClick={() => { goToPlace(id) }}>{name}</button>
      ))}
    </nav>
  )
}
