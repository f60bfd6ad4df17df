/** Joist sections of the four kinds, fields of joists laid out from them, and the holes drilled through joists. */
import * as z from 'zod'
import { LIMITS, angleDeg, fieldId, holeId, joistId, lengthMm, nameSchema, point3Schema, sectionId, zeroOrLengthMm, coordinateMm } from './basics.ts'

const common = { id: sectionId, name: nameSchema, depthMm: lengthMm }

/**
 * Open-web joist: two chords laid flat and web members between them. Seen from the side, diagonals run from a bottom
 * node up to a top node half a pitch on, down to the next bottom node, and so on: one V per pitch.
 */
const openWebSection = z.strictObject({
  kind: z.literal('open-web'),
  ...common,
  /** across the joist */
  chordWidthMm: lengthMm,
  /** each chord, top to bottom */
  chordHeightMm: lengthMm,
  /** from bottom node to bottom node */
  webPitchMm: lengthMm,
  /** width of a web member seen from the side, and its thickness across the joist */
  webWidthMm: lengthMm,
  webThicknessMm: lengthMm,
  /** plates on both faces of the chords, on one only ('left' is the left-hand face looking along the joist), or one member in the middle */
  webFaces: z.enum(['both', 'left', 'right', 'middle']).default('both'),
  /** upright web members as well: at the top nodes, at the bottom nodes, at both */
  posts: z.enum(['none', 'top-nodes', 'bottom-nodes', 'all-nodes']).default('none'),
  /** length of solid blocking between the chords at each end; 0 for none */
  endBlockMm: zeroOrLengthMm.default(0),
})
const solidTimberSection = z.strictObject({ kind: z.literal('solid-timber'), ...common, widthMm: lengthMm })
const iSection = z.strictObject({
  kind: z.literal('i-section'), ...common, flangeWidthMm: lengthMm, flangeHeightMm: lengthMm, webThicknessMm: lengthMm,
})
/** a C with its back to the left looking along the joist */
const coldFormedSection = z.strictObject({
  kind: z.literal('cold-formed'), ...common, flangeWidthMm: lengthMm, lipMm: zeroOrLengthMm.default(0), thicknessMm: lengthMm,
})
export const joistSectionSchema = z.discriminatedUnion('kind', [openWebSection, solidTimberSection, iSection, coldFormedSection])

const stretchSchema = z.strictObject({ fromMm: zeroOrLengthMm, toMm: lengthMm })

/** One joist of a field. What is left out is as the field says. Distances along the joist start at its datum end. */
const joistSchema = z.strictObject({
  id: joistId,
  /** site name; its id when left out */
  name: nameSchema.optional(),
  /** its axis from the first joist's line, measured square to the joists; place in the list times the centres when left out */
  positionMm: coordinateMm.optional(),
  /** how far its datum end lies along the joists from the field's origin line */
  startMm: coordinateMm.default(0),
  lengthMm: lengthMm.optional(),
  /** from the datum end to the first bottom node (the first top node when flipped); may be negative */
  firstNodeMm: coordinateMm.optional(),
  /** turned upside down: the first node is on the top chord */
  flip: z.boolean().optional(),
  /** stretches with no web members */
  webFree: z.array(stretchSchema).max(50).default([]),
})

export const joistFieldSchema = z.strictObject({
  id: fieldId,
  name: nameSchema,
  section: sectionId,
  /** datum end of the first joist: on its axis, at its underside */
  origin: point3Schema,
  /** the way the joists run, from the x axis */
  directionDeg: angleDeg,
  /** the next joists follow to the left of that direction, or to the right */
  next: z.enum(['left', 'right']).default('left'),
  centresMm: lengthMm,
  lengthMm,
  firstNodeMm: coordinateMm.default(0),
  flip: z.boolean().default(false),
  /** length of bearing at each end, inside the joist's length; the span is what lies between */
  bearingMm: zeroOrLengthMm.default(0),
  joists: z.array(joistSchema).min(1).max(LIMITS.joistsPerField),
})

/** A round hole square through a joist, made or allowed for; judged by the hole rule of the settings. */
export const drilledHoleSchema = z.strictObject({
  id: holeId,
  joist: joistId,
  /** centre, from the joist's datum end */
  alongMm: zeroOrLengthMm,
  /** centre, above the joist's underside */
  heightMm: zeroOrLengthMm,
  diameterMm: lengthMm,
})

export type JoistSection = z.output<typeof joistSectionSchema>
export type OpenWebSection = z.output<typeof openWebSection>
export type JoistField = z.output<typeof joistFieldSchema>
export type Joist = z.output<typeof joistSchema>
export type DrilledHole = z.output<typeof drilledHoleSchema>
