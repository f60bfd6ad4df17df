/** The sawn faces of what a cut goes through, as one mesh for the graphics card. */
import type { Assembly } from '#assembly/assembly.ts'
import { meshOfSolid } from '#geometry/mesh/meshOfSolid.ts'
import type { SolidMesh } from '#geometry/mesh/meshBuilder.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import { cutAwayBy, sectionOf } from './cutAway.ts'
import type { Cut } from './cutAway.ts'
import type { Frame, Xyz } from './frame.ts'
import { MM_PER_UNIT } from './frame.ts'
import type { Drawing } from './kinds.ts'
import { colourOfRun, tubeOf } from './meshSpans.ts'
import { linearRgb, rgbOfClass } from './palette.ts'
import { filled, sliceMesh } from './sliceMesh.ts'

export interface CutFaces {
  /** scene units */
  readonly positions: Float32Array
  /** linear, per corner */
  readonly colours: Float32Array
  readonly indices: Uint32Array
}

/** how much darker sawn timber and steel are than their faces */
const SAWN = 0.45
/** into what is kept, so that the face itself is not cut away, mm */
const KEPT_MM = 0.5

/** farthest that a drawn surface lies from the true one, mm: the same as in the picture, so that face and surface meet */
const ERROR_MM = 1

/** The sawn face of everything that the plane goes through and that is drawn in full: boxes by their corners, all else by its triangles. */
export function cutFacesOf(assembly: Assembly, frame: Frame, cut: Cut, drawing: Drawing): CutFaces {
  const { solids, parts, runs } = assembly
  const positions: number[] = [], colours: number[] = [], indices: number[] = []
  const add = (corners: readonly Xyz[], triangles: readonly (readonly number[])[], rgb: readonly number[]): void => {
    const first = positions.length / 3
    for (const corner of corners) {
      for (let k = 0; k < 3; k++) {
        positions.push((corner[k] - KEPT_MM * cut.towards[k] - frame.originMm[k]) / MM_PER_UNIT)
        colours.push(rgb[k] * SAWN)
      }
    }
    for (const triangle of triangles) indices.push(...triangle.map((n) => first + n))
  }
  const addMesh = (mesh: SolidMesh, rgb: readonly number[]): void => {
    const { corners, triangles } = filled(sliceMesh(mesh, cut), cut)
    add(corners, triangles, rgb)
  }
  const { data } = solids, [nx, ny, nz] = cut.towards
  for (let i = 0; i < solids.count; i++) {
    if (solids.kind[i] !== BOX) {
      if (isMet(cut, solids.bounds, 6 * i) && drawing(parts.classOf(i)) === 'full') addMesh(meshOfSolid(solids, i, { chordErrorMm: ERROR_MM, tubeEnds: 'flat' }), rgbOfClass(parts.classOf(i)))
      continue
    }
    const s = solids.offset[i]
    let reach = 0
    for (let axis = 0; axis < 3; axis++) {
      const a = s + 6 + 3 * axis
      reach += data[s + 3 + axis] * Math.abs(nx * data[a] + ny * data[a + 1] + nz * data[a + 2])
    }
    if (Math.abs(cutAwayBy(cut, data[s], data[s + 1], data[s + 2])) >= reach || drawing(parts.classOf(i)) !== 'full') continue
    const polygon = sectionOf(cut, data.subarray(s, s + 3), data.subarray(s + 3, s + 6), data.subarray(s + 6, s + 15))
    add(polygon, polygon.slice(2).map((_, k) => [0, k + 1, k + 2]), rgbOfClass(parts.classOf(i)))
  }
  if (drawing('duct') === 'full') {
    for (const placed of runs) {
      const off = placed.run.waypoints.map(({ at }) => cutAwayBy(cut, ...at))
      // bends lie within the corners that they round off
      if (Math.min(...off) < placed.outerRadiusMm && Math.max(...off) > -placed.outerRadiusMm) addMesh(tubeOf(placed), linearRgb(colourOfRun(placed)))
    }
  }
  return { positions: Float32Array.from(positions), colours: Float32Array.from(colours), indices: Uint32Array.from(indices) }
}

function isMet({ at, towards }: Cut, bounds: ArrayLike<number>, o: number): boolean {
  let middle = 0, reach = 0
  for (let k = 0; k < 3; k++) {
    middle += ((bounds[o + k] + bounds[o + 3 + k]) / 2 - at[k]) * towards[k]
    reach += (bounds[o + 3 + k] - bounds[o + k]) / 2 * Math.abs(towards[k])
  }
  return Math.abs(middle) < reach
}
