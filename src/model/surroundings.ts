/** What stands round the ducts: rooms, ceiling zones, and loose solids of the four kinds. */
import * as z from 'zod'
import { roomAirflowSchema } from './air.ts'
import { LIMITS, coordinateMm, lengthMm, nameSchema, noteSchema, point2Schema, point3Schema, ringSchema, roomId, rotationSchema, solidId, zoneId, zeroOrLengthMm } from './basics.ts'
import { CLASSES } from './classes.ts'

export { CLASSES }
export const classSchema = z.enum(CLASSES).describe('what it is; clearances are required by pairs of these')
export type SolidClass = z.output<typeof classSchema>

export const ROOM_USES = ['living', 'bedroom', 'study', 'dining', 'kitchen', 'utility', 'bathroom', 'wc', 'hall', 'plant', 'store', 'other'] as const

const doorSchema = z.strictObject({
  at: point2Schema.describe('middle of the door’s opening on the room’s outline, plan'),
  widthMm: lengthMm.default(800),
  undercutMm: z.number().min(0).max(200).optional().describe('clear gap under its leaf, above the finished floor'),
})

export const roomSchema = z.strictObject({
  id: roomId,
  name: nameSchema,
  use: z.enum(ROOM_USES).default('other'),
  outline: ringSchema.describe('inside faces of the walls, plan, corner by corner; the first corner is not repeated'),
  floorMm: coordinateMm.default(0).describe('height of the finished floor'),
  ceilingMm: coordinateMm.default(2_400).describe('height of the finished ceiling'),
  doors: z.array(doorSchema).max(50).default([]),
  airflow: roomAirflowSchema.optional().describe('air wanted here, where the rate table is not to decide'),
})

export const zoneSchema = z.strictObject({
  id: zoneId,
  name: nameSchema,
  outline: ringSchema.describe('plan polygon, corner by corner; the first corner is not repeated; either way round'),
  holes: z.array(ringSchema).max(LIMITS.polygonHoles).default([]).describe('rings cut out of the outline'),
  undersideMm: coordinateMm.describe('height of the finished ceiling’s upper side: the lowest a duct may hang'),
  topMm: coordinateMm.describe('height of what closes the void above'),
})

const boxShape = z.strictObject({
  kind: z.literal('box'),
  centre: point3Schema,
  sizeMm: z.tuple([lengthMm, lengthMm, lengthMm]).describe('along its own x, y and z before it is turned'),
  rotationDeg: rotationSchema.default([0, 0, 0]).describe('about x, then y, then z through its centre'),
})
const prismShape = z.strictObject({
  kind: z.literal('prism'),
  outline: ringSchema.describe('the polygon in its own x and y; either way round'),
  holes: z.array(ringSchema).max(LIMITS.polygonHoles).default([]).describe('rings cut out of the outline'),
  bottomMm: coordinateMm.describe('extruded from here to there along its own z'),
  topMm: coordinateMm.describe('where the extrusion ends'),
  origin: point3Schema.default([0, 0, 0]).describe('where its own origin lies, and how it is turned there: about x, then y, then z'),
  rotationDeg: rotationSchema.default([0, 0, 0]),
})
const cylinderShape = z.strictObject({
  kind: z.literal('cylinder'),
  from: point3Schema.describe('middle of one flat end, and of the other'),
  to: point3Schema,
  diameterMm: lengthMm,
})
const tubeShape = z.strictObject({
  kind: z.literal('tube'),
  points: z.array(point3Schema).min(2).max(LIMITS.waypoints).describe('the centreline’s corners from end to end'),
  diameterMm: lengthMm,
  bendRadiusMm: zeroOrLengthMm.default(0).describe('centre-line radius of the bend at every inner corner; 0 is a sharp corner. Where the legs are too short for it the bend is as wide as they allow'),
})
export const shapeSchema = z.discriminatedUnion('kind', [boxShape, prismShape, cylinderShape, tubeShape])

export const solidSchema = z.strictObject({
  id: solidId,
  name: nameSchema,
  class: classSchema,
  shape: shapeSchema,
  note: noteSchema.default(''),
})

export type Room = z.output<typeof roomSchema>
export type Zone = z.output<typeof zoneSchema>
export type LooseSolid = z.output<typeof solidSchema>
export type Shape = z.output<typeof shapeSchema>
