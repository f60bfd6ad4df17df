/**
 * The project file ("job"): what a builder knows about one void. Lengths in millimetres, angles in degrees,
 * x and y in plan, z up, angles counter-clockwise positive seen from the positive end of the axis they turn about.
 * One JSON object; unknown keys are refused so that a misspelt one cannot be silently ignored.
 */
import * as z from 'zod'
import { airSchema } from './air.ts'
import { ductTypeSchema, equipmentSchema, runSchema, sleeveSchema } from './ducts.ts'
import { drilledHoleSchema, joistFieldSchema, joistSectionSchema } from './joists.ts'
import { solidSchema, zoneSchema, roomSchema } from './surroundings.ts'
import { underlaySchema, viewSchema } from './looking.ts'
import { settingsSchema } from './settings.ts'
import { LIMITS, nameSchema, noteSchema } from './basics.ts'

export const FORMAT = 'joistway-job'
export const LATEST_VERSION = 1

export const jobSchema = z.strictObject({
  format: z.literal(FORMAT),
  version: z.literal(LATEST_VERSION).describe('of the file format'),
  name: nameSchema,
  note: noteSchema.default(''),
  datum: noteSchema.default('').describe('where 0,0,0 is on site, in words a person can find with a tape'),
  settings: settingsSchema.prefault({}).describe('what the job requires'),
  rooms: z.array(roomSchema).max(LIMITS.rooms).default([]).describe('the rooms below or above the void'),
  zones: z.array(zoneSchema).max(LIMITS.zones).default([]).describe('where ducts may run: a plan polygon between two heights'),
  sections: z.array(joistSectionSchema).max(LIMITS.sections).default([]).describe('cross-sections of joists'),
  joistFields: z.array(joistFieldSchema).max(LIMITS.joistFields).default([]).describe('joists side by side at regular centres'),
  holes: z.array(drilledHoleSchema).max(LIMITS.holes).default([]).describe('holes drilled through joists'),
  solids: z.array(solidSchema).max(LIMITS.solids).default([]).describe('anything else on site that a duct could meet'),
  sleeves: z.array(sleeveSchema).max(LIMITS.sleeves).default([]).describe('declared holes through walls, slabs and fascias'),
  equipment: z.array(equipmentSchema).max(LIMITS.equipment).default([]).describe('units, manifolds, plenums and outdoor terminals'),
  ductTypes: z.array(ductTypeSchema).max(LIMITS.ductTypes).default([]).describe('kinds of duct'),
  runs: z.array(runSchema).max(LIMITS.runs).default([]).describe('one duct each, from spigot to spigot or sleeve'),
  views: z.array(viewSchema).max(LIMITS.views).default([]).describe('places to look from'),
  underlay: underlaySchema.optional(),
  air: airSchema.optional().describe('how much air, by which rule, and the record of its handover'),
})

/** A whole, valid job with every default filled in. */
export type Job = z.output<typeof jobSchema>
/** A job as a person writes it: what has a default may be left out. */
export type JobInput = z.input<typeof jobSchema>
