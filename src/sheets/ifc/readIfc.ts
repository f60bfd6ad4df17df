/**
 * Someone else's building -> loose solids to check against. Each body whose surface is a straight prism becomes exactly that (round ones with
 * as many sides as the parser gives them); any other becomes the upright box round it and is listed so. What is not read is listed with its reason.
 */
import type { IfcAPI } from 'web-ifc'
import type { Job, SolidClass } from '#model/index.ts'
import { shown } from '../letters.ts'
import { hull } from '../setOut/footprint.ts'
import { bodiesOf, prismOf, rangeOf, volumeOf, type FoundPrism, type Triangle, type Vec } from './meshPrism.ts'

export type Reader = Pick<IfcAPI, 'OpenModel' | 'CloseModel' | 'StreamAllMeshes' | 'GetGeometry' | 'GetVertexArray' | 'GetIndexArray' | 'GetLine' | 'GetLineType' | 'GetNameFromTypeCode' | 'GetModelSchema' | 'GetAllLines' | 'GetLineIDsWithType' | 'GetTypeCodeFromName'>

type LooseSolid = Job['solids'][number]

export interface ReadBuilding {
  readonly solids: readonly LooseSolid[]
  /** shape of each solid, by its id */
  readonly asBox: readonly { readonly id: string, readonly name: string, readonly why: string }[]
  readonly unread: readonly { readonly what: string, readonly name: string, readonly why: string }[]
  readonly schema: string
}

/** Kinds that are brought in, and what they count as here. */
const KINDS: Readonly<Record<string, SolidClass>> = {
  IFCMEMBER: 'beam', IFCMEMBERSTANDARDCASE: 'beam', IFCBEAM: 'beam', IFCBEAMSTANDARDCASE: 'beam', IFCCOLUMN: 'beam', IFCCOLUMNSTANDARDCASE: 'beam', IFCPLATE: 'steel', IFCPLATESTANDARDCASE: 'steel',
  IFCSLAB: 'slab', IFCSLABSTANDARDCASE: 'slab', IFCROOF: 'slab', IFCFOOTING: 'slab', IFCPILE: 'beam', IFCCHIMNEY: 'wall', IFCSTAIRFLIGHT: 'other', IFCRAILING: 'other', IFCWALL: 'wall', IFCWALLSTANDARDCASE: 'wall', IFCCOVERING: 'lining',
  IFCDUCTSEGMENT: 'pipe', IFCDUCTFITTING: 'pipe', IFCPIPESEGMENT: 'pipe', IFCPIPEFITTING: 'pipe', IFCFLOWSEGMENT: 'pipe', IFCFLOWFITTING: 'pipe', IFCCABLESEGMENT: 'cable', IFCCABLECARRIERSEGMENT: 'cable',
  IFCAIRTERMINAL: 'other', IFCAIRTERMINALBOX: 'other', IFCFLOWTERMINAL: 'other', IFCDISCRETEACCESSORY: 'steel', IFCBUILDINGELEMENTPROXY: 'other', IFCLIGHTFIXTURE: 'downlight',
}
/** Sides of a round body. With this many a circle's flats lie within 0.08 % of its radius. */
export const CIRCLE_SIDES = 80
const MOST_CORNERS = 1_500
const FARTHEST_MM = 1_000_000
const LEAST_MM = 0.1

/** @param taken ids that the job has already; @param mostSolids how many more it may take */
export function readIfc(api: Reader, bytes: Uint8Array, taken: ReadonlySet<string>, mostSolids: number): ReadBuilding | { readonly why: string } {
  let model = -1
  try {
    model = api.OpenModel(bytes, { CIRCLE_SEGMENTS: CIRCLE_SIDES, COORDINATE_TO_ORIGIN: false })
    const schema = model < 0 ? '' : api.GetModelSchema(model)
    if (typeof schema !== 'string' || schema === '') return { why: 'this is no IFC file that can be read' }
    return { schema, ...bodiesIn(api, model, taken, mostSolids) }
  } catch (error) {
    return { why: `the IFC file cannot be read (${error instanceof Error ? error.message : String(error)})` }
  } finally {
    if (model >= 0) api.CloseModel(model)
  }
}

