/**
 * What a job may say about its air: how much, by which rule, what its parts cost in pressure, and what was measured at
 * handover. All of it may be left out: src/air then works from the rooms and the ducts alone and says what it assumed.
 */
import * as z from 'zod'
import { nameSchema, noteSchema } from './basics.ts'

const flowLps = z.number().min(0).max(10_000).describe('l/s')
const someFlowLps = z.number().min(0.01).max(10_000).describe('l/s')
const pressurePa = z.number().min(0).max(10_000).describe('Pa')
const percent = z.number().min(0).max(100).describe('%')
const dayText = z.string().regex(/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/, 'a day as year-month-day, such as 2026-03-31').describe('year-month-day')
/** id of a thing as it was then: a record stays readable after the thing has gone from the job, so nothing is asked of it */
const namedThing = z.string().min(1).max(64).regex(/^[A-Za-z0-9][A-Za-z0-9._-]*$/, 'letters, digits, dot, hyphen and underscore only, starting with a letter or digit')

export const RATE_TABLES = ['england-ad-f-2021', 'ashrae-62-2', 'irc-m1505'] as const
export const BEND_METHODS = ['bend-formula', 'smooth-elbow-table', 'round-figures'] as const
export const FAN_SPEEDS = ['trickle', 'normal', 'boost'] as const
export const METER_UNITS = ['l/s', 'm3/h'] as const

export const lossSchema = z.strictObject({
  name: nameSchema,
  kind: z.enum(['filter', 'silencer', 'exchanger', 'damper', 'fitting', 'grille', 'other']).default('other'),
  dropPa: pressurePa.describe('pressure it takes at that flow, Pa'),
  atLps: someFlowLps.describe('the flow that the drop is given for, l/s'),
  exponent: z.number().min(1).max(2).default(2).describe('drop grows with flow to this power: 2 for most things, nearer 1 for a filter'),
}).describe('a part whose pressure drop is known from its maker')

const fanPointSchema = z.strictObject({ flowLps, pressurePa: pressurePa.describe('what the fan has left for ducts, Pa') })
const fanCurveSchema = z.array(fanPointSchema).min(2).max(100)

export const equipmentAirflowSchema = z.strictObject({
  normalLps: flowLps.optional().describe('air wanted through a terminal in normal running, in place of its share, l/s'),
  boostLps: flowLps.optional().describe('the same in boost, l/s'),
  mostLps: someFlowLps.optional().describe('most that a terminal may carry, l/s'),
  settings: z.array(z.strictObject({
    setting: z.number().min(-1e4).max(1e4).describe('as it is marked on the valve: turns, mm or %'),
    flowLps: someFlowLps.describe('the flow that the drop is given for, l/s'),
    dropPa: z.number().min(0.01).max(10_000).describe('drop over the valve at that flow and setting, Pa'),
  })).min(1).max(50).optional().describe('the valve’s characteristic'),
  settingUnit: nameSchema.optional().describe('what its settings are counted in'),
  losses: z.array(lossSchema).max(20).optional().describe('of a manifold or outdoor terminal: its drop, instead of the assumed one; of a unit: what its fan curve leaves out'),
  fan: fanCurveSchema.optional().describe('of a unit: the supply fan’s curve at full speed, outside the unit; flow rises and pressure falls from point to point'),
  extractFan: fanCurveSchema.optional().describe('the extract fan’s, when it is another'),
  freeAreaMm2: z.number().min(0).max(1e7).optional().describe('of a terminal: free area at its face, mm²'),
  weightKg: z.number().min(0.1).max(5_000).optional().describe('kg'),
})

export const roomAirflowSchema = z.strictObject({
  supplyLps: flowLps.optional().describe('supply in normal running, in place of the table’s, l/s'),
  extractLps: flowLps.optional().describe('extract in normal running, in place of the table’s, l/s'),
  boostLps: flowLps.optional().describe('supply or extract in boost, in place of the table’s, l/s'),
  habitable: z.boolean().optional().describe('counts as a habitable room; by its use when left out'),
  transferMm2: z.number().min(0).max(1e7).optional().describe('free area of transfer grilles, besides the gaps under its doors, mm²'),
})

const readingSchema = z.strictObject({
  terminal: namedThing.describe('id of the terminal'),
  lps: flowLps.describe('as read on the meter, l/s'),
  setting: z.number().min(-1e4).max(1e4).optional().describe('where its valve stood'),
  turned: z.boolean().optional().describe('its valve was turned in this pass before it was read'),
  note: noteSchema.optional(),
})

