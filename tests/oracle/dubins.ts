/**
 * Shortest paths in the plane that start and end in given directions and nowhere bend tighter than a radius: three pieces,
 * each an arc of that radius or straight (Dubins, On Curves of Minimal Length with a Constraint on Average Curvature,
 * American Journal of Mathematics 79, 1957). Built from the circles beside both ends and their common tangents.
 * L turns left (counter-clockwise), R right, S goes straight.
 */
export type DubinsWord = 'LSL' | 'RSR' | 'LSR' | 'RSL' | 'RLR' | 'LRL'

export interface Pose {
  readonly x: number
  readonly y: number
  readonly headingRad: number
}

export interface DubinsPath {
  readonly word: DubinsWord
  /** lengths of the three pieces, in the unit of the radius */
  readonly pieces: readonly [number, number, number]
  readonly length: number
}

const FULL = 2 * Math.PI
/** A turn that is a whole one but for this is none, rad: rounding. */
const NO_TURN = 1e-9

/** Every path of the six words that joins the two poses; LRL and RLR may come twice, by either middle circle. @param radius > 0 */
export function dubinsPaths(from: Pose, to: Pose, radius: number): DubinsPath[] {
  if (!(radius > 0)) throw new Error(`dubinsPaths: radius must be > 0, got ${radius}`)
  const paths: DubinsPath[] = []
  const add = (word: DubinsWord, first: number, middle: number, last: number): void => {
    paths.push({ word, pieces: [first, middle, last], length: first + middle + last })
  }
  for (const [first, last] of [[1, 1], [-1, -1], [1, -1], [-1, 1]] as const) {
    const [ax, ay] = centre(from, first, radius), [bx, by] = centre(to, last, radius)
    const dx = bx - ax, dy = by - ay, apart = Math.hypot(dx, dy), angle = Math.atan2(dy, dx)
    const turns = (heading: number): [number, number] => [radius * turn(first, from.headingRad, heading), radius * turn(last, heading, to.headingRad)]
    if (first === last) {
      // circles that fall together have every tangent; the one that is left at once is as short as any
      const heading = apart < radius * NO_TURN ? from.headingRad : angle
      const [t, q] = turns(heading)
      add(first > 0 ? 'LSL' : 'RSR', t, apart < radius * NO_TURN ? 0 : apart, q)
      if (apart <= 4 * radius) {
        for (const side of [1, -1]) {
          const half = side * Math.acos(Math.min(1, apart / (4 * radius)))
          // from the first circle to the middle one, and from the middle one to the last
          const into = angle + half + first * Math.PI / 2, out = angle - half + Math.PI + first * Math.PI / 2
          add(first > 0 ? 'LRL' : 'RLR', radius * turn(first, from.headingRad, into), radius * turn(-first, into, out), radius * turn(first, out, to.headingRad))
        }
      }
    } else if (apart >= 2 * radius) {
      const straight = Math.sqrt(Math.max(0, apart * apart - 4 * radius * radius))
      const [t, q] = turns(angle + first * Math.atan2(2 * radius, straight))
      add(first > 0 ? 'LSR' : 'RSL', t, straight, q)
    }
  }
  return paths
}

export function shortestDubins(from: Pose, to: Pose, radius: number): DubinsPath {
  return dubinsPaths(from, to, radius).reduce((best, path) => path.length < best.length ? path : best)
}

/** Where a path ends: an independent check of its pieces. */
export function endOfDubins(from: Pose, { word, pieces }: DubinsPath, radius: number): Pose {
  let { x, y, headingRad } = from
  pieces.forEach((length, k) => {
    const way = word[k] === 'S' ? 0 : word[k] === 'L' ? 1 : -1
    if (way === 0) {
      x += length * Math.cos(headingRad)
      y += length * Math.sin(headingRad)
    } else {
      const next = headingRad + way * length / radius
      x += way * radius * (Math.sin(next) - Math.sin(headingRad))
      y -= way * radius * (Math.cos(next) - Math.cos(headingRad))
      headingRad = next
    }
  })
  return { x, y, headingRad }
}

/** Middle of the circle to the left (+1) or right (-1) of a pose. */
function centre({ x, y, headingRad }: Pose, way: 1 | -1, radius: number): [number, number] {
  return [x - way * radius * Math.sin(headingRad), y + way * radius * Math.cos(headingRad)]
}

/** How far one turns to the left (+1) or right (-1) from one heading to another, rad, in [0, 2 pi). */
function turn(way: number, from: number, to: number): number {
  const turned = way * (to - from)
  const least = turned - FULL * Math.floor(turned / FULL)
  return least > FULL - NO_TURN ? 0 : least
}