function bodiesIn(api: Reader, model: number, taken: ReadonlySet<string>, mostSolids: number): Omit<ReadBuilding, 'schema'> {
  const solids: LooseSolid[] = [], asBox: ReadBuilding['asBox'][number][] = [], unread: ReadBuilding['unread'][number][] = []
  const ids = new Set(taken), drawn = new Set<number>()
  api.StreamAllMeshes(model, (mesh) => {
    const { expressID } = mesh
    drawn.add(expressID)
    const what = kindOf(api, model, expressID), name = nameOf(api, model, expressID, what)
    const skip = (why: string): void => { unread.push({ what, name, why }) }
    const className = KINDS[what]
    if (className === undefined) return skip('a kind that is not brought in')
    const triangles = trianglesOf(api, model, mesh)
    if (triangles.length === 0) return skip('it has no surface')
    if (triangles.some((corners) => corners.some((p) => !p.every((value) => Math.abs(value) <= FARTHEST_MM)))) return skip('it lies more than a kilometre from the datum')
    bodiesOf(triangles).forEach((body, k, all) => {
      if (solids.length >= mostSolids) {
        if (k === 0) skip('the job holds no more solids')
        return
      }
      const id = freeId(`ifc-${expressID}${all.length > 1 ? `-${k + 1}` : ''}`, ids), ownName = all.length > 1 ? `${name.slice(0, 180)} (${k + 1})` : name
      const prism = prismOf(body)
      const shape = prism === null || prism.rings.some((ring) => ring.length > MOST_CORNERS) ? null : shapeOf(prism)
      if (shape === null) {
        const boxShape = boxRound(body)
        if (boxShape === null) return skip('it is too thin to be a body')
        asBox.push({ id, name: ownName, why: volumeOf(body) > 0 ? 'its surface is no straight prism' : 'its surface is not closed' })
        solids.push({ id: id as never, name: ownName, class: className, shape: boxShape, note: `from IFC, ${what}; taken as the upright box round it` })
      } else solids.push({ id: id as never, name: ownName, class: className, shape, note: `from IFC, ${what}` })
    })
  })
  const wholes = wholesIn(api, model), lines = api.GetAllLines(model)
  for (let i = 0; i < lines.size(); i++) {
    const expressID = lines.get(i), what = kindOf(api, model, expressID)
    if (KINDS[what] !== undefined && !drawn.has(expressID) && !wholes.has(expressID)) unread.push({ what, name: nameOf(api, model, expressID, what), why: 'it has no body, or one that the parser cannot draw' })
  }
  const byNumber = (a: { id: string }, b: { id: string }): number => Number(/\d+/.exec(a.id)![0]) - Number(/\d+/.exec(b.id)![0])
  return { solids: solids.sort(byNumber), asBox: asBox.sort(byNumber), unread }
}

/** Things that are made of others, which have the bodies. */
function wholesIn(api: Reader, model: number): Set<number> {
  const wholes = new Set<number>(), links = api.GetLineIDsWithType(model, api.GetTypeCodeFromName('IFCRELAGGREGATES'))
  for (let i = 0; i < links.size(); i++) wholes.add((api.GetLine(model, links.get(i)) as { RelatingObject: { value: number } }).RelatingObject.value)
  return wholes
}

const kindOf = (api: Reader, model: number, expressID: number): string => String(api.GetNameFromTypeCode(api.GetLineType(model, expressID) as number) ?? '').toUpperCase()

function nameOf(api: Reader, model: number, expressID: number, what: string): string {
  const line = api.GetLine(model, expressID) as { Name?: { value?: unknown } | null }
  const name = shown(String(line?.Name?.value ?? '')).trim().slice(0, 190)
  return name === '' ? `${what.toLowerCase()} ${expressID}` : name
}

