import { useFrame, useThree } from '@react-three/fiber'
import { useEffect, useMemo } from 'react'
import type { RefObject } from 'react'
import { Vector3 } from 'three'
import type { Cut } from './cutAway.ts'
import { cutAwayBy } from './cutAway.ts'
import type { Label } from './extras.ts'
import type { Frame } from './frame.ts'
import { toScene } from './frame.ts'
import type { Block, LabelAsk } from './placeLabels.ts'
import { placeLabels } from './placeLabels.ts'

/** The name of what is picked out stands where it must, and so do buttons and the key to the colours; the others make room for them. */
function takenBlocks(place: HTMLElement | null): Block[] {
  if (place === null) return []
  const { left, top } = place.getBoundingClientRect()
  const over = place.closest('.stage')?.querySelectorAll('.void-tag, .view-buttons .button, .air-key, .hint') ?? []
  return [...over].map((one) => {
    const box = one.getBoundingClientRect()
    return { left: box.left - left, top: box.top - top, width: box.width, height: box.height }
  })
}

/** a name does not touch what it stands clear of itself, CSS px */
const CLEAR_PX = 4

/** Names that float at their things and never lie on one another. Placed anew with every drawn frame; elements are made only when the names change. */
export function Labels({ labels, cut, frame, tags }: {
  readonly labels: readonly Label[], readonly cut: Cut | null, readonly frame: Frame, readonly tags: RefObject<HTMLDivElement | null>
}) {
  const invalidate = useThree((state) => state.invalidate)
  const made = useMemo(() => labels.map(({ words, look }) => {
    const element = document.createElement('div')
    element.className = `void-label ${look}`
    element.textContent = words
    element.style.visibility = 'hidden'
    return { element, width: 0, height: 0 }
  }), [labels])
  useEffect(() => {
    const place = tags.current
    if (place === null || made.length === 0) return
    place.append(...made.map(({ element }) => element))
    // all are measured at once, so that the page is laid out once
    for (const one of made) {
      one.width = one.element.offsetWidth
      one.height = one.element.offsetHeight
    }
    invalidate()
    return () => { for (const { element } of made) element.remove() }
  }, [made, tags, invalidate])

  const spots = useMemo(() => labels.map(({ anchors }) => anchors
    .filter((anchor) => cut === null || cutAwayBy(cut, ...anchor) <= 0)
    .map((anchor) => new Vector3(...toScene(frame, ...anchor)))), [labels, cut, frame])
  useFrame(({ camera, size }) => {
    if (made.length === 0 || made[0].width === 0) return
    const seen = new Vector3()
    camera.updateMatrixWorld()
    const asks = labels.map(({ weight, offPx }, i): LabelAsk => ({
      weight, offPx, width: made[i].width, height: made[i].height,
      anchorsXy: spots[i].flatMap((spot) => {
        seen.copy(spot).project(camera)
        return seen.z > 1 ? [NaN, NaN] : [(seen.x + 1) / 2 * size.width, (1 - seen.y) / 2 * size.height]
      }),
    }))
    // what a name stands clear of is not to be hidden by another name either
    const clear = asks.flatMap(({ anchorsXy, offPx }): Block[] => offPx === undefined ? [] : Array.from({ length: anchorsXy.length / 2 }, (_, i) => i).flatMap((i) => Number.isNaN(anchorsXy[2 * i]) ? []
      : [{ left: anchorsXy[2 * i] - offPx + CLEAR_PX, top: anchorsXy[2 * i + 1] - offPx + CLEAR_PX, width: 2 * (offPx - CLEAR_PX), height: 2 * (offPx - CLEAR_PX) }]))
    const places = placeLabels(asks, size.width, size.height, [...takenBlocks(tags.current), ...clear])
    made.forEach(({ element }, i) => {
      const isPlaced = Number.isFinite(places[2 * i])
      element.style.visibility = isPlaced ? 'visible' : 'hidden'
      if (isPlaced) element.style.transform = `translate(${places[2 * i].toFixed(1)}px, ${places[2 * i + 1].toFixed(1)}px)`
    })
  })
  return null
}
