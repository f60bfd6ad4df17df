import { useEffect, useState } from 'react'
import { PLACES, type PlaceLink } from './places/index.ts'
import type { Place } from './places/place.ts'
import { useDesk } from './useDesk.ts'

/** A place whose file has come, with its id and name out of the list. */
export type OpenPlace = Place & Pick<PlaceLink, 'id' | 'name'>

const come = new Map<string, OpenPlace>()

/** The place that is open; null for the desk itself, and until its file has come. */
export function usePlace(): OpenPlace | null {
  const id = useDesk((now) => now.place)
  const [, tell] = useState(0)
  useEffect(() => {
    const link = PLACES.find((one) => one.id === id)
    if (link === undefined || come.has(id)) return
    let isWanted = true
    void link.load().then((place) => {
      come.set(id, { ...place, id, name: link.name })
      if (isWanted) tell((count) => count + 1)
    })
    return () => { isWanted = false }
  }, [id])
  return come.get(id) ?? null
}
