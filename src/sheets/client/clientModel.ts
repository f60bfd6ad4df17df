/** What the client's file holds of a job: what is drawn and named, and nothing else. Lengths in mm; numbers packed little-endian in base 64. */

export interface ClientMesh {
  /** Float32: x, y, z from `originMm` */
  readonly positions: string
  /** Int8: unit normals times 127 */
  readonly normals: string
  /** Uint32 */
  readonly indices: string
}

export interface ClientLayer {
  /** a class of the job's solids, or 'zone' for the ceiling's boards */
  readonly kind: string
  /** Float32, ten to a box: middle from `originMm`, half sizes, and how it is turned as a quaternion x, y, z, w */
  readonly boxes: string
  readonly mesh: ClientMesh | null
}

export interface ClientRun {
  readonly name: string
  /** 'Semi-rigid 75, 3.12 m' */
  readonly words: string
  /** supply, extract, intake, exhaust, or '' where its ends do not say */
  readonly air: string
  readonly mesh: ClientMesh
}

export interface ClientView {
  readonly name: string
  readonly note: string
  readonly eye: readonly [number, number, number]
  readonly target: readonly [number, number, number]
  readonly up: readonly [number, number, number]
  readonly hidden: readonly string[]
  /** what lies the way of `towards` from `at` is cut away */
  readonly cut: { readonly at: readonly [number, number, number], readonly towards: readonly [number, number, number] } | null
}

export interface ClientModel {
  readonly name: string
  readonly date: string
  readonly revision: string
  /** minX, minY, minZ, maxX, maxY, maxZ of the void, mm on site */
  readonly boundsMm: readonly [number, number, number, number, number, number]
  /** the site point that meshes count from */
  readonly originMm: readonly [number, number, number]
  readonly layers: readonly ClientLayer[]
  readonly runs: readonly ClientRun[]
  readonly views: readonly ClientView[]
}

export const FOR_INFORMATION = 'For information only. Not to be built from: the set-out sheets and what is measured on site count.'
