/** Numbers, points, names and ids as the project file writes them. */
import * as z from 'zod'

/** Most of each thing that one job may hold; a file above these is refused rather than left to hang. */
export const LIMITS = {
  rooms: 2_000, zones: 2_000, sections: 200, joistFields: 2_000, joistsPerField: 5_000, joists: 20_000, holes: 20_000,
  solids: 50_000, sleeves: 2_000, equipment: 5_000, spigots: 100, ductTypes: 200, fittings: 100, runs: 5_000,
  views: 200, waypoints: 500, vertices: 2_000, polygonHoles: 200, clearances: 500, webMembers: 1_000_000,
} as const

/** Farthest a coordinate may lie from 0, mm: one kilometre. */
export const FARTHEST_MM = 1_000_000

export const coordinateMm = z.number().min(-FARTHEST_MM).max(FARTHEST_MM).describe('mm')
/** a length that may not be zero, mm: a tenth of a millimetre to one kilometre */
export const lengthMm = z.number().min(0.1).max(FARTHEST_MM).describe('mm')
/** a length that may be zero, mm */
export const zeroOrLengthMm = z.number().min(0).max(FARTHEST_MM).describe('mm')
export const angleDeg = z.number().min(-360).max(360).describe('degrees')

export const point3Schema = z.tuple([coordinateMm, coordinateMm, coordinateMm]).describe('x, y, z in mm')
export const point2Schema = z.tuple([coordinateMm, coordinateMm]).describe('x, y in mm')
/** turned about the fixed x axis, then y, then z, each counter-clockwise */
export const rotationSchema = z.tuple([angleDeg, angleDeg, angleDeg]).describe('degrees about x, then y, then z')
export const ringSchema = z.array(point2Schema).min(3).max(LIMITS.vertices)

/** names and notes go to consoles and lists as they are, so nothing in them may steer a console; both patterns are linear */
export const nameSchema = z.string().min(1).max(200).regex(
  /^[^\S\u0000-\u001f\u0085\u2028\u2029]*[^\s\u0000-\u001f\u007f-\u009f][^\u0000-\u001f\u007f-\u009f\u2028\u2029]*$/,
  'one line of text, not blank, without control characters',
)
export const noteSchema = z.string().max(5_000).regex(
  /^[^\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]*$/,
  'text without control characters but tab and line end',
)

/** ids: letters, digits, dot, hyphen and underscore, so that they are safe in a list, a file name and a label */
const ID = /^[A-Za-z0-9][A-Za-z0-9._-]*$/
const LONGEST_ID = 64
const idText = z.string().min(1).max(LONGEST_ID).regex(ID, 'letters, digits, dot, hyphen and underscore only, starting with a letter or digit')
export function isId(value: unknown): value is string {
  return typeof value === 'string' && value.length <= LONGEST_ID && ID.test(value)
}
const idOf = <B extends string>() => idText as unknown as z.ZodType<string & { readonly __id: B }, string>

export const roomId = idOf<'room'>()
export const zoneId = idOf<'zone'>()
export const sectionId = idOf<'section'>()
export const fieldId = idOf<'field'>()
export const joistId = idOf<'joist'>()
export const holeId = idOf<'hole'>()
export const solidId = idOf<'solid'>()
export const sleeveId = idOf<'sleeve'>()
export const equipmentId = idOf<'equipment'>()
export const spigotId = idOf<'spigot'>()
export const ductTypeId = idOf<'ductType'>()
export const runId = idOf<'run'>()
export const viewId = idOf<'view'>()

export type RoomId = z.output<typeof roomId>
export type ZoneId = z.output<typeof zoneId>
export type SectionId = z.output<typeof sectionId>
export type FieldId = z.output<typeof fieldId>
export type JoistId = z.output<typeof joistId>
export type HoleId = z.output<typeof holeId>
export type SolidId = z.output<typeof solidId>
export type SleeveId = z.output<typeof sleeveId>
export type EquipmentId = z.output<typeof equipmentId>
export type SpigotId = z.output<typeof spigotId>
export type DuctTypeId = z.output<typeof ductTypeId>
export type RunId = z.output<typeof runId>
export type ViewId = z.output<typeof viewId>

export type Point3 = z.output<typeof point3Schema>
export type Point2 = z.output<typeof point2Schema>