const commissioningSchema = z.strictObject({
  tolerancePercent: z.number().min(0).max(100).optional().describe('how far a reading may lie from its target, %; the user’s choice: no figure is assumed'),
  meter: z.strictObject({
    name: nameSchema.optional(), serial: nameSchema.optional(),
    calibrated: dayText.optional(), accuracyPercent: percent.optional(),
    shows: z.enum(METER_UNITS).optional().describe('what its display is in; readings are kept in l/s all the same'),
  }).optional().describe('the meter with its hood'),
  rounds: z.array(z.strictObject({
    name: nameSchema.optional(),
    speed: z.enum(FAN_SPEEDS).default('normal'),
    day: dayText.optional(),
    by: nameSchema.optional().describe('who held the meter'),
    ended: z.boolean().optional().describe('no more is read in it'),
    readings: z.array(readingSchema).max(1_000).default([]),
  })).max(50).default([]).describe('each pass from terminal to terminal, in order; all are kept'),
  fans: z.array(z.strictObject({
    speed: z.enum(FAN_SPEEDS), supplyPercent: percent.optional(), extractPercent: percent.optional(),
  })).max(20).default([]).describe('what each speed was set to, share of full speed'),
  sound: z.array(z.strictObject({
    room: namedThing.describe('id of the room'), speed: z.enum(FAN_SPEEDS).default('normal'),
    levelDbA: z.number().min(0).max(140).describe('dB(A)'), note: noteSchema.optional(),
  })).max(500).default([]),
  filters: z.array(z.strictObject({
    name: nameSchema, fitted: dayText.optional(), cleanBy: dayText.optional(),
  })).max(50).default([]),
  signatures: z.array(z.strictObject({ role: nameSchema, name: nameSchema.optional(), day: dayText.optional() })).max(20).default([]),
  note: noteSchema.optional(),
}).describe('the record of the handover')

export const airSchema = z.strictObject({
  table: z.enum(RATE_TABLES).default('england-ad-f-2021').describe('the published rates that the job is held to'),
  floorAreaM2: z.number().min(1).max(100_000).optional().describe('internal floor area of the whole dwelling, all storeys, m²; the job’s rooms when left out'),
  bedrooms: z.number().int().min(0).max(100).optional().describe('of the whole dwelling; the job’s bedrooms when left out'),
  habitableRooms: z.number().int().min(1).max(200).optional().describe('of the whole dwelling; the job’s when left out'),
  wholeLps: someFlowLps.optional().describe('whole-dwelling rate, in place of the table’s, l/s'),
  boostLps: someFlowLps.optional().describe('whole-dwelling rate in boost, in place of the table’s, l/s'),
  trickleLps: someFlowLps.optional().describe('whole-dwelling rate at the trickle speed; the rate of normal running when left out, l/s'),
  mostPerTerminalLps: someFlowLps.optional().describe('most that any terminal may carry, l/s'),
  airC: z.number().min(-40).max(60).default(20).describe('temperature of the air in the ducts, °C'),
  altitudeM: z.number().min(-400).max(5_000).default(0).describe('height above the sea, m'),
  bends: z.enum(BEND_METHODS).default('bend-formula').describe('where the losses of bends come from'),
  bedroomMps: z.number().min(0.1).max(50).default(2.5).describe('air faster than this in a duct to a bedroom is pointed out, m/s'),
  elsewhereMps: z.number().min(0.1).max(50).default(3).describe('air faster than this in any other duct is pointed out, m/s'),
  hoodMm: z.number().min(0).max(2_000).default(300).describe('side of the meter’s square hood, mm'),
  cornerMm: z.number().min(0).max(5_000).default(500).describe('a supply terminal nearer than this to both walls of a corner is pointed out, mm; 0 switches it off; no figure is published'),
  commissioning: commissioningSchema.optional(),
})

export type AirSettings = z.output<typeof airSchema>
export type Commissioning = z.output<typeof commissioningSchema>
export type MeterRound = Commissioning['rounds'][number]
export type PartLoss = z.output<typeof lossSchema>
export type FanPoint = z.output<typeof fanPointSchema>
export type RateTableId = (typeof RATE_TABLES)[number]
export type BendMethod = (typeof BEND_METHODS)[number]
export type FanSpeed = (typeof FAN_SPEEDS)[number]
export type MeterUnit = (typeof METER_UNITS)[number]

/** What a job that says nothing of its air is taken to say. */
export function usualAir(): AirSettings {
  return airSchema.parse({})
}
