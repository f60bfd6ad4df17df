/**
 * The same solid for three programs, in the solid's own frame: ours packed, a rapier shape, and a bounding-volume mesh.
 * Sizes 20..200 mm half across, nothing thin: thin shapes are where the peers themselves go wrong.
 */
import RAPIER from '@dimforge/rapier3d-compat'
import { BoxGeometry, BufferAttribute, BufferGeometry, CylinderGeometry, ShapeUtils, Vector2 } from 'three'
import { MeshBVH } from 'three-mesh-bvh'
import { type Draw, type Vec, between, pick } from './drawnElements.ts'
import { packBox, packCylinder, packPrism } from './drawnSolids.ts'

export interface PeerShape {
  readonly data: Float64Array
  readonly rapier: RAPIER.Shape
  readonly mesh: MeshBVH
  /** how far inside the true surface the mesh's facets may lie, mm */
  readonly facetMm: number
  /** whether the engine's shape is filled: its triangle mesh is a surface only, and an element wholly inside looks clear */
  readonly engineFilled: boolean
}
const WORLD: [Vec, Vec, Vec] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]]
const half = (draw: Draw) => between(draw, 20, 200)

export const peerBox = (draw: Draw): PeerShape => {
  const h: Vec = [half(draw), half(draw), half(draw)]
  return {
    data: packBox([0, 0, 0], h, WORLD),
    rapier: new RAPIER.Cuboid(...h),
    mesh: new MeshBVH(new BoxGeometry(2 * h[0], 2 * h[1], 2 * h[2])),
    facetMm: 0,
    engineFilled: true,
  }
}

export const peerCylinder = (draw: Draw): PeerShape => {
  const radius = half(draw), halfLength = half(draw), facets = 48
  return {
    data: packCylinder([0, 0, 0], [0, 1, 0], radius, halfLength),
    rapier: new RAPIER.Cylinder(halfLength, radius),
    mesh: new MeshBVH(new CylinderGeometry(radius, radius, 2 * halfLength, facets), { targetLeafSize: 3 }),
    facetMm: radius * (1 - Math.cos(Math.PI / facets)),
    engineFilled: true,
  }
}

/** A concave outline with seven corners, or a square with a square hole. */
export const peerPrism = (draw: Draw): PeerShape => {
  const a = half(draw), b = half(draw), bottom = -half(draw), top = half(draw)
  const rings = pick<[number, number][][]>(draw, [
    [[[-a, -b], [a, -b], [a, 0], [0.2 * a, 0.1 * b], [0.3 * a, b], [-0.6 * a, b], [-a, 0.3 * b]]],
    [[[-a, -b], [a, -b], [a, b], [-a, b]], [[-0.5 * a, -0.5 * b], [-0.5 * a, 0.5 * b], [0.5 * a, 0.5 * b], [0.5 * a, -0.5 * b]]],
  ])
  const corners = rings.flat(), count = corners.length
  const positions = Float32Array.from([bottom, top].flatMap((w) => corners.flatMap(([u, v]) => [u, v, w])))
  const [outline, ...holes] = rings.map((ring) => ring.map(([u, v]) => new Vector2(u, v)))
  const index = ShapeUtils.triangulateShape(outline, holes).flatMap(([p, q, r]) => [p, r, q, count + p, count + q, count + r])
  let base = 0
  for (const ring of rings) {
    ring.forEach((_, i) => {
      const p = base + i, q = base + (i + 1) % ring.length
      index.push(p, q, count + q, p, count + q, count + p)
    })
    base += ring.length
  }
  const geometry = new BufferGeometry().setAttribute('position', new BufferAttribute(positions, 3)).setIndex(index)
  return {
    data: packPrism([0, 0, 0], WORLD, bottom, top, rings),
    rapier: new RAPIER.TriMesh(positions, Uint32Array.from(index)),
    mesh: new MeshBVH(geometry, { targetLeafSize: 3 }),
    facetMm: 0,
    engineFilled: false,
  }
}
