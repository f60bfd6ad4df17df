import { useFrame } from '@react-three/fiber'
import { useMemo, useState } from 'react'
import { Vector3 } from 'three'
import { Labels } from './Labels.tsx'
import { Spots, type Spot } from './Spots.tsx'
import type { Label } from './extras.ts'
import type { Xyz } from './frame.ts'
import { toScene } from './frame.ts'
import { useSceneFrame } from './sceneFrame.ts'
import { ringGroups } from './ringGroups.ts'

/** A spigot or sleeve that a run may start or end at. */
export interface RingedEnd {
  readonly key: string
  /** name of what it is on */
  readonly on: string
  readonly at: Xyz
}

const HAS_THUMB = matchMedia('(pointer: coarse)')
/** a name stands clear of its ring, CSS px */
const CLEAR_PX = 22
/** what has more names than this is read from the list */
const MOST_NAMES = 24

/** The ends that the next tap may take, each with the name of what it is on; under a thumb those that overlap are one, with their number. */
export function EndRings({ ends, heldKey, aimedKey }: {
  readonly ends: readonly RingedEnd[]
  /** where the run starts that is being laid */
  readonly heldKey: string | null
  /** shown before it is taken */
  readonly aimedKey: string | null
}) {
  const { frame, tags } = useSceneFrame()
  const [grouping, setGrouping] = useState('')
  const free = useMemo(() => ends.filter(({ key }) => key !== heldKey && key !== aimedKey), [ends, heldKey, aimedKey])
  const spot = useMemo(() => new Vector3(), [])
  useFrame(({ camera, size }) => {
    camera.updateMatrixWorld()
    const groups = !HAS_THUMB.matches ? free.map((_, i) => [i]) : ringGroups(free.map(({ at }) => at), (place) => {
      spot.set(...toScene(frame, ...place)).project(camera)
      return spot.z > 1 ? null : [(spot.x + 1) / 2 * size.width, (1 - spot.y) / 2 * size.height]
    }).map(({ members }) => members)
    // rings are made anew only when others come to lie on one another
    setGrouping(groups.map((members) => members.join(' ')).join(','))
  })
  const spots = useMemo((): Spot[] => {
    const held = ends.filter(({ key }) => key === heldKey || key === aimedKey).map(({ at }): Spot => ({ at, shape: 'held' }))
    const groups = grouping === '' ? [] : grouping.split(',').map((members) => members.split(' ').flatMap((i) => free[Number(i)] ?? []))
    return [...groups.filter(({ length }) => length > 0).map((group): Spot => group.length === 1 ? { at: group[0].at, shape: 'ring' }
      : { at: [0, 1, 2].map((k) => group.reduce((sum, { at }) => sum + at[k], 0) / group.length) as unknown as Spot['at'], shape: 'rings', words: String(Math.min(99, group.length)) }), ...held]
  }, [ends, free, grouping, heldKey, aimedKey])
  const labels = useMemo((): Label[] => {
    const named = new Map<string, RingedEnd[]>()
    for (const place of ends) named.set(place.on, [...named.get(place.on) ?? [], place])
    return [...named].slice(0, MOST_NAMES).map(([name, places]): Label => ({
      id: `end-${name}`, words: name, anchors: [places[0], places.at(-1)!].map(({ at }) => at), weight: places.some(({ key }) => key === heldKey || key === aimedKey) ? 31 : 30, look: 'void-label-end', offPx: CLEAR_PX,
    }))
  }, [ends, heldKey, aimedKey])
  return (
    <>
      <Spots spots={spots} />
      <Labels labels={labels} cut={null} frame={frame} tags={tags} />
    </>
  )
}
