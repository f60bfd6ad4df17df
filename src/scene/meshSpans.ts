/** Many solids in one triangle mesh (one draw), with the span of triangles that each one owns. */
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import { meshOfSolid } from '#geometry/mesh/meshOfSolid.ts'
import type { SolidMesh } from '#geometry/mesh/meshBuilder.ts'
import { tubeMesh } from '#geometry/mesh/tubeMesh.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import type { BoundsMm, Frame } from './frame.ts'
import { MM_PER_UNIT } from './frame.ts'
import { AIR, airOf } from './air.ts'
import { AS_USUAL, type Drawing } from './kinds.ts'
import { PLAIN_DUCT, linearRgb, rgbOfClass } from './palette.ts'

export interface MeshSpan {
  /** of the run or the solid */
  readonly index: number
  /** its own triangles, mm from the site datum */
  readonly mesh: SolidMesh
  /** where its triangles lie in the merged indices */
  readonly firstIndex: number
  readonly endIndex: number
  readonly boundsMm: BoundsMm
}

export interface MergedMesh {
  /** scene units */
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly colours: Float32Array
  readonly indices: Uint32Array
  readonly spans: readonly MeshSpan[]
}

/** Above this many, curved things are drawn with fewer sides: each is then a few pixels wide in a view that holds them all. */
export const MOST_FINE = 200
/** farthest that a drawn surface lies from the true one, mm */
const FINE_MM = 1
const COARSE_MM = 6

/** Every run as a true swept tube of its outer diameter, cut flat where it ends. @param isWanted leaves some out; the others keep their index. @param colourOf instead of the air's own */
export function mergedRuns(assembly: Assembly, frame: Frame, isWanted: (runIndex: number) => boolean = () => true, colourOf: (placed: PlacedRun, runIndex: number) => string = colourOfRun): MergedMesh {
  const errorMm = runErrorMm(assembly)
  return merged(frame, assembly.runs.flatMap((placed, index) => isWanted(index) ? { index, rgb: linearRgb(colourOf(placed, index)), mesh: tubeOf(placed, errorMm) } : []))
}

const runErrorMm = ({ runs }: Assembly): number => runs.length > MOST_FINE ? COARSE_MM : FINE_MM

/** Makes the tube of every run ahead of the picture, resting after each. Yields how much is done, 0 to 1. */
export function* tubesInSteps(assembly: Assembly): Generator<number, true, void> {
  const errorMm = runErrorMm(assembly)
  for (const [i, placed] of assembly.runs.entries()) {
    tubeOf(placed, errorMm)
    yield (i + 1) / assembly.runs.length
  }
  return true
}

export function colourOfRun(placed: PlacedRun): string {
  const air = airOf(placed)
  return air === undefined ? PLAIN_DUCT : AIR[air].colour
}

/** Kept for as long as the run stays as it is. */
const tubes = new WeakMap<PlacedRun, { readonly errorMm: number, readonly mesh: SolidMesh }>()

/** @param errorMm farthest that the drawn surface lies from the true one */
export function tubeOf(placed: PlacedRun, errorMm = FINE_MM): SolidMesh {
  const known = tubes.get(placed)
  if (known?.errorMm === errorMm) return known.mesh
  const { centreline: { elements, count }, outerRadiusMm } = placed
  const mesh = tubeMesh(Float64Array.of(outerRadiusMm, count, ...elements), 0, errorMm, 'flat')
  tubes.set(placed, { errorMm, mesh })
  return mesh
}

/** Every solid that is not a box, but those that are drawn thin or not at all. */
export const mergedShapes = (assembly: Assembly, frame: Frame, drawing: Drawing = AS_USUAL): MergedMesh => shapesOf(assembly, frame, 'full', drawing)
/** Those that are drawn thin. */
export const mergedThinShapes = (assembly: Assembly, frame: Frame, drawing: Drawing = AS_USUAL): MergedMesh => shapesOf(assembly, frame, 'thin', drawing)

function shapesOf(assembly: Assembly, frame: Frame, as: 'full' | 'thin', drawing: Drawing): MergedMesh {
  const { solids, parts } = assembly
  const chosen = Array.from({ length: solids.count }, (_, i) => i).filter((i) => solids.kind[i] !== BOX && drawing(parts.classOf(i)) === as)
  const chordErrorMm = chosen.length > MOST_FINE ? COARSE_MM : FINE_MM
  return merged(frame, chosen.map((index) => ({
    index, rgb: rgbOfClass(parts.classOf(index)), mesh: meshOfSolid(solids, index, { chordErrorMm, tubeEnds: 'flat' }),
  })))
}

interface Piece { readonly index: number, readonly rgb: readonly number[], readonly mesh: SolidMesh }

function merged(frame: Frame, pieces: readonly Piece[]): MergedMesh {
  const vertexCount = pieces.reduce((sum, { mesh }) => sum + mesh.positions.length / 3, 0)
  const indexCount = pieces.reduce((sum, { mesh }) => sum + mesh.indices.length, 0)
  const positions = new Float32Array(vertexCount * 3)
  const normals = new Float32Array(vertexCount * 3)
  const colours = new Float32Array(vertexCount * 3)
  const indices = new Uint32Array(indexCount)
  const spans: MeshSpan[] = []
  let vertex = 0, at = 0
  for (const { index, rgb, mesh } of pieces) {
    const bounds = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity]
    for (let i = 0; i < mesh.positions.length; i++) {
      const k = i % 3, value = mesh.positions[i], o = vertex * 3 + i
      positions[o] = (value - frame.originMm[k]) / MM_PER_UNIT
      normals[o] = mesh.normals[i]
      colours[o] = rgb[k]
      bounds[k] = Math.min(bounds[k], value)
      bounds[k + 3] = Math.max(bounds[k + 3], value)
    }
    for (let i = 0; i < mesh.indices.length; i++) indices[at + i] = vertex + mesh.indices[i]
    spans.push({ index, mesh, firstIndex: at, endIndex: at + mesh.indices.length, boundsMm: bounds as unknown as BoundsMm })
    vertex += mesh.positions.length / 3
    at += mesh.indices.length
  }
  return { positions, normals, colours, indices, spans }
}
