/** What the job requires: clearances by pair of classes, and the rules it is judged by. */
import * as z from 'zod'
import { LIMITS, noteSchema, zeroOrLengthMm } from './basics.ts'
import { CLASSES } from './surroundings.ts'

const classOrAny = z.enum([...CLASSES, 'any'])

const clearanceSchema = z.strictObject({
  between: z.tuple([classOrAny, classOrAny]).describe('the two classes, either way round'),
  mm: zeroOrLengthMm.describe('least clear distance between their surfaces, mm'),
  why: noteSchema.default('').describe('why, in words for the person on site'),
}).describe('the most particular entry wins: both classes named before one named before none; of equals the last')

/** Published hole rules; see checks for document and clause of each. */
export const HOLE_RULES = ['uk-classic', 'uk-capped', 'nhbc-6.4.18', 'irc-r502.8', 'i-joist-generic', 'irc-r505-cold-formed'] as const

const routingPricesSchema = z.strictObject({
  bendMm: zeroOrLengthMm.default(300).describe('a bend made on site is worth so much more duct'),
  crossingMm: zeroOrLengthMm.default(150).describe('passing over or under another run, seen in plan'),
  openingMm: zeroOrLengthMm.default(5).describe('each opening or hole passed'),
})
export type RoutingPrices = z.output<typeof routingPricesSchema>

export const settingsSchema = z.strictObject({
  clearanceMm: zeroOrLengthMm.default(0).describe('clear distance required where no entry of clearances speaks'),
  clearances: z.array(clearanceSchema).max(LIMITS.clearances).default([]).describe('what is required between two classes of things'),
  holeRules: z.strictObject({
    solidTimber: z.enum(['uk-classic', 'uk-capped', 'nhbc-6.4.18', 'irc-r502.8']).default('uk-capped'),
    iSection: z.literal('i-joist-generic').default('i-joist-generic'),
    coldFormed: z.literal('irc-r505-cold-formed').default('irc-r505-cold-formed'),
  }).prefault({}).describe('the published rule that holes in each kind of joist are judged by'),
  connection: z.strictObject({
    offMm: zeroOrLengthMm.default(2),
    offDeg: z.number().min(0).max(90).default(2),
  }).prefault({}).describe('an end counts as on its spigot within these'),
  straightAtSpigot: z.strictObject({
    unitDiameters: z.number().min(0).max(20).default(3),
    otherDiameters: z.number().min(0).max(20).default(0),
  }).prefault({}).describe('straight duct wanted before the first bend at a spigot, in duct diameters, at a unit and elsewhere: common practice'),
  terminals: z.strictObject({
    wallMm: zeroOrLengthMm.default(300),
    doorMm: zeroOrLengthMm.default(0),
  }).prefault({}).describe('supply and extract valves: least distance of the plenum’s middle from walls and doors; 0 switches it off'),
  outdoor: z.strictObject({
    leastMm: zeroOrLengthMm.default(300),
    advisedMm: zeroOrLengthMm.default(2_000),
  }).prefault({}).describe('between the openings of intake and exhaust, the least and the advised: common practice'),
  routing: routingPricesSchema.optional().describe('what the router weighs against length; usual prices when left out'),
})

/** What the router takes where the job says nothing. */
export const usualPrices: RoutingPrices = routingPricesSchema.parse({})
export type Settings = z.output<typeof settingsSchema>
