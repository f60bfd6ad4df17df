/**
 * The project file ("job"): what a builder knows about one void. Lengths in millimetres, angles in degrees,
 * x and y in plan, z up, angles counter-clockwise positive seen from the positive end of the axis they turn about.
 * One JSON object; unknown keys are refused so that a misspelt one cannot be silently ignored.
 */
import * as z from 'zod'
import { ductTypeSchema, equipmentSchema, runSchema, sleeveSchema } from './ducts.ts'
import { drilledHoleSchema, joistFieldSchema, joistSectionSchema } from './joists.ts'
import { solidSchema, zoneSchema, roomSchema } from './surroundings.ts'
import { settingsSchema } from './settings.ts'
import { LIMITS, nameSchema, noteSchema } from './basics.ts'

export const FORMAT = 'joistway-job'
export const LATEST_VERSION = 1

export const jobSchema = z.strictObject({
  format: z.literal(FORMAT),
  version: z.literal(LATEST_VERSION),
  name: nameSchema,
  note: noteSchema.default(''),
  /** where 0,0,0 is on site, in words a person can find with a tape */
  datum: noteSchema.default(''),
  settings: settingsSchema.prefault({}),
  rooms: z.array(roomSchema).max(LIMITS.rooms).default([]),
  zones: z.array(zoneSchema).max(LIMITS.zones).default([]),
  sections: z.array(joistSectionSchema).max(LIMITS.sections).default([]),
  joistFields: z.array(joistFieldSchema).max(LIMITS.joistFields).default([]),
  holes: z.array(drilledHoleSchema).max(LIMITS.holes).default([]),
  solids: z.array(solidSchema).max(LIMITS.solids).default([]),
  sleeves: z.array(sleeveSchema).max(LIMITS.sleeves).default([]),
  equipment: z.array(equipmentSchema).max(LIMITS.equipment).default([]),
  ductTypes: z.array(ductTypeSchema).max(LIMITS.ductTypes).default([]),
  runs: z.array(runSchema).max(LIMITS.runs).default([]),
})

/** A whole, valid job with every default filled in. */
export type Job = z.output<typeof jobSchema>
/** A job as a person writes it: what has a default may be left out. */
export type JobInput = z.input<typeof jobSchema>
