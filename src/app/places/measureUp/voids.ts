/** Voids to start from: invented, of ordinary sizes. Pure. */
import { type Job, type JobInput, readJobValue } from '#model/index.ts'
import { type Command, apply } from '#commands/index.ts'
import { SECTION_TEMPLATES } from './sectionTemplates.ts'

export interface StartingVoid { readonly id: string, readonly name: string, readonly about: string, readonly make: () => Job }

/** Sizes of semi-rigid duct that the trade often has; common practice, from memory. */
const DUCT_TYPES: NonNullable<JobInput['ductTypes']> = [
  { kind: 'semi-rigid', id: 'semi-75', name: 'Semi-rigid 75', innerDiameterMm: 62, outerDiameterMm: 75, minBendRadiusMm: 150 },
  { kind: 'semi-rigid', id: 'semi-90', name: 'Semi-rigid 90', innerDiameterMm: 75, outerDiameterMm: 90, minBendRadiusMm: 180 },
]
const CEILING_MM = 2_400, BOARD_MM = 15

export const STARTING_VOIDS: readonly StartingVoid[] = [
  { id: 'empty', name: 'Bare paper', about: 'Nothing but two sizes of duct. Draw the room, then its ceiling, then the joists.', make: () => bare('New job') },
  { id: 'open-web', name: 'Open-web floor, 5 \u00d7 4 m', about: 'One room, its ceiling and open-web joists at 400 mm.', make: () => floor('Open-web floor', 5_000, 4_000, 'open-web-254') },
  { id: 'solid', name: 'Solid joist floor, 4.2 \u00d7 3.6 m', about: 'One room, its ceiling and timber joists at 400 mm, to be drilled.', make: () => floor('Solid joist floor', 4_200, 3_600, 'solid-timber-220') },
  { id: 'long', name: 'Two rooms under one floor, 8 \u00d7 4.5 m', about: 'A living room and a kitchen with one ceiling over both, and open-web joists across.', make: twoRooms },
]

export function bare(name: string): Job {
  return whole({
    format: 'joistway-job', version: 1, name, datum: 'Inside corner at the bottom left of the plan, on the finished floor.', ductTypes: DUCT_TYPES,
    // common practice, from memory: a finger's nail to anything, and a little more to plates, whose edges cut
    settings: { clearanceMm: 2, clearances: [{ between: ['duct', 'web'], mm: 3, why: 'plate edges are sharp' }] },
  })
}

function floor(name: string, acrossMm: number, upMm: number, sectionKey: string): Job {
  const outline: [number, number][] = [[0, 0], [acrossMm, 0], [acrossMm, upMm], [0, upMm]]
  return carriedOut(bare(name), [
    { do: 'add-room', room: { name: 'Room', use: 'living', outline, ceilingMm: CEILING_MM } },
    ...ceilingAndJoists(outline, acrossMm, upMm, sectionKey),
  ])
}

function twoRooms(): Job {
  const acrossMm = 8_000, upMm = 4_500, partMm = 5_000
  return carriedOut(bare('Two rooms under one floor'), [
    { do: 'add-room', room: { name: 'Living room', use: 'living', outline: [[0, 0], [partMm, 0], [partMm, upMm], [0, upMm]], ceilingMm: CEILING_MM, doors: [{ at: [partMm, 900], widthMm: 800 }] } },
    { do: 'add-room', room: { name: 'Kitchen', use: 'kitchen', outline: [[partMm + 100, 0], [acrossMm, 0], [acrossMm, upMm], [partMm + 100, upMm]], ceilingMm: CEILING_MM } },
    { do: 'add-wall', from: [partMm, 0], to: [partMm, upMm], thicknessMm: 100, side: 'right', bottomMm: 0, topMm: CEILING_MM, name: 'Partition' },
    ...ceilingAndJoists([[0, 0], [acrossMm, 0], [acrossMm, upMm], [0, upMm]], acrossMm, upMm, 'open-web-304'),
  ])
}

/** Joists go the shorter way, bearing 100 mm into the walls on both sides. */
function ceilingAndJoists(outline: [number, number][], acrossMm: number, upMm: number, sectionKey: string): Command[] {
  const { section } = SECTION_TEMPLATES.find(({ key }) => key === sectionKey)!
  const undersideMm = CEILING_MM + BOARD_MM, bearingMm = 100
  return [
    { do: 'add-zone', zone: { name: 'Ceiling', outline, undersideMm, topMm: undersideMm + section.depthMm } },
    { do: 'add-section', section: { ...section, id: 'S1' } },
    { do: 'lay-joist-field', name: 'Joists', section: 'S1', centresMm: 400, directionDeg: 90, undersideMm, bearingMm, corners: [[0, -bearingMm], [acrossMm, upMm + bearingMm]] },
  ]
}

function carriedOut(job: Job, commands: readonly Command[]): Job {
  const outcome = apply(job, { do: 'together', commands })
  if (!outcome.ok) throw new Error(`carriedOut: a starting void cannot be made: ${outcome.why}`)
  return outcome.job
}

function whole(input: JobInput): Job {
  const read = readJobValue(input)
  if (!read.ok) throw new Error(`whole: a starting void is not valid: ${read.problems[0].path} is ${read.problems[0].found}`)
  return read.job
}
