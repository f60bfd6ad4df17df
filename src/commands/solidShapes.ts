/** What is on site, from what a tape measures of it: members between two points, stacks, pipes, walls. */
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import { turned } from '#assembly/place.ts'
import type { Point2, Point3 } from '#model/index.ts'
import type { PartInput } from './parts.ts'

type ShapeInput = PartInput<'solids'>['shape']

const DEG = 180 / Math.PI
/** Two points nearer than this make no member, mm. */
const SHORTEST_MM = 0.1

/** A straight member of rectangular section from point to point, both in the middle of its underside; undefined when they are the same point. */
export function boxBetween(from: Point3, to: Point3, widthMm: number, depthMm: number): ShapeInput | undefined {
  const x = to[0] - from[0], y = to[1] - from[1], z = to[2] - from[2]
  const level = Math.hypot(x, y), lengthMm = Math.hypot(level, z)
  if (!(lengthMm >= SHORTEST_MM)) return undefined
  const rotationDeg: Point3 = [0, -Math.atan2(z, level) * DEG, Math.atan2(y, x) * DEG]
  // half its depth up from the underside, which for a sloping one is not plumb
  const up = turned(axesOfRotation(...rotationDeg), 0, 0, depthMm / 2)
  return {
    kind: 'box', rotationDeg, sizeMm: [lengthMm, widthMm, depthMm],
    centre: [(from[0] + to[0]) / 2 + up[0], (from[1] + to[1]) / 2 + up[1], (from[2] + to[2]) / 2 + up[2]],
  }
}

/** A wall in plan along a line, its thickness to the left of the way from one end to the other, to the right, or half to each; undefined when the ends are the same point. */
export function wallAlong(from: Point2, to: Point2, thicknessMm: number, side: 'left' | 'right' | 'middle', bottomMm: number, topMm: number): ShapeInput | undefined {
  const x = to[0] - from[0], y = to[1] - from[1], lengthMm = Math.hypot(x, y)
  if (!(lengthMm >= SHORTEST_MM)) return undefined
  const nx = -y / lengthMm, ny = x / lengthMm
  const leftMm = side === 'left' ? thicknessMm : side === 'right' ? 0 : thicknessMm / 2
  const rightMm = thicknessMm - leftMm
  const off = ([px, py]: Point2, mm: number): Point2 => [px + nx * mm, py + ny * mm]
  return { kind: 'prism', outline: [off(from, -rightMm), off(to, -rightMm), off(to, leftMm), off(from, leftMm)], bottomMm, topMm }
}

export function movedShape(shape: ShapeInput, by: Point3): ShapeInput {
  const moved = (p: Point3): Point3 => [p[0] + by[0], p[1] + by[1], p[2] + by[2]]
  switch (shape.kind) {
    case 'box': return { ...shape, centre: moved(shape.centre) }
    case 'prism': return { ...shape, origin: moved(shape.origin ?? [0, 0, 0]) }
    case 'cylinder': return { ...shape, from: moved(shape.from), to: moved(shape.to) }
    case 'tube': return { ...shape, points: shape.points.map(moved) }
  }
}

/** Turned about a plumb line, counter-clockwise from above. */
export function turnedShape(shape: ShapeInput, byDeg: number, about: Point2 = middleOf(shape)): ShapeInput {
  const axes = axesOfRotation(0, 0, byDeg)
  const around = (p: Point3): Point3 => {
    const [x, y] = turned(axes, p[0] - about[0], p[1] - about[1], 0)
    return [about[0] + x, about[1] + y, p[2]]
  }
  const rotation = ([x, y, z]: Point3 = [0, 0, 0]): Point3 => [x, y, wrappedDeg(z + byDeg)]
  switch (shape.kind) {
    case 'box': return { ...shape, centre: around(shape.centre), rotationDeg: rotation(shape.rotationDeg) }
    case 'prism': return { ...shape, origin: around(shape.origin ?? [0, 0, 0]), rotationDeg: rotation(shape.rotationDeg) }
    case 'cylinder': return { ...shape, from: around(shape.from), to: around(shape.to) }
    case 'tube': return { ...shape, points: shape.points.map(around) }
  }
}

/** The same turn within -180 (not included) to 180 degrees. */
export function wrappedDeg(deg: number): number {
  const within = deg % 360
  return within > 180 ? within - 360 : within <= -180 ? within + 360 : within
}

/** Middle in plan of what it takes up. */
function middleOf(shape: ShapeInput): Point2 {
  switch (shape.kind) {
    case 'box': return [shape.centre[0], shape.centre[1]]
    case 'cylinder': return middle([shape.from, shape.to])
    case 'tube': return middle(shape.points)
    case 'prism': {
      const [x, y, z] = shape.origin ?? [0, 0, 0]
      const axes = axesOfRotation(...(shape.rotationDeg ?? [0, 0, 0]))
      const [px, py] = middle(shape.outline)
      const off = turned(axes, px, py, (shape.bottomMm + shape.topMm) / 2)
      return [x + off[0], y + off[1], z + off[2]].slice(0, 2) as Point2
    }
  }
}

function middle(points: readonly (readonly number[])[]): Point2 {
  const half = (axis: 0 | 1): number => {
    const along = points.map(point => point[axis])
    return (Math.min(...along) + Math.max(...along)) / 2
  }
  return [half(0), half(1)]
}
