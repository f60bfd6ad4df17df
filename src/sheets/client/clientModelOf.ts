/** A job -> what the client's file shows of it. */
import { isSpigot } from '#assembly/runs.ts'
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import type { SolidMesh } from '#geometry/mesh/meshBuilder.ts'
import { meshOfSolid } from '#geometry/mesh/meshOfSolid.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { ringsOf, whyDegenerate } from '#geometry/solid/degenerate.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import type { SheetOptions } from '../options.ts'
import { base64 } from './base64.ts'
import type { ClientLayer, ClientMesh, ClientModel, ClientRun } from './clientModel.ts'
import { quaternionOf } from './quaternion.ts'

/** No point of a round surface is drawn further off than this, mm. */
const CHORD_MM = 1.5
/** A ceiling is shown as a board of this thickness, mm. */
const BOARD_MM = 12.5

type Xyz = readonly [number, number, number]

export function clientModelOf(assembly: Assembly, { date, revision }: Pick<SheetOptions, 'date' | 'revision'>): ClientModel {
  const { job, solids, parts, zones } = assembly
  const boundsMm = voidBounds(assembly)
  const originMm: Xyz = [Math.round((boundsMm[0] + boundsMm[3]) / 2), Math.round((boundsMm[1] + boundsMm[4]) / 2), Math.round((boundsMm[2] + boundsMm[5]) / 2)]
  const byKind = new Map<string, { boxes: number[], meshes: SolidMesh[] }>()
  for (let i = 0; i < solids.count; i++) {
    if (whyDegenerate(solids, i) !== null) continue
    const kind = parts.classOf(i), layer = byKind.get(kind) ?? { boxes: [], meshes: [] }
    byKind.set(kind, layer)
    const { data } = solids, s = solids.offset[i]
    if (solids.kind[i] === BOX) {
      layer.boxes.push(...[0, 1, 2].map((k) => data[s + k] - originMm[k]), ...data.subarray(s + 3, s + 6), ...quaternionOf(data.subarray(s + 6, s + 15)))
    } else layer.meshes.push(meshOfSolid(solids, i, { chordErrorMm: CHORD_MM }))
  }
  const boards = new SolidSetBuilder()
  for (let i = 0; i < zones.count; i++) {
    if (whyDegenerate(zones, i) !== null) continue
    const { data } = zones, s = zones.offset[i], low = data[s + 12]
    boards.addPrism(data.subarray(s, s + 3), data.subarray(s + 3, s + 12), low - BOARD_MM, low, ringsOf(data, s))
  }
  const board = boards.build()
  if (board.count > 0) byKind.set('zone', { boxes: [], meshes: Array.from({ length: board.count }, (_, i) => meshOfSolid(board, i)) })
  return {
    name: job.name, date, revision, boundsMm, originMm,
    layers: [...byKind].map(([kind, { boxes, meshes }]): ClientLayer => ({ kind, boxes: packed(Float32Array.from(boxes)), mesh: meshes.length === 0 ? null : meshPacked(merged(meshes), originMm) })),
    runs: assembly.runs.map((placed) => runOf(placed, originMm)),
    views: job.views.map(({ name, note, eye, target, up, hidden, cut }) => ({ name, note, eye, target, up: up as unknown as Xyz, hidden, cut: cut === undefined ? null : { at: cut.at, towards: cut.towards as unknown as Xyz } })),
  }
}

function runOf(placed: PlacedRun, originMm: Xyz): ClientRun {
  const { run, type, centreline, outerRadiusMm, from, to } = placed
  const builder = new SolidSetBuilder()
  builder.addTube(centreline, outerRadiusMm)
  const end = [from, to].find((each) => isSpigot(each) && each.equipment.air !== undefined)
  return {
    name: run.name, words: `${type.name}, ${(centreline.lengthMm / 1000).toFixed(2)} m`, air: end !== undefined && isSpigot(end) ? end.equipment.air ?? '' : '',
    mesh: meshPacked(meshOfSolid(builder.build(), 0, { chordErrorMm: CHORD_MM, tubeEnds: 'flat' }), originMm),
  }
}

/** The void: ceiling zones and joists, or everything where there are neither. */
function voidBounds({ solids, zones, joists, runs }: Assembly): [number, number, number, number, number, number] {
  const six = joists.length > 0 || zones.count > 0
    ? [zones.bounds, ...joists.map(({ firstSolid, endSolid }) => solids.bounds.subarray(6 * firstSolid, 6 * endSolid))]
    : [solids.bounds, ...runs.flatMap(({ run }) => run.waypoints.map(({ at }) => Float64Array.from([...at, ...at])))]
  const bounds: [number, number, number, number, number, number] = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity]
  for (const some of six) {
    for (let i = 0; i + 5 < some.length; i += 6) {
      for (let k = 0; k < 3; k++) {
        bounds[k] = Math.min(bounds[k], some[i + k])
        bounds[k + 3] = Math.max(bounds[k + 3], some[i + k + 3])
      }
    }
  }
  return bounds[0] <= bounds[3] ? bounds : [0, 0, 0, 4000, 4000, 2400]
}

function merged(meshes: readonly SolidMesh[]): SolidMesh {
  const count = meshes.reduce((sum, { positions }) => sum + positions.length, 0)
  const positions = new Float32Array(count), normals = new Float32Array(count), indices = new Uint32Array(meshes.reduce((sum, mesh) => sum + mesh.indices.length, 0))
  let at = 0, to = 0
  for (const mesh of meshes) {
    positions.set(mesh.positions, at)
    normals.set(mesh.normals, at)
    mesh.indices.forEach((index) => { indices[to++] = index + at / 3 })
    at += mesh.positions.length
  }
  return { positions, normals, indices }
}

function meshPacked({ positions, normals, indices }: SolidMesh, originMm: Xyz): ClientMesh {
  return { positions: packed(positions.map((value, i) => value - originMm[i % 3])), normals: packed(Int8Array.from(normals, (value) => Math.round(value * 127))), indices: packed(indices) }
}

const packed = (numbers: Float32Array | Int8Array | Uint32Array): string => base64(new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength))
