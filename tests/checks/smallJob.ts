/** Small jobs for the tests of checks: a few members in the open, with runs whose ends hang in sleeves that go through nothing. */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { checkJob } from '#checks/index.ts'
import type { Finding, FindingCode } from '#checks/finding.ts'
import { formatProblems, readJobValue, type Job, type JobInput } from '#model/index.ts'

export type Point = [number, number, number]
export type RunInput = NonNullable<JobInput['runs']>[number]
export type EquipmentInput = NonNullable<JobInput['equipment']>[number]
export type SleeveInput = NonNullable<JobInput['sleeves']>[number]
type Fields = Partial<Omit<JobInput, 'format' | 'version'>>

export const DUCT_90: NonNullable<JobInput['ductTypes']>[number] = {
  kind: 'semi-rigid', id: 'd90', name: '90 mm duct', innerDiameterMm: 76, outerDiameterMm: 90, minBendRadiusMm: 180,
}
export const RIGID_125: NonNullable<JobInput['ductTypes']>[number] = {
  kind: 'rigid', id: 'r125', name: '125 mm rigid duct', innerDiameterMm: 124, outerDiameterMm: 125,
  fittings: [{ angleDeg: 90, radiusMm: 125, insertionMm: 40 }, { angleDeg: 45, radiusMm: 125, insertionMm: 40 }],
}

export function jobOf(fields: Fields): Job {
  const own = fields.ductTypes ?? []
  const ductTypes = [...[DUCT_90, RIGID_125].filter(({ id }) => own.every((type) => type.id !== id)), ...own]
  const read = readJobValue({ format: 'joistway-job', version: 1, name: 'small job', ...fields, ductTypes })
  if (!read.ok) throw new Error(formatProblems(read))
  return read.job
}

export function assemblyOf(fields: Fields): Assembly {
  return assemble(jobOf(fields))
}

export function findingsOf(fields: Fields): Finding[] {
  return checkJob(assemblyOf(fields))
}

export function codesOf(findings: readonly Finding[]): FindingCode[] {
  return findings.map((finding) => finding.code)
}

/** A run through points, and two sleeves that hold its ends and go through nothing. */
export function freeRun(id: string, points: readonly Point[], more: Partial<RunInput> = {}): { runs: RunInput[], sleeves: SleeveInput[] } {
  const sleeve = (end: string, at: Point, to: Point): SleeveInput => ({
    id: `${id}-${end}`, name: `sleeve ${id}-${end}`, at, axis: [(to[0] - at[0]) / 100, (to[1] - at[1]) / 100, (to[2] - at[2]) / 100], diameterMm: 400, lengthMm: 20, through: [],
  })
  const last = points.length - 1
  return {
    runs: [{
      id, name: `Run ${id}`, type: 'd90', from: { sleeve: `${id}-a` }, to: { sleeve: `${id}-b` },
      waypoints: points.map((at) => ({ at })), ...more,
    }],
    sleeves: [sleeve('a', points[0], points[1]), sleeve('b', points[last], points[last - 1])],
  }
}

/** Several parts of a job as one. */
export function together(...parts: readonly Fields[]): Fields {
  const whole: Record<string, unknown> = {}
  for (const part of parts) {
    for (const [key, value] of Object.entries(part)) whole[key] = Array.isArray(value) && Array.isArray(whole[key]) ? [...whole[key] as unknown[], ...value] : value
  }
  return whole as Fields
}

/** A box as a loose solid. */
export function box(id: string, className: NonNullable<JobInput['solids']>[number]['class'], centre: Point, sizeMm: Point): Fields {
  return { solids: [{ id, name: id, class: className, shape: { kind: 'box', centre, sizeMm } }] }
}

export const OPEN_WEB: NonNullable<JobInput['sections']>[number] = {
  kind: 'open-web', id: 's', name: '254 open-web', depthMm: 254, chordWidthMm: 97, chordHeightMm: 47,
  webPitchMm: 600, webWidthMm: 16, webThicknessMm: 2, webFaces: 'both',
}

/**
 * One joist along x from 0, its underside at z 0 and its middle plane at y 0, 2400 long: bottom nodes at x 0, 600, 1200 ...
 * Between a bottom node, the next and the top node above, with webs 16 wide, the opening is the triangle of base 600 and
 * height 160 with its two sloping sides moved in by 8: its incircle has radius 75 * (600 - 2 * 8 * 17 / 8) / 600 = 70.75.
 */
export function oneJoist(section = OPEN_WEB, field: Partial<NonNullable<JobInput['joistFields']>[number]> = {}): Fields {
  return {
    sections: [section],
    joistFields: [{ id: 'f', name: 'floor', section: 's', origin: [0, 0, 0], directionDeg: 0, centresMm: 400, lengthMm: 2400, joists: [{ id: 'J1' }], ...field }],
  }
}