/** The parser gives metres with y up; here they are mm with z up. */
function trianglesOf(api: Reader, model: number, mesh: Parameters<Parameters<Reader['StreamAllMeshes']>[1]>[0]): Triangle[] {
  const triangles: Triangle[] = []
  for (let g = 0; g < mesh.geometries.size(); g++) {
    const { geometryExpressID, flatTransformation: m } = mesh.geometries.get(g)
    const geometry = api.GetGeometry(model, geometryExpressID)
    const vertices = api.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize()), indices = api.GetIndexArray(geometry.GetIndexData(), geometry.GetIndexDataSize())
    const at = (i: number): Vec => {
      const [x, y, z] = vertices.subarray(6 * i, 6 * i + 3)
      const row = (k: number): number => (m[k] * x + m[4 + k] * y + m[8 + k] * z + m[12 + k]) * 1000
      return [row(0), -row(2), row(1)]
    }
    for (let i = 0; i + 2 < indices.length; i += 3) triangles.push([at(indices[i]), at(indices[i + 1]), at(indices[i + 2])])
    geometry.delete()
  }
  return triangles
}

function freeId(wanted: string, ids: Set<string>): string {
  let id = wanted
  for (let n = 2; ids.has(id); n++) id = `${wanted}.${n}`
  ids.add(id)
  return id
}

type Shape = LooseSolid['shape']

function shapeOf({ origin, u, v, w, rings, heightMm }: FoundPrism): Shape | null {
  const [outline, ...holes] = rings
  const us = outline.map(([x]) => x), vs = outline.map(([, y]) => y)
  if (heightMm < LEAST_MM || Math.max(...us) - Math.min(...us) < LEAST_MM || Math.max(...vs) - Math.min(...vs) < LEAST_MM) return null
  return {
    kind: 'prism', outline: outline.map(([x, y]) => [x, y]), holes: holes.map((ring) => ring.map(([x, y]) => [x, y])),
    bottomMm: 0, topMm: Math.round(heightMm * 100) / 100, origin: origin.map(hundredth) as [number, number, number], rotationDeg: rotationOf(u, v, w),
  }
}

/** Turns about x, y and z that carry the axes to u, v, w: R = Rz Ry Rx taken apart. */
export function rotationOf(u: Vec, v: Vec, w: Vec): [number, number, number] {
  const deg = (rad: number): number => Math.round(rad * 180 / Math.PI * 1e9) / 1e9 + 0
  const level = Math.hypot(u[0], u[1])
  if (level < 1e-9) return [deg(Math.atan2(-u[2] * v[0], v[1])), deg(-Math.sign(u[2]) * Math.PI / 2), 0]
  return [deg(Math.atan2(v[2], w[2])), deg(Math.atan2(-u[2], level)), deg(Math.atan2(u[1], u[0]))]
}

/** The upright box of the least plan area round a body: one of its sides lies along a side of the outline seen from above (Freeman and Shapira, Comm. ACM 18, 1975). */
function boxRound(body: readonly Triangle[]): Shape | null {
  const points = body.flat(), outline = hull(points.map(([x, y]): [number, number] => [x, y]))
  const [low, high] = rangeOf(points.map(([, , z]) => z))
  let best: { area: number, rad: number, box: [number, number, number, number] } | null = null
  outline.forEach(([x, y], i) => {
    const [nx, ny] = outline[(i + 1) % outline.length], rad = Math.atan2(ny - y, nx - x), c = Math.cos(rad), s = Math.sin(rad)
    const us = outline.map(([px, py]) => c * px + s * py), vs = outline.map(([px, py]) => c * py - s * px)
    const own: [number, number, number, number] = [Math.min(...us), Math.max(...us), Math.min(...vs), Math.max(...vs)]
    const area = (own[1] - own[0]) * (own[3] - own[2])
    if (best === null || area < best.area) best = { area, rad, box: own }
  })
  if (best === null) return null
  const { rad, box: [u0, u1, v0, v1] } = best as { area: number, rad: number, box: [number, number, number, number] }
  const size: [number, number, number] = [u1 - u0, v1 - v0, high - low]
  if (size.some((mm) => mm < LEAST_MM)) return null
  const u = (u0 + u1) / 2, v = (v0 + v1) / 2, c = Math.cos(rad), s = Math.sin(rad)
  return { kind: 'box', centre: [hundredth(c * u - s * v), hundredth(s * u + c * v), hundredth((low + high) / 2)], sizeMm: size.map((mm) => Math.ceil(mm * 100) / 100) as [number, number, number], rotationDeg: [0, 0, Math.round(rad * 180 / Math.PI * 1e6) / 1e6] }
}

const hundredth = (value: number): number => Math.round(value * 100) / 100 + 0
