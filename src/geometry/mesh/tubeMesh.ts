import { MeshBuilder, sidesOfCircle } from './meshBuilder.ts'
import type { SolidMesh } from './meshBuilder.ts'
import { tubeSections } from './tubePath.ts'
import type { Section } from './tubePath.ts'

/**
 * A packed tube, strung over sections of its centreline; no point of it further than `errorMm` from the true surface.
 * @param ends 'round' as the solid is, 'flat' as the duct is cut
 */
export function tubeMesh(data: Float64Array, s: number, errorMm: number, ends: 'round' | 'flat'): SolidMesh {
  const mesh = new MeshBuilder()
  const radius = data[s]
  // half of the error round the tube, half along it
  const sections = tubeSections(data, s + 2, data[s + 1], radius, errorMm / 2)
  const sides = sidesOfCircle(radius, 2 * Math.PI, errorMm / 2, 8)
  const first = sections[0], last = sections[sections.length - 1]
  const rings = sections.map(section => addRing(mesh, section, radius, sides, 0))
  if (ends === 'round') {
    const steps = sidesOfCircle(radius, Math.PI / 2, errorMm / 2, 2)
    for (let k = 1; k < steps; k++) {
      rings.unshift(addRing(mesh, first, radius, sides, -Math.PI / 2 * k / steps))
      rings.push(addRing(mesh, last, radius, sides, Math.PI / 2 * k / steps))
    }
  }
  for (let k = 0; k + 1 < rings.length; k++) {
    for (let i = 0; i < sides; i++) {
      const j = (i + 1) % sides
      mesh.addQuad(rings[k][i], rings[k][j], rings[k + 1][j], rings[k + 1][i])
    }
  }
  closeEnd(mesh, first, ends === 'round' ? rings[0] : addCap(mesh, first, radius, sides, -1), -1, ends === 'round' ? radius : 0)
  closeEnd(mesh, last, ends === 'round' ? rings[rings.length - 1] : addCap(mesh, last, radius, sides, 1), 1, ends === 'round' ? radius : 0)
  return mesh.build()
}

/** A ring of vertices round a section; `tiltRad` leans it over the end, 0 on the tube itself, pi/2 at the tip. */
function addRing(mesh: MeshBuilder, section: Section, radius: number, sides: number, tiltRad: number): number[] {
  const { centre, forward, right, up } = section
  const wide = Math.cos(tiltRad), ahead = Math.sin(tiltRad)
  return Array.from({ length: sides }, (_, i) => {
    const c = wide * Math.cos(2 * Math.PI * i / sides), d = wide * Math.sin(2 * Math.PI * i / sides)
    const n = [0, 1, 2].map(k => c * right[k] + d * up[k] + ahead * forward[k])
    return mesh.addVertex(centre[0] + radius * n[0], centre[1] + radius * n[1], centre[2] + radius * n[2], n[0], n[1], n[2])
  })
}

/** The rim of a flat end again, facing along the tube. */
function addCap(mesh: MeshBuilder, section: Section, radius: number, sides: number, side: 1 | -1): number[] {
  const { centre, forward, right, up } = section
  return Array.from({ length: sides }, (_, i) => {
    const c = Math.cos(2 * Math.PI * i / sides), d = Math.sin(2 * Math.PI * i / sides)
    const n = [0, 1, 2].map(k => c * right[k] + d * up[k])
    return mesh.addVertex(
      centre[0] + radius * n[0], centre[1] + radius * n[1], centre[2] + radius * n[2],
      side * forward[0], side * forward[1], side * forward[2],
    )
  })
}

/** A fan from the ring to the tip, `aheadMm` beyond the section. */
function closeEnd(mesh: MeshBuilder, section: Section, ring: number[], side: 1 | -1, aheadMm: number): void {
  const { centre, forward } = section
  const tip = mesh.addVertex(
    centre[0] + side * aheadMm * forward[0], centre[1] + side * aheadMm * forward[1], centre[2] + side * aheadMm * forward[2],
    side * forward[0], side * forward[1], side * forward[2],
  )
  for (let i = 0; i < ring.length; i++) {
    const j = (i + 1) % ring.length
    if (side > 0) mesh.addTriangle(ring[i], ring[j], tip)
    else mesh.addTriangle(ring[j], ring[i], tip)
  }
}
