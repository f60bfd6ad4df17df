/** The web members of an open-web joist, seen from the side: x along the joist from its datum end, y up from its underside, mm. */
import type { Joist, JoistField, OpenWebSection } from '#model/index.ts'

/** One web member: its centreline between the chords' inner faces, leaning or upright. */
export interface WebMember {
  readonly kind: 'web' | 'post'
  /** counts from 1 from the datum end, diagonals and posts together */
  readonly number: number
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

/** Where a member stands across the joist, n from its middle plane to the left, mm. */
export interface AcrossRange {
  readonly face: '' | 'left' | 'right'
  readonly n0: number
  readonly n1: number
}

/** Plates lie on the chords' side faces; a middle member stands astride the middle plane. */
export function webFaces(section: OpenWebSection): AcrossRange[] {
  const half = section.chordWidthMm / 2, t = section.webThicknessMm
  const left: AcrossRange = { face: 'left', n0: half, n1: half + t }
  const right: AcrossRange = { face: 'right', n0: -half - t, n1: -half }
  switch (section.webFaces) {
    case 'both': return [left, right]
    case 'left': return [left]
    case 'right': return [right]
    case 'middle': return [{ face: '', n0: -t / 2, n1: t / 2 }]
  }
}

/** Less of a web than this past the end of the joist is none, mm: rounding. */
const LEAST_LEFT_MM = 1e-6

/**
 * Diagonals run from each bottom node (a whole number of pitches from the first) up to the top node half a pitch on, and
 * down to the next; flipped, top and bottom change places. One that runs past the end of the joist, or into an end block, is there
 * up to that: what is left of it still stands in the way. Members that would stand in a web-free stretch are not there at all.
 */
export function webMembers(section: OpenWebSection, field: JoistField, joist: Joist, lengthMm: number): WebMember[] {
  const flip = joist.flip ?? field.flip
  const firstMm = joist.firstNodeMm ?? field.firstNodeMm
  const halfPitch = section.webPitchMm / 2
  const low = section.chordHeightMm, high = section.depthMm - section.chordHeightMm
  const startMm = section.endBlockMm, endMm = lengthMm - section.endBlockMm
  const isFree = (from: number, to: number) => joist.webFree.some((s) => s.fromMm < to && s.toMm > from)
  const isThere = (from: number, to: number) => Math.min(to, endMm) - Math.max(from, startMm) > LEAST_LEFT_MM && !isFree(from, to)
  const postsAt = (isTop: boolean) => section.posts === 'all-nodes' || section.posts === (isTop ? 'top-nodes' : 'bottom-nodes')

  const members: WebMember[] = []
  const first = Math.floor((startMm - firstMm) / halfPitch) - 1
  const last = Math.ceil((endMm - firstMm) / halfPitch) + 1
  for (let k = first; k <= last; k++) {
    const x = firstMm + k * halfPitch
    const isTop = (k % 2 !== 0) !== flip
    if (postsAt(isTop)) {
      const halfWidth = section.webWidthMm / 2
      if (x >= startMm && x <= endMm && isThere(x - halfWidth, x + halfWidth)) members.push({ kind: 'post', number: members.length + 1, x0: x, y0: low, x1: x, y1: high })
    }
    if (isThere(x, x + halfPitch)) {
      const x0 = Math.max(x, startMm), x1 = Math.min(x + halfPitch, endMm)
      const y0 = isTop ? high : low, rise = (isTop ? low - high : high - low) / halfPitch
      members.push({ kind: 'web', number: members.length + 1, x0, y0: y0 + rise * (x0 - x), x1, y1: x1 < x + halfPitch ? y0 + rise * (x1 - x) : isTop ? low : high })
    }
  }
  return members
}
