import { describe, expect, test } from 'vitest'
import { ARC, CENTRE_X, ELEMENT_STRIDE, KIND, RADIAL_X, RADIUS, TANGENT_X, TURN } from '#geometry/curve/centreline.ts'
import { Course, type CourseEnds } from '#routing/router/course.ts'
import { putLegRoom, putPoint, writeLengthSlope } from '#routing/router/courseSlopes.ts'
import { Rows } from '#routing/router/settleRows.ts'
import type { Vec } from '#routing/threadVector.ts'
import { seeded } from '../../../fixtures/generate/seeded.ts'

const SEED = 19, NUDGE_MM = 1e-4
const { between } = seeded(SEED)

/** Six corners in the open, the first and last on the axes of their spigots. */
function drawn(): Course {
  const from: Vec = [0, 0, 0], to: Vec = [5000, between(-800, 800), between(-100, 100)]
  const ends: CourseEnds = {
    from: { at: from, axis: [1, 0, 0], straightMm: 45, zoneMm: 60, exempt: new Set() }, to: { at: to, axis: [0, 1, 0], straightMm: 45, zoneMm: 60, exempt: new Set() },
    radiusMm: 45, bendRadiusMm: 180,
  }
  const between3 = [1400, 2600, 3600].map((x): Vec => [x + between(-200, 200), between(-500, 500), between(-150, 150)])
  return new Course(ends, [from, [between(300, 700), 0, 0], ...between3, [to[0], to[1] + between(400, 900), to[2]], to])
}

/** By moving each variable a little both ways. */
function nudged(course: Course, valueOf: () => number): number[] {
  const kept = Float64Array.from(course.xyz)
  return Array.from({ length: course.variableCount }, (_, v) => {
    const [high, low] = [1, -1].map((way) => {
      const moves = new Float64Array(course.variableCount)
      moves[v] = way * NUDGE_MM
      course.moveBy(moves, 0)
      course.shape()
      const value = valueOf()
      course.xyz.set(kept)
      course.shape()
      return value
    })
    return (high - low) / (2 * NUDGE_MM)
  })
}

function written(course: Course, put: (rows: Rows) => void): number[] {
  const rows = new Rows(1), slopes = new Array<number>(course.variableCount).fill(0)
  put(rows)
  rows.close(0)
  for (let e = 0; e < rows.first[1]; e++) slopes[rows.variable[e]] += rows.coefficient[e]
  return slopes
}

function expectSame(slopes: ArrayLike<number>, byNudging: readonly number[]): void {
  byNudging.forEach((slope, v) => expect(slopes[v], `seed ${SEED}, variable ${v}`).toBeCloseTo(slope, 6))
}

describe('how a course changes with its corners', () => {
  const courses = Array.from({ length: 20 }, drawn)

  test('length: as nudging shows', () => {
    for (const course of courses) {
      const slopes = new Float64Array(course.variableCount)
      writeLengthSlope(course, 0, slopes)
      expectSame(slopes, nudged(course, () => course.lengthMm()))
    }
  })

  test('room left on a leg between its bends: as nudging shows', () => {
    for (const course of courses) for (let leg = 0; leg + 1 < course.count; leg++) {
      expectSame(written(course, (rows) => putLegRoom(rows, course, 0, leg)), nudged(course, () => course.legRoom(leg)))
    }
  })

  test('a place on a bend along any direction: as nudging shows', () => {
    for (const course of courses) for (let e = 1; e < course.elementCount; e += 2) {
      const at = e * ELEMENT_STRIDE, { elements } = course, share = between(0.05, 0.95), way: Vec = [between(-1, 1), between(-1, 1), between(-1, 1)]
      if (elements[at + KIND] !== ARC) continue
      const place = (): number[] => {
        const t = share * elements[at + TURN]
        return [0, 1, 2].map((k) => elements[at + CENTRE_X + k] + elements[at + RADIUS] * (Math.cos(t) * elements[at + RADIAL_X + k] + Math.sin(t) * elements[at + TANGENT_X + k]))
      }
      const [x, y, z] = place()
      expectSame(written(course, (rows) => putPoint(rows, course, 0, e, x, y, z, ...way)), nudged(course, () => place().reduce((sum, c, k) => sum + c * way[k], 0)))
    }
  })
})
