/** Duct types, ventilation equipment with its spigots, sleeves, and the runs. */
import * as z from 'zod'
import { equipmentAirflowSchema, lossSchema } from './air.ts'
import { LIMITS, ductTypeId, equipmentId, lengthMm, nameSchema, noteSchema, point3Schema, roomId, rotationSchema, runId, sleeveId, solidId, spigotId, zeroOrLengthMm } from './basics.ts'

const typeCommon = {
  id: ductTypeId,
  name: nameSchema,
  innerDiameterMm: lengthMm.describe('bore'),
  outerDiameterMm: lengthMm.describe('outside of the duct itself, without insulation'),
  insulationMm: zeroOrLengthMm.default(0).describe('thickness of insulation round the duct; it is part of what must clear'),
  roughnessMm: z.number().min(0).max(10).optional().describe('of its bore, as its maker or a table gives it; a published figure for its kind when left out'),
}
const bendable = z.strictObject({
  kind: z.literal('semi-rigid'),
  ...typeCommon,
  minBendRadiusMm: lengthMm.describe('least radius of a bend, to the centre line'),
}).describe('bends wherever the installer likes, down to a least radius')
const fittingSchema = z.strictObject({
  angleDeg: z.number().min(1).max(180).describe('how far it turns the duct'),
  radiusMm: lengthMm.describe('centre-line radius'),
  insertionMm: zeroOrLengthMm.default(0).describe('how much of the fitting’s end slides into the duct'),
})
const rigid = z.strictObject({
  kind: z.literal('rigid'),
  ...typeCommon,
  fittings: z.array(fittingSchema).min(1).max(LIMITS.fittings).describe('the bends that can be had'),
}).describe('bends only by fittings from a list')
export const ductTypeSchema = z.discriminatedUnion('kind', [bendable, rigid])

const direction3 = z.tuple([z.number().min(-1e3).max(1e3), z.number().min(-1e3).max(1e3), z.number().min(-1e3).max(1e3)])

export const spigotSchema = z.strictObject({
  id: spigotId,
  at: point3Schema.describe('middle of the collar’s mouth, where the duct’s centreline ends: in the equipment’s own x, y, z from its centre, before it is turned'),
  axis: direction3.describe('the way out of the equipment, in the same frame; any length but zero'),
  diameterMm: lengthMm.describe('outer diameter of the duct that it takes'),
  lengthMm: zeroOrLengthMm.default(40).describe('how far the collar stands out of the body'),
})

export const AIR_STREAMS = ['supply', 'extract', 'intake', 'exhaust'] as const
export const airStreamSchema = z.enum(AIR_STREAMS)

export const equipmentSchema = z.strictObject({
  id: equipmentId,
  name: nameSchema,
  kind: z.enum(['unit', 'manifold', 'plenum', 'outdoor-terminal']),
  centre: point3Schema.describe('middle of the body'),
  sizeMm: z.tuple([lengthMm, lengthMm, lengthMm]).describe('along its own x, y and z before it is turned'),
  rotationDeg: rotationSchema.default([0, 0, 0]).describe('about x, then y, then z through its centre'),
  air: airStreamSchema.optional().describe('the air it carries; a unit carries all four'),
  room: roomId.optional().describe('the room a plenum serves'),
  packerMm: zeroOrLengthMm.optional().describe('height of the packers that a plenum sits on, above the ceiling; a note for the site, already within its centre'),
  spigots: z.array(spigotSchema).max(LIMITS.spigots).default([]).describe('the collars that ducts push on to'),
  airflow: equipmentAirflowSchema.optional().describe('its part in moving the air'),
  note: noteSchema.optional(),
})

export const sleeveSchema = z.strictObject({
  id: sleeveId,
  name: nameSchema,
  at: point3Schema.describe('middle of the sleeve'),
  axis: direction3.describe('the way through, either way; any length but zero'),
  diameterMm: lengthMm.describe('clear diameter inside'),
  lengthMm: lengthMm.describe('from end to end'),
  through: z.array(solidId).max(20).describe('ids of the loose solids that it goes through'),
}).describe('a declared round hole through a wall, slab or fascia, with its lining')

const endSchema = z.union([
  z.strictObject({ equipment: equipmentId, spigot: spigotId }).describe('a spigot of a piece of equipment'),
  z.strictObject({ sleeve: sleeveId }).describe('a sleeve'),
])
const waypointSchema = z.strictObject({
  at: point3Schema,
  radiusMm: lengthMm.optional().describe('centre-line radius of the bend here; the type’s least (semi-rigid) or the fitting of that angle (rigid) when left out'),
})
export const runSchema = z.strictObject({
  id: runId,
  name: nameSchema,
  type: ductTypeId.describe('id of its duct type'),
  from: endSchema.describe('what it starts at'),
  to: endSchema.describe('what it ends at'),
  waypoints: z.array(waypointSchema).min(2).max(LIMITS.waypoints).describe('where the centreline starts, turns and ends, in order'),
  group: nameSchema.optional().describe('name shared by runs that are changed together'),
  inLine: z.array(lossSchema).max(20).optional().describe('silencers, dampers and the like in the run'),
  locked: z.boolean().optional().describe('its course may not be changed until it is unlocked'),
  note: noteSchema.default(''),
})
export type DuctType = z.output<typeof ductTypeSchema>
export type Spigot = z.output<typeof spigotSchema>
export type Equipment = z.output<typeof equipmentSchema>
export type Sleeve = z.output<typeof sleeveSchema>
export type RunEnd = z.output<typeof endSchema>
export type Run = z.output<typeof runSchema>
export type AirStream = z.output<typeof airStreamSchema>
