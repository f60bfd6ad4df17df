/** What the job requires: clearances by pair of classes, and the rules it is judged by. */
import * as z from 'zod'
import { LIMITS, noteSchema, zeroOrLengthMm } from './basics.ts'
import { CLASSES } from './surroundings.ts'

const classOrAny = z.enum([...CLASSES, 'any'])

/** The most particular entry wins: both classes named before one named before none; of equals the last. */
const clearanceSchema = z.strictObject({
  between: z.tuple([classOrAny, classOrAny]),
  mm: zeroOrLengthMm,
  /** why, in words for the person on site */
  why: noteSchema.default(''),
})

/** Published hole rules; see checks for document and clause of each. */
export const HOLE_RULES = ['uk-classic', 'uk-capped', 'nhbc-6.4.18', 'irc-r502.8', 'i-joist-generic', 'irc-r505-cold-formed'] as const

export const settingsSchema = z.strictObject({
  /** where no entry below speaks */
  clearanceMm: zeroOrLengthMm.default(0),
  clearances: z.array(clearanceSchema).max(LIMITS.clearances).default([]),
  holeRules: z.strictObject({
    solidTimber: z.enum(['uk-classic', 'uk-capped', 'nhbc-6.4.18', 'irc-r502.8']).default('uk-capped'),
    iSection: z.literal('i-joist-generic').default('i-joist-generic'),
    coldFormed: z.literal('irc-r505-cold-formed').default('irc-r505-cold-formed'),
  }).prefault({}),
  /** an end counts as on its spigot within these */
  connection: z.strictObject({
    offMm: zeroOrLengthMm.default(2),
    offDeg: z.number().min(0).max(90).default(2),
  }).prefault({}),
  /** straight duct wanted before the first bend at a spigot, in duct diameters: common practice */
  straightAtSpigot: z.strictObject({
    unitDiameters: z.number().min(0).max(20).default(3),
    otherDiameters: z.number().min(0).max(20).default(0),
  }).prefault({}),
  /** supply and extract valves: least distance of the plenum's middle from walls and doors; 0 switches it off */
  terminals: z.strictObject({
    wallMm: zeroOrLengthMm.default(300),
    doorMm: zeroOrLengthMm.default(0),
  }).prefault({}),
  /** between the openings of intake and exhaust: common practice */
  outdoor: z.strictObject({
    leastMm: zeroOrLengthMm.default(300),
    advisedMm: zeroOrLengthMm.default(2_000),
  }).prefault({}),
})
export type Settings = z.output<typeof settingsSchema>
