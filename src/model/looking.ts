/** What helps people look at a job and takes no part in its checks: saved views, and a picture of the plan to trace over. */
import * as z from 'zod'
import { coordinateMm, nameSchema, noteSchema, point2Schema, point3Schema, viewId } from './basics.ts'
import { CLASSES } from './classes.ts'

const direction3 = z.tuple([z.number().min(-1e3).max(1e3), z.number().min(-1e3).max(1e3), z.number().min(-1e3).max(1e3)])

export const viewSchema = z.strictObject({
  id: viewId,
  name: nameSchema,
  note: noteSchema.default('').describe('for whoever is shown it'),
  eye: point3Schema.describe('where the camera stands'),
  target: point3Schema.describe('what it looks at'),
  up: direction3.default([0, 0, 1]).describe('which way is up in the picture; any length but zero'),
  hidden: z.array(z.enum([...CLASSES, 'room', 'zone'])).max(CLASSES.length + 2).default([]).describe('kinds of things that are not drawn'),
  faint: z.array(z.enum([...CLASSES, 'room', 'zone'])).max(CLASSES.length + 2).optional().describe('kinds of things that are drawn so faint that they hide nothing'),
  cut: z.strictObject({
    at: point3Schema.describe('a point of the plane'),
    towards: direction3.describe('square to the plane: what lies this way of it is cut away; any length but zero'),
  }).optional().describe('a plane that cuts the picture away'),
}).describe('a place to look from, kept by name')

const pixel = z.number().min(-1e6).max(1e6)
const markSchema = z.strictObject({
  pixel: z.tuple([pixel, pixel]).describe('in the picture, from its left and from its top, picture points'),
  at: point2Schema.describe('the same point on site, plan'),
})
export const underlaySchema = z.strictObject({
  picture: nameSchema.describe('name of the picture’s file; the picture itself is kept beside the job, not in it'),
  widthPixels: z.number().min(1).max(1e6),
  heightPixels: z.number().min(1).max(1e6),
  marks: z.tuple([markSchema, markSchema]).describe('two points known in the picture and on site, which scale, turn and place it'),
  levelMm: coordinateMm.default(0).describe('height at which it is drawn'),
}).describe('a photo, scan or picture of the plan to trace over')

export type View = z.output<typeof viewSchema>
export type Underlay = z.output<typeof underlaySchema>
