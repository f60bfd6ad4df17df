/**
 * The job as glTF 2.0 in one binary file (ISO/IEC 12113:2022): metres, right-handed, y up, so site x, y, z becomes x, z, -y. One named
 * node for every joist, piece of equipment, loose solid and run, with its id and sizes as metadata.
 */
import type { Assembly } from '#assembly/assembly.ts'
import { MeshBuilder, type SolidMesh } from '#geometry/mesh/meshBuilder.ts'
import { meshOfSolid } from '#geometry/mesh/meshOfSolid.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { whyDegenerate } from '#geometry/solid/degenerate.ts'
import { shown } from '../letters.ts'
import { colourOf, type Rgb } from './colours.ts'
import { detailsOf, type Details } from './details.ts'

/** No point of a round surface is further off than this, mm. */
const CHORD_MM = 0.5

interface Part { readonly name: string, readonly extras: Details, readonly mesh: SolidMesh, readonly colour: Rgb }

export function glbOf(assembly: Assembly): Uint8Array {
  const parts = partsOf(assembly), originMm = originOf(parts)
  const chunks: Uint8Array[] = [], bufferViews: object[] = [], accessors: object[] = []
  let byteLength = 0
  const add = (numbers: Float32Array | Uint32Array, target: number, accessor: object): number => {
    const bytes = new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength)
    bufferViews.push({ buffer: 0, byteOffset: byteLength, byteLength: bytes.length, target })
    chunks.push(bytes)
    byteLength += bytes.length
    return accessors.push({ bufferView: bufferViews.length - 1, ...accessor }) - 1
  }
  const colours = [...new Map(parts.map(({ colour }) => [colour.join(), colour])).values()]
  const meshes = parts.map(({ name, mesh, colour }) => {
    const positions = upright(mesh.positions, originMm, 1 / 1000), normals = unitNormals(upright(mesh.normals, [0, 0, 0], 1))
    const { min, max } = boundsOf(positions), count = positions.length / 3
    return {
      name, primitives: [{
        attributes: { POSITION: add(positions, 34962, { componentType: 5126, count, type: 'VEC3', min, max }), NORMAL: add(normals, 34962, { componentType: 5126, count, type: 'VEC3' }) },
        indices: add(mesh.indices, 34963, { componentType: 5125, count: mesh.indices.length, type: 'SCALAR' }),
        material: colours.findIndex((other) => other.join() === colour.join()), mode: 4,
      }],
    }
  })
  const json = {
    asset: { version: '2.0', generator: 'Joistway' },
    scene: 0, scenes: [{ name: shown(assembly.job.name), nodes: [0] }],
    nodes: [
      { name: shown(assembly.job.name), ...parts.length === 0 ? {} : { translation: [originMm[0] / 1000, originMm[2] / 1000, -originMm[1] / 1000], children: parts.map((_, i) => i + 1) }, extras: { datum: shown(assembly.job.datum), note: 'metres, y up: site x, y, z are x, -z, y here' } },
      ...parts.map(({ name, extras }, i) => ({ name, mesh: i, extras })),
    ],
    ...parts.length === 0 ? {} : {
      meshes, accessors, bufferViews, buffers: [{ byteLength }],
      materials: colours.map((colour) => ({ pbrMetallicRoughness: { baseColorFactor: [...colour, 1], metallicFactor: 0, roughnessFactor: 0.9 } })),
    },
  }
  return glb(JSON.stringify(json), chunks, byteLength)
}

/** 12 bytes of head, then JSON padded with spaces and numbers padded with zeros to fours: glTF 2.0, 4.4. */
function glb(json: string, chunks: readonly Uint8Array[], binaryLength: number): Uint8Array {
  const text = utf8(json), textLength = Math.ceil(text.length / 4) * 4, hasBinary = binaryLength > 0
  const bytes = new Uint8Array(12 + 8 + textLength + (hasBinary ? 8 + binaryLength : 0)), view = new DataView(bytes.buffer)
  view.setUint32(0, 0x46546c67, true)
  view.setUint32(4, 2, true)
  view.setUint32(8, bytes.length, true)
  view.setUint32(12, textLength, true)
  view.setUint32(16, 0x4e4f534a, true)
  bytes.fill(0x20, 20, 20 + textLength)
  bytes.set(text, 20)
  if (!hasBinary) return bytes
  let at = 20 + textLength
  view.setUint32(at, binaryLength, true)
  view.setUint32(at + 4, 0x004e4942, true)
  at += 8
  for (const chunk of chunks) {
    bytes.set(chunk, at)
    at += chunk.length
  }
  return bytes
}

