/** Joist sections of the four kinds, fields of joists laid out from them, and the holes drilled through joists. */
import * as z from 'zod'
import { LIMITS, angleDeg, fieldId, holeId, joistId, lengthMm, nameSchema, point3Schema, sectionId, zeroOrLengthMm, coordinateMm } from './basics.ts'

const common = { id: sectionId, name: nameSchema, depthMm: lengthMm.describe('from underside to top') }

/**
 * Open-web joist: two chords laid flat and web members between them. Seen from the side, diagonals run from a bottom
 * node up to a top node half a pitch on, down to the next bottom node, and so on: one V per pitch.
 */
const openWebSection = z.strictObject({
  kind: z.literal('open-web'),
  ...common,
  chordWidthMm: lengthMm.describe('across the joist'),
  chordHeightMm: lengthMm.describe('each chord, top to bottom'),
  webPitchMm: lengthMm.describe('from bottom node to bottom node'),
  webWidthMm: lengthMm.describe('width of a web member seen from the side'),
  webThicknessMm: lengthMm.describe('thickness of a web member across the joist'),
  webFaces: z.enum(['both', 'left', 'right', 'middle']).default('both').describe('plates on both side faces of the chords, standing out of the chord width by their thickness, on one only (the left or right face looking along the joist), or one member in the middle'),
  posts: z.enum(['none', 'top-nodes', 'bottom-nodes', 'all-nodes']).default('none').describe('upright web members as well: at the top nodes, at the bottom nodes, at both'),
  endBlockMm: zeroOrLengthMm.default(0).describe('length of solid blocking between the chords at each end; 0 for none'),
})
const solidTimberSection = z.strictObject({ kind: z.literal('solid-timber'), ...common, widthMm: lengthMm })
const iSection = z.strictObject({
  kind: z.literal('i-section'), ...common, flangeWidthMm: lengthMm, flangeHeightMm: lengthMm, webThicknessMm: lengthMm,
})
const coldFormedSection = z.strictObject({
  kind: z.literal('cold-formed'), ...common, flangeWidthMm: lengthMm,
  lipMm: zeroOrLengthMm.default(0).describe('height of the lips, over all; 0 for none'), thicknessMm: lengthMm.describe('of the sheet'),
}).describe('a C with its back to the left looking along the joist')
export const joistSectionSchema = z.discriminatedUnion('kind', [openWebSection, solidTimberSection, iSection, coldFormedSection])

const stretchSchema = z.strictObject({ fromMm: zeroOrLengthMm, toMm: lengthMm }).describe('from the datum end')

const joistSchema = z.strictObject({
  id: joistId,
  name: nameSchema.optional().describe('site name; its id when left out'),
  positionMm: coordinateMm.optional().describe('its axis from the first joist’s line, measured square to the joists; place in the list times the centres when left out'),
  startMm: coordinateMm.default(0).describe('how far its datum end lies along the joists from the field’s origin line'),
  lengthMm: lengthMm.optional().describe('as the field says when left out'),
  firstNodeMm: coordinateMm.optional().describe('from the datum end to the first bottom node (the first top node when flipped), where the middle lines of two webs meet the inner face of the chord; may be negative. Webs run on in both directions from it; one that runs past the joist’s end or into an end block is there up to that'),
  flip: z.boolean().optional().describe('turned upside down: the first node is on the top chord'),
  webFree: z.array(stretchSchema).max(50).default([]).describe('stretches with no web members: one that would stand in a stretch, even in part, is not there at all'),
}).describe('one joist: what is left out is as the field says, and distances along it start at its datum end')

export const joistFieldSchema = z.strictObject({
  id: fieldId,
  name: nameSchema,
  section: sectionId.describe('id of the joist section'),
  origin: point3Schema.describe('datum end of the first joist: on its axis, at its underside'),
  directionDeg: angleDeg.describe('the way the joists run, from the x axis'),
  next: z.enum(['left', 'right']).default('left').describe('the next joists follow to the left of that direction, or to the right'),
  centresMm: lengthMm.describe('from joist to joist'),
  lengthMm: lengthMm.describe('of each joist'),
  firstNodeMm: coordinateMm.default(0).describe('from the datum end to the first bottom node (the first top node when flipped)'),
  flip: z.boolean().default(false).describe('turned upside down'),
  bearingMm: zeroOrLengthMm.default(0).describe('length of bearing at each end, inside the joist’s length; the span is what lies between'),
  joists: z.array(joistSchema).min(1).max(LIMITS.joistsPerField),
})

export const drilledHoleSchema = z.strictObject({
  id: holeId,
  joist: joistId.describe('id of the joist'),
  alongMm: zeroOrLengthMm.describe('centre, from the joist’s datum end'),
  heightMm: zeroOrLengthMm.describe('centre, above the joist’s underside'),
  diameterMm: lengthMm,
}).describe('a round hole square through a joist, made or allowed for; judged by the hole rule of the settings')

export type JoistSection = z.output<typeof joistSectionSchema>
export type OpenWebSection = z.output<typeof openWebSection>
export type JoistField = z.output<typeof joistFieldSchema>
export type Joist = z.output<typeof joistSchema>
export type DrilledHole = z.output<typeof drilledHoleSchema>
