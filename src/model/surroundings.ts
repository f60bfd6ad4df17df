/** What stands round the ducts: rooms, ceiling zones, and loose solids of the four kinds. */
import * as z from 'zod'
import { LIMITS, coordinateMm, lengthMm, nameSchema, noteSchema, point2Schema, point3Schema, ringSchema, roomId, rotationSchema, solidId, zoneId, zeroOrLengthMm } from './basics.ts'

/** What a solid is; clearances are required by pairs of these. */
export const CLASSES = [
  'duct', 'chord', 'web', 'joist', 'beam', 'trimmer', 'noggin', 'strongback', 'steel', 'wall', 'slab', 'lining', 'insulation',
  'pipe', 'soil-stack', 'cable', 'downlight', 'keep-out', 'flue', 'unit', 'manifold', 'plenum', 'outdoor-terminal', 'sleeve', 'other',
] as const
export const classSchema = z.enum(CLASSES)
export type SolidClass = z.output<typeof classSchema>

export const ROOM_USES = ['living', 'bedroom', 'study', 'dining', 'kitchen', 'utility', 'bathroom', 'wc', 'hall', 'plant', 'store', 'other'] as const

const doorSchema = z.strictObject({
  /** middle of the door's opening on the room's outline, plan */
  at: point2Schema,
  widthMm: lengthMm.default(800),
})

export const roomSchema = z.strictObject({
  id: roomId,
  name: nameSchema,
  use: z.enum(ROOM_USES).default('other'),
  /** inside faces of the walls, plan, corner by corner; the first corner is not repeated */
  outline: ringSchema,
  floorMm: coordinateMm.default(0),
  ceilingMm: coordinateMm.default(2_400),
  doors: z.array(doorSchema).max(50).default([]),
})

export const zoneSchema = z.strictObject({
  id: zoneId,
  name: nameSchema,
  /** plan polygon, corner by corner; the first corner is not repeated; either way round */
  outline: ringSchema,
  holes: z.array(ringSchema).max(LIMITS.polygonHoles).default([]),
  /** height of the finished ceiling's upper side: the lowest a duct may hang */
  undersideMm: coordinateMm,
  /** height of what closes the void above */
  topMm: coordinateMm,
})

const boxShape = z.strictObject({
  kind: z.literal('box'),
  centre: point3Schema,
  /** along its own x, y and z before it is turned */
  sizeMm: z.tuple([lengthMm, lengthMm, lengthMm]),
  /** about x, then y, then z through its centre */
  rotationDeg: rotationSchema.default([0, 0, 0]),
})
const prismShape = z.strictObject({
  kind: z.literal('prism'),
  /** the polygon in its own x and y; either way round */
  outline: ringSchema,
  holes: z.array(ringSchema).max(LIMITS.polygonHoles).default([]),
  /** extruded from here to there along its own z */
  bottomMm: coordinateMm,
  topMm: coordinateMm,
  /** where its own origin lies, and how it is turned there: about x, then y, then z */
  origin: point3Schema.default([0, 0, 0]),
  rotationDeg: rotationSchema.default([0, 0, 0]),
})
const cylinderShape = z.strictObject({
  kind: z.literal('cylinder'),
  /** middle of one flat end, and of the other */
  from: point3Schema,
  to: point3Schema,
  diameterMm: lengthMm,
})
const tubeShape = z.strictObject({
  kind: z.literal('tube'),
  /** the centreline's corners from end to end */
  points: z.array(point3Schema).min(2).max(LIMITS.waypoints),
  diameterMm: lengthMm,
  /** centre-line radius of the bend at every inner corner; 0 is a sharp corner */
  bendRadiusMm: zeroOrLengthMm.default(0),
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
