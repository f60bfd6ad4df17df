/** Solids as IFC swept solids: boxes, prisms and cylinders extruded, tubes as disks swept along their centreline. mm. */
import { ARC, CENTRE_X, ELEMENT_STRIDE, END_X, KIND, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN } from '#geometry/curve/centreline.ts'
import { ringsOf } from '#geometry/solid/degenerate.ts'
import { BOX, CYLINDER, PRISM, type SolidSet } from '#geometry/solid/solidSet.ts'
import { enumeration, typed, whole, type Ref, type StepFile } from './step.ts'

type Numbers = ArrayLike<number>

const xyz = (data: Numbers, at: number): [number, number, number] => [data[at], data[at + 1], data[at + 2]]
const AREA = enumeration('AREA')

export class Shapes {
  readonly #file: StepFile
  readonly #up: Ref
  readonly #flat: Ref

  constructor(file: StepFile) {
    this.#file = file
    this.#up = file.add('IFCDIRECTION', [0, 0, 1])
    this.#flat = file.add('IFCAXIS2PLACEMENT2D', file.add('IFCCARTESIANPOINT', [0, 0]), null)
  }

  /** A point with its own z and x. */
  place(at: readonly number[], z: readonly number[], x: readonly number[]): Ref {
    const file = this.#file
    return file.add('IFCAXIS2PLACEMENT3D', file.add('IFCCARTESIANPOINT', [...at]), file.add('IFCDIRECTION', [...z]), file.add('IFCDIRECTION', [...x]))
  }

  /** A solid that is not a tube. */
  solid({ kind, offset, data }: SolidSet, solidIndex: number): Ref {
    const s = offset[solidIndex]
    switch (kind[solidIndex]) {
      case BOX: {
        const [a, b, c] = xyz(data, s + 3), u = xyz(data, s + 6), w = xyz(data, s + 12), low = xyz(data, s).map((value, k) => value - c * w[k])
        return this.#extruded(this.#file.add('IFCRECTANGLEPROFILEDEF', AREA, null, this.#flat, 2 * a, 2 * b), this.place(low, w, u), 2 * c)
      }
      case PRISM: {
        const u = xyz(data, s + 3), w = xyz(data, s + 9), low = xyz(data, s).map((value, k) => value + data[s + 12] * w[k])
        const [outer, ...holes] = ringsOf(data, s).map((ring) => this.#ring(ring))
        const profile = holes.length === 0 ? this.#file.add('IFCARBITRARYCLOSEDPROFILEDEF', AREA, null, outer) : this.#file.add('IFCARBITRARYPROFILEDEFWITHVOIDS', AREA, null, outer, holes)
        return this.#extruded(profile, this.place(low, w, u), data[s + 13] - data[s + 12])
      }
      case CYLINDER: {
        const w = xyz(data, s + 3), half = data[s + 7], low = xyz(data, s).map((value, k) => value - half * w[k])
        return this.cylinder(low, w, data[s + 6], 2 * half)
      }
      default: throw new Error('Shapes.solid: a tube is made of swept disks')
    }
  }

  cylinder(from: readonly number[], w: readonly number[], radius: number, length: number): Ref {
    return this.#extruded(this.#file.add('IFCCIRCLEPROFILEDEF', AREA, null, this.#flat, radius), this.place(from, w, acrossOf(w)), length)
  }

  /** Elements `first` up to but not including `end` of a centreline, swept as one. */
  tube(elements: Numbers, first: number, end: number, radius: number): Ref {
    const points: number[][] = [xyz(elements, first * ELEMENT_STRIDE + START_X)], segments = []
    for (let i = first; i < end; i++) {
      const e = i * ELEMENT_STRIDE, from = points.length
      if (elements[e + KIND] === ARC) {
        const half = elements[e + TURN] / 2, c = Math.cos(half) * elements[e + RADIUS], s = Math.sin(half) * elements[e + RADIUS]
        points.push([0, 1, 2].map((k) => elements[e + CENTRE_X + k] + c * elements[e + RADIAL_X + k] + s * elements[e + TANGENT_X + k]), xyz(elements, e + END_X))
        segments.push(typed('IFCARCINDEX', [whole(from), whole(from + 1), whole(from + 2)]))
      } else {
        points.push(xyz(elements, e + END_X))
        segments.push(typed('IFCLINEINDEX', [whole(from), whole(from + 1)]))
      }
    }
    const curve = this.#file.add('IFCINDEXEDPOLYCURVE', this.#file.add('IFCCARTESIANPOINTLIST3D', points), segments, false)
    return this.#file.add('IFCSWEPTDISKSOLID', curve, radius, null, null, null)
  }

  #ring(ring: Numbers): Ref {
    const points = Array.from({ length: ring.length / 2 }, (_, i) => this.#file.add('IFCCARTESIANPOINT', [ring[2 * i], ring[2 * i + 1]]))
    return this.#file.add('IFCPOLYLINE', [...points, points[0]])
  }

  #extruded(profile: Ref, at: Ref, depth: number): Ref {
    return this.#file.add('IFCEXTRUDEDAREASOLID', profile, at, this.#up, depth)
  }
}

/** A direction square to another. */
export function acrossOf([x, y, z]: readonly number[]): [number, number, number] {
  const [a, b, c] = Math.abs(z) < 0.9 ? [-y, x, 0] : [0, -z, y]
  const size = Math.hypot(a, b, c)
  return [a / size, b / size, c / size]
}

