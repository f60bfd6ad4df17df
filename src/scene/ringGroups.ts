/** Rings that would lie on one another under a thumb stand as one, with their number; pure. */
import type { Xyz } from './frame.ts'

/** Rings nearer than this to each other cannot be told apart with a thumb, CSS px. */
export const THUMB_APART_PX = 36

export interface RingGroup {
  /** into the list of places */
  readonly members: readonly number[]
  /** the middle of its members, mm */
  readonly at: Xyz
}

/**
 * Each ring joins the nearest group whose first ring is near it, in the order of the list; one out of sight stands alone.
 * @param toPx where a place is drawn; null behind the eye
 */
export function ringGroups(places: readonly Xyz[], toPx: (place: Xyz) => readonly [number, number] | null, apartPx = THUMB_APART_PX): RingGroup[] {
  const groups: { readonly first: readonly [number, number] | null, readonly members: number[] }[] = []
  places.forEach((place, i) => {
    const px = toPx(place)
    let best: (typeof groups)[number] | undefined, least = apartPx
    if (px !== null) {
      for (const group of groups) {
        const away = group.first === null ? Infinity : Math.hypot(group.first[0] - px[0], group.first[1] - px[1])
        if (away < least) [best, least] = [group, away]
      }
    }
    if (best === undefined) groups.push({ first: px, members: [i] })
    else best.members.push(i)
  })
  return groups.map(({ members }) => ({ members, at: middleOf(members.map((i) => places[i])) }))
}

function middleOf(places: readonly Xyz[]): Xyz {
  const sum = (k: 0 | 1 | 2): number => places.reduce((total, place) => total + place[k], 0) / places.length
  return [sum(0), sum(1), sum(2)]
}
