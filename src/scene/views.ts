/** Where the camera stands for each way of looking. Scene units; pure, so that it can be tried without a screen. */
import type { BoundsMm, Frame, Xyz } from './frame.ts'
import { toScene, toSceneLength } from './frame.ts'

export type Stand = 'whole' | 'above' | 'below'

/** Where the eye is and what it looks at. */
export interface Look {
  readonly eye: Xyz
  readonly target: Xyz
}

/** unit direction from the target to the eye */
const DIRECTIONS: Record<Stand, Xyz> = {
  // three-quarter, high enough to look down between the joists
  whole: unit(-0.52, -0.72, 0.78),
  // a hair off plumb, so that 'up the page' stays +y
  above: unit(0, -0.001, 1),
  below: unit(0, -0.001, -1),
}

/** The picture that a view must fit in. */
export interface Picture {
  readonly fovDeg: number
  /** width over height */
  readonly aspect: number
  /** parts of the height, 0..1, that are covered at the top and at the bottom */
  readonly coveredTop: number
  readonly coveredBottom: number
}

/** All of the void, from one of the places to stand. */
export function lookFrom(frame: Frame, stand: Stand, picture: Picture): Look {
  return lookAtBox(frame, frame.boundsMm, DIRECTIONS[stand], picture)
}

/** All of one thing, from the side that the eye is on. */
export function lookAtThing(frame: Frame, boundsMm: BoundsMm, eyeNow: Xyz, picture: Picture): Look {
  const [x, y, z] = toScene(frame, (boundsMm[0] + boundsMm[3]) / 2, (boundsMm[1] + boundsMm[4]) / 2, (boundsMm[2] + boundsMm[5]) / 2)
  return lookAtBox(frame, boundsMm, tilted(eyeNow[0] - x, eyeNow[1] - y, eyeNow[2] - z), picture)
}

/** As near as the camera may stand for all eight corners of a box to be in the picture, seen from this direction. */
function lookAtBox(frame: Frame, boundsMm: BoundsMm, direction: Xyz, { fovDeg, aspect, coveredTop, coveredBottom }: Picture): Look {
  const [minX, minY, minZ, maxX, maxY, maxZ] = boundsMm
  const low = toScene(frame, minX, minY, minZ), high = toScene(frame, maxX, maxY, maxZ)
  const right = unit(...cross([0, 0, 1], direction))
  const up = cross(direction, right)
  const tan = Math.tan(fovDeg * Math.PI / 360), tanRight = tan * aspect
  const tanTop = tan * (1 - 2 * coveredTop), tanBottom = tan * (1 - 2 * coveredBottom)
  // per side of the picture: the eye at p + d * direction sees a corner when |offset across| <= (d - depth) * tan
  let target: Xyz = [0, 0, 0]
  let distance = 0.5
  for (let round = 0; round < 3; round++) {
    let left = -Infinity, rightMost = -Infinity, top = -Infinity, bottom = -Infinity
    for (let corner = 0; corner < 8; corner++) {
      const p: Xyz = [corner & 1 ? high[0] : low[0], corner & 2 ? high[1] : low[1], corner & 4 ? high[2] : low[2]]
      const q: Xyz = [p[0] - target[0], p[1] - target[1], p[2] - target[2]]
      const depth = dot(q, direction), across = dot(q, right), rise = dot(q, up)
      left = Math.max(left, -across / tanRight + depth); rightMost = Math.max(rightMost, across / tanRight + depth)
      top = Math.max(top, rise / tanTop + depth); bottom = Math.max(bottom, -rise / tanBottom + depth)
    }
    const shiftRight = (rightMost - left) / 2 * tanRight, shiftUp = (top - bottom) / (1 / tanTop + 1 / tanBottom)
    target = [0, 1, 2].map((k) => target[k] + shiftRight * right[k] + shiftUp * up[k]) as unknown as Xyz
    distance = Math.max((left + rightMost) / 2, (top + bottom) / 2, 0.5)
  }
  const far = distance * 1.06
  return { target, eye: [target[0] + far * direction[0], target[1] + far * direction[1], target[2] + far * direction[2]] }
}

/** How far off the eye stays from one place that it flies to, mm: an arm's length and a half, so that two joists either side are seen. */
export const CLOSE_UP_MM = 1_500

/** Flies in on a place while keeping the side that the eye is on, but never nearly edge-on to the void. */
export function lookAtPlace(frame: Frame, placeMm: Xyz, eyeNow: Xyz, awayMm = CLOSE_UP_MM): Look {
  const target = toScene(frame, ...placeMm)
  const [x, y, z] = tilted(eyeNow[0] - target[0], eyeNow[1] - target[1], eyeNow[2] - target[2])
  const away = toSceneLength(awayMm)
  return { target, eye: [target[0] + away * x, target[1] + away * y, target[2] + away * z] }
}

/** The unit direction of x, y, z, brought to between 35 and 65 degrees from level, above or below as it was. */
function tilted(x: number, y: number, z: number): Xyz {
  const plan = Math.hypot(x, y)
  const rise = Math.min(Math.max(Math.atan2(Math.abs(z), plan), 35 * Math.PI / 180), 65 * Math.PI / 180)
  // straight above there is no side to keep: the first view's is taken
  const [ux, uy] = plan < 0.02 * Math.abs(z) || plan === 0 ? unit(DIRECTIONS.whole[0], DIRECTIONS.whole[1], 0) : [x / plan, y / plan]
  return [Math.cos(rise) * ux, Math.cos(rise) * uy, (z < 0 ? -1 : 1) * Math.sin(rise)]
}

function unit(x: number, y: number, z: number): Xyz {
  const length = Math.hypot(x, y, z)
  return [x / length, y / length, z / length]
}
function cross(a: Xyz, b: Xyz): Xyz {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}
function dot(a: Xyz, b: Xyz): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