function partsOf(assembly: Assembly): Part[] {
  const { solids, parts, runs } = assembly
  const groups = new Map<number, number[]>()
  for (let i = 0; i < solids.count; i++) {
    if (whyDegenerate(solids, i) !== null) continue
    const owner = parts.ownerIndexOf(i), own = groups.get(owner)
    if (own === undefined) groups.set(owner, [i])
    else own.push(i)
  }
  const details = detailsOf(assembly)
  // of one owner the chords and the webs are apart, as they have not the same colour
  const bodies = [...groups.values()].flatMap((own): Part[] => {
    const byClass = new Map<string, number[]>()
    for (const i of own) byClass.set(parts.classOf(i), [...byClass.get(parts.classOf(i)) ?? [], i])
    return [...byClass].map(([className, indices], k) => {
      const id = parts.ownerIdOf(indices[0]), whole = details.ofOwner(id)
      return { name: shown(k === 0 ? whole.name : `${whole.name}, ${className}s`), extras: { ...whole.extras, class: className }, mesh: joined(indices.map((i) => meshOfSolid(solids, i, { chordErrorMm: CHORD_MM }))), colour: colourOf(className) }
    })
  })
  const ducts = runs.map((placed): Part => {
    const builder = new SolidSetBuilder()
    builder.addTube(placed.centreline, placed.outerRadiusMm)
    const { name, extras, air } = details.ofRun(placed)
    return { name: shown(name), extras, mesh: meshOfSolid(builder.build(), 0, { chordErrorMm: CHORD_MM, tubeEnds: 'flat' }), colour: colourOf(air === '' ? 'duct' : air) }
  })
  return [...bodies, ...ducts].filter(({ mesh }) => mesh.indices.length > 0)
}

function joined(meshes: readonly SolidMesh[]): SolidMesh {
  if (meshes.length === 1) return meshes[0]
  const builder = new MeshBuilder()
  for (const { positions: p, normals: n, indices } of meshes) {
    const first: number[] = []
    for (let i = 0; i < p.length; i += 3) first.push(builder.addVertex(p[i], p[i + 1], p[i + 2], n[i], n[i + 1], n[i + 2]))
    for (let i = 0; i < indices.length; i += 3) builder.addTriangle(first[indices[i]], first[indices[i + 1]], first[indices[i + 2]])
  }
  return builder.build()
}

function upright(xyz: Float32Array, origin: readonly number[], scale: number): Float32Array {
  const out = new Float32Array(xyz.length)
  for (let i = 0; i < xyz.length; i += 3) {
    out[i] = (xyz[i] - origin[0]) * scale
    out[i + 1] = (xyz[i + 2] - origin[2]) * scale
    out[i + 2] = -(xyz[i + 1] - origin[1]) * scale
  }
  return out
}

function unitNormals(xyz: Float32Array): Float32Array {
  for (let i = 0; i < xyz.length; i += 3) {
    const size = Math.hypot(xyz[i], xyz[i + 1], xyz[i + 2])
    for (let k = 0; k < 3; k++) xyz[i + k] = size > 0 ? xyz[i + k] / size : k === 1 ? 1 : 0
  }
  return xyz
}

function boundsOf(xyz: Float32Array): { min: number[], max: number[] } {
  const min = [Infinity, Infinity, Infinity], max = [-Infinity, -Infinity, -Infinity]
  for (let i = 0; i < xyz.length; i++) {
    min[i % 3] = Math.min(min[i % 3], xyz[i])
    max[i % 3] = Math.max(max[i % 3], xyz[i])
  }
  return { min, max }
}

/** Whole metres near the middle, so that 32-bit numbers keep a hundredth of a millimetre. */
function originOf(parts: readonly Part[]): [number, number, number] {
  const all = parts.map(({ mesh }) => boundsOf(mesh.positions))
  return [0, 1, 2].map((k) => all.length === 0 ? 0 : Math.round((all.reduce((low, { min }) => Math.min(low, min[k]), Infinity) + all.reduce((high, { max }) => Math.max(high, max[k]), -Infinity)) / 2000) * 1000) as [number, number, number]
}

/** Text as UTF-8 (RFC 3629); halves of pairs have been taken out before. */
function utf8(text: string): Uint8Array {
  const bytes: number[] = []
  for (const letter of text) {
    const code = letter.codePointAt(0)!
    if (code < 0x80) bytes.push(code)
    else if (code < 0x800) bytes.push(0xc0 | code >> 6, 0x80 | code & 63)
    else if (code < 0x10000) bytes.push(0xe0 | code >> 12, 0x80 | code >> 6 & 63, 0x80 | code & 63)
    else bytes.push(0xf0 | code >> 18, 0x80 | code >> 12 & 63, 0x80 | code >> 6 & 63, 0x80 | code & 63)
  }
  return Uint8Array.from(bytes)
}
