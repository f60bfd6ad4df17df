/** Where a plane goes through a closed triangle mesh: its outlines, and triangles that fill them. Millimetres on site, no renderer. */
import { ShapeUtils, Vector2 } from 'three'
import type { SolidMesh } from '#geometry/mesh/meshBuilder.ts'
import { acrossOf, cutAwayBy } from './cutAway.ts'
import type { Cut } from './cutAway.ts'
import type { Xyz } from './frame.ts'

/** corners nearer than this are one: a mesh has a corner once for each face that it is part of, mm */
const SAME_MM = 1e-3

/** @returns closed outlines, each a list of points in order; one that does not close (the mesh has a gap there) is left out */
export function sliceMesh({ positions, indices }: SolidMesh, cut: Cut): Xyz[][] {
  const places = new Map<string, Xyz>()
  const next = new Map<string, string[]>()
  const corner = (i: number): Xyz => {
    const round = (value: number): number => Math.round(value / SAME_MM) * SAME_MM
    return [round(positions[3 * i]), round(positions[3 * i + 1]), round(positions[3 * i + 2])]
  }
  const link = (a: string, b: string): void => {
    const there = next.get(a)
    if (there === undefined) next.set(a, [b])
    else there.push(b)
  }
  for (let t = 0; t < indices.length; t += 3) {
    const points = [corner(indices[t]), corner(indices[t + 1]), corner(indices[t + 2])]
    const off = points.map((point) => cutAwayBy(cut, ...point))
    const ends: string[] = []
    for (let k = 0; k < 3; k++) {
      const m = (k + 1) % 3
      if (off[k] < 0 === off[m] < 0) continue
      const place = between(points[k], off[k], points[m], off[m])
      const key = place.map((value) => Math.round(value / SAME_MM)).join(' ')
      places.set(key, place)
      ends.push(key)
    }
    if (ends.length !== 2 || ends[0] === ends[1]) continue
    link(ends[0], ends[1])
    link(ends[1], ends[0])
  }
  return loopsOf(next).map((loop) => loop.map((key) => places.get(key)!))
}

/** The same place whichever of the two comes first, to the last digit. */
function between(p: Xyz, offP: number, q: Xyz, offQ: number): Xyz {
  const isFirst = p[0] !== q[0] ? p[0] < q[0] : p[1] !== q[1] ? p[1] < q[1] : p[2] < q[2]
  if (!isFirst) return between(q, offQ, p, offP)
  const t = offP / (offP - offQ)
  return [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]), p[2] + t * (q[2] - p[2])]
}

function loopsOf(next: Map<string, string[]>): string[][] {
  const loops: string[][] = []
  for (const [start] of next) {
    const loop: string[] = []
    let at: string | undefined = start
    while (at !== undefined && (loop.length === 0 || at !== start)) {
      loop.push(at)
      const here: string = at
      at = next.get(here)!.pop()
      const back = at === undefined ? undefined : next.get(at)
      // each side is walked once
      if (back !== undefined && back.includes(here)) back.splice(back.indexOf(here), 1)
    }
    if (at === start && loop.length > 2) loops.push(loop)
  }
  return loops
}

/** @returns corners, and triangles by corner: outlines within an outline are holes in it */
export function filled(loops: readonly (readonly Xyz[])[], { towards }: Cut): { readonly corners: Xyz[], readonly triangles: number[][] } {
  const [u, v] = acrossOf(towards)
  const dot = (a: Xyz, b: Xyz): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
  const rings = loops.map((loop) => ({ loop, flat: loop.map((p) => new Vector2(dot(p, u), dot(p, v))) }))
    .toSorted((a, b) => Math.abs(ShapeUtils.area(b.flat)) - Math.abs(ShapeUtils.area(a.flat)))
  const depths = rings.map(({ flat }, i) => rings.slice(0, i).filter((outer) => holds(outer.flat, flat[0])).length)
  const corners: Xyz[] = [], triangles: number[][] = []
  rings.forEach((ring, i) => {
    if (depths[i] % 2 === 1) return
    const holes = rings.filter((inner, j) => depths[j] === depths[i] + 1 && j > i && holds(ring.flat, inner.flat[0]))
    const first = corners.length
    for (const one of [ring, ...holes]) corners.push(...one.loop)
    for (const triangle of ShapeUtils.triangulateShape(ring.flat, holes.map(({ flat }) => flat))) triangles.push(triangle.map((n) => first + n))
  })
  return { corners, triangles }
}

function holds(ring: readonly Vector2[], { x, y }: Vector2): boolean {
  let inside = false
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[i], b = ring[j]
    if (a.y > y !== b.y > y && x < (b.x - a.x) * (y - a.y) / (b.y - a.y) + a.x) inside = !inside
  }
  return inside
}
