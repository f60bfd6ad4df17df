/** Duct types, ventilation equipment with its spigots, sleeves, and the runs. */
import * as z from 'zod'
import { LIMITS, ductTypeId, equipmentId, lengthMm, nameSchema, noteSchema, point3Schema, roomId, rotationSchema, runId, sleeveId, solidId, spigotId, zeroOrLengthMm } from './basics.ts'

const typeCommon = {
  id: ductTypeId,
  name: nameSchema,
  innerDiameterMm: lengthMm,
  outerDiameterMm: lengthMm,
  /** thickness of insulation round the duct; it is part of what must clear */
  insulationMm: zeroOrLengthMm.default(0),
}
/** bends wherever the installer likes, down to a least centre-line radius */
const bendable = z.strictObject({ kind: z.literal('semi-rigid'), ...typeCommon, minBendRadiusMm: lengthMm })
/** bends only by fittings from a list */
const fittingSchema = z.strictObject({
  angleDeg: z.number().min(1).max(180),
  /** centre-line radius */
  radiusMm: lengthMm,
  /** how much of the fitting's end slides into the duct */
  insertionMm: zeroOrLengthMm.default(0),
})
const rigid = z.strictObject({ kind: z.literal('rigid'), ...typeCommon, fittings: z.array(fittingSchema).min(1).max(LIMITS.fittings) })
export const ductTypeSchema = z.discriminatedUnion('kind', [bendable, rigid])

const direction3 = z.tuple([z.number().min(-1e3).max(1e3), z.number().min(-1e3).max(1e3), z.number().min(-1e3).max(1e3)])

export const spigotSchema = z.strictObject({
  id: spigotId,
  /** middle of the collar's mouth, where the duct's centreline ends: in the equipment's own x, y, z from its centre, before it is turned */
  at: point3Schema,
  /** the way out of the equipment, in the same frame; any length but zero */
  axis: direction3,
  /** outer diameter of the duct that it takes */
  diameterMm: lengthMm,
  /** how far the collar stands out of the body */
  lengthMm: zeroOrLengthMm.default(40),
})

export const AIR_STREAMS = ['supply', 'extract', 'intake', 'exhaust'] as const
export const airStreamSchema = z.enum(AIR_STREAMS)

export const equipmentSchema = z.strictObject({
  id: equipmentId,
  name: nameSchema,
  kind: z.enum(['unit', 'manifold', 'plenum', 'outdoor-terminal']),
  /** middle of the body */
  centre: point3Schema,
  sizeMm: z.tuple([lengthMm, lengthMm, lengthMm]),
  /** about x, then y, then z through its centre */
  rotationDeg: rotationSchema.default([0, 0, 0]),
  /** the air it carries; a unit carries all four */
  air: airStreamSchema.optional(),
  /** the room a plenum serves */
  room: roomId.optional(),
  spigots: z.array(spigotSchema).max(LIMITS.spigots).default([]),
})

/** A declared round hole through a wall, slab or fascia, with its lining. */
export const sleeveSchema = z.strictObject({
  id: sleeveId,
  name: nameSchema,
  /** middle of the sleeve */
  at: point3Schema,
  axis: direction3,
  /** clear diameter inside */
  diameterMm: lengthMm,
  lengthMm,
  /** ids of the loose solids that it goes through */
  through: z.array(solidId).max(20),
})

const endSchema = z.union([
  z.strictObject({ equipment: equipmentId, spigot: spigotId }),
  z.strictObject({ sleeve: sleeveId }),
])
const waypointSchema = z.strictObject({
  at: point3Schema,
  /** centre-line radius of the bend here; the type's least (semi-rigid) or the fitting of that angle (rigid) when left out */
  radiusMm: lengthMm.optional(),
})
export const runSchema = z.strictObject({
  id: runId,
  name: nameSchema,
  type: ductTypeId,
  from: endSchema,
  to: endSchema,
  /** where the centreline starts, turns and ends, in order */
  waypoints: z.array(waypointSchema).min(2).max(LIMITS.waypoints),
  note: noteSchema.default(''),
})
export type DuctType = z.output<typeof ductTypeSchema>
export type Spigot = z.output<typeof spigotSchema>
export type Equipment = z.output<typeof equipmentSchema>
export type Sleeve = z.output<typeof sleeveSchema>
export type RunEnd = z.output<typeof endSchema>
export type Run = z.output<typeof runSchema>
export type AirStream = z.output<typeof airStreamSchema>
