/** Run ends: on their spigot, in line with it, of its size, and alone on it; or inside their sleeve. */
import type { PlacedRun, PlacedSleeve, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { directionAt, pointAt } from '#geometry/curve/measure.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { CheckContext } from './context.ts'
import type { Finding, FindingCode, PartRef, Severity } from './finding.ts'
import { byId, placeOf, runRef, sleeveRef, spigotRef } from './refs.ts'

/** Duct and spigot are of one size when their diameters differ by no more: within the make of pressed round fittings (PN-B-03434: 1.2 mm). */
export const SAME_SIZE_MM = 1.2
/** An angle is at its limit within this, degrees: rounding only. */
const SAME_DEG = 1e-6

type End = 'from' | 'to'
type Numbers = readonly [number, number, number]

export function connectionFaults(context: CheckContext, runIndex: number): Finding[] {
  const { placed } = context.runs[runIndex]
  const faults: Finding[] = []
  for (const end of ['from', 'to'] as const) {
    const target = placed[end]
    if (isSpigot(target)) atSpigot(context, placed, end, target, faults)
    else atSleeve(context, placed, end, target, faults)
  }
  return faults
}

function atSpigot(context: CheckContext, placed: PlacedRun, end: End, target: PlacedSpigot, faults: Finding[]): void {
  const { offMm, offDeg } = context.assembly.job.settings.connection
  const { stationMm, point, outward } = endOfRun(placed, end)
  const add = (code: FindingCode, severity: Severity, unit: Finding['unit'], measured: number, required: number, why: string) =>
    faults.push(faultAtEnd(placed, end, spigotRef(target), target.at, { code, severity, unit, measured, required, why, stationMm, point }))
  const off = Math.hypot(point[0] - target.at[0], point[1] - target.at[1], point[2] - target.at[2])
  if (off > offMm + ANSWER_ERROR_MM) add('off-spigot', 'stop', 'mm', off, offMm, `the job's allowance for ends on spigots`)
  const askew = angleDeg(outward, target.axis)
  if (askew > offDeg + SAME_DEG) add('off-axis', 'mend', 'deg', askew, offDeg, `the job's allowance for ends in line with spigots`)
  const { outerDiameterMm } = placed.type, { diameterMm } = target.spigot
  if (Math.abs(outerDiameterMm - diameterMm) > SAME_SIZE_MM + ANSWER_ERROR_MM) {
    add('spigot-size', 'stop', 'mm', outerDiameterMm, diameterMm, 'Duct and spigot must be of one size, or have a reducer between them')
  }
}

/** The end must lie inside the sleeve's round. */
function atSleeve(context: CheckContext, placed: PlacedRun, end: End, target: PlacedSleeve, faults: Finding[]): void {
  const { stationMm, point } = endOfRun(placed, end)
  const { at, axis, sleeve } = target
  const dx = point[0] - at[0], dy = point[1] - at[1], dz = point[2] - at[2]
  const along = dx * axis[0] + dy * axis[1] + dz * axis[2]
  const out = Math.hypot(dx - along * axis[0], dy - along * axis[1], dz - along * axis[2])
  const off = Math.hypot(Math.max(0, Math.abs(along) - sleeve.lengthMm / 2), Math.max(0, out - sleeve.diameterMm / 2))
  const { offMm } = context.assembly.job.settings.connection
  if (off > offMm + ANSWER_ERROR_MM) {
    faults.push(faultAtEnd(placed, end, sleeveRef(target), at, {
      code: 'off-spigot', severity: 'stop', unit: 'mm', measured: off, required: offMm, why: 'the end of the run must lie inside its sleeve', stationMm, point,
    }))
  }
}

interface EndFault { code: FindingCode, severity: Severity, unit: Finding['unit'], measured: number, required: number, why: string, stationMm: number, point: Numbers }

function faultAtEnd({ run }: { readonly run: PlacedRun['run'] }, end: End, other: PartRef, onOther: Numbers, fault: EndFault): Finding {
  const { code, severity, unit, measured, required, why, stationMm, point } = fault
  return {
    id: `${code}:${run.id}:${end}`, code, severity, parts: [{ id: run.id, name: run.name }, other],
    at: placeOf(point), onOther: placeOf(onOther), mark: placeOf(onOther), stationMm, unit, measured, required, why,
  }
}

/** Where a run ends, and the way that it leaves the end. */
function endOfRun({ centreline }: PlacedRun, end: End): { stationMm: number, point: Numbers, outward: Numbers } {
  const stationMm = end === 'from' ? 0 : centreline.lengthMm
  const point: [number, number, number] = [0, 0, 0], outward: [number, number, number] = [0, 0, 0]
  pointAt(centreline, stationMm, point)
  directionAt(centreline, stationMm, outward)
  if (end === 'to') for (let k = 0; k < 3; k++) outward[k] = -outward[k]
  return { stationMm, point, outward }
}

/** 0 for a run without a direction. */
function angleDeg(a: Numbers, b: Numbers): number {
  const cross = Math.hypot(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
  return Math.atan2(cross, a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) * 180 / Math.PI
}

/** One finding for each spigot that more than one run end claims; every run on it is named, by id. */
export function sharedSpigots(context: CheckContext): Finding[] {
  const faults: Finding[] = []
  for (const spigot of context.assembly.spigots) {
    const fault = sharedSpigot(context, spigot)
    if (fault !== null) faults.push(fault)
  }
  return faults
}

export function sharedSpigot(context: CheckContext, spigot: PlacedSpigot): Finding | null {
  const users = context.runEndsAt.get(spigot) ?? []
  if (users.length < 2) return null
  const refs = users.map((runIndex) => runRef(context.runs[runIndex].placed)).sort((a, b) => byId(a.id, b.id))
  const at = placeOf(spigot.at), ref = spigotRef(spigot)
  return {
    id: `spigot-used-twice:${ref.id}:${ref.part}`, code: 'spigot-used-twice', severity: 'stop', parts: [ref, ...refs], at, mark: at,
    unit: 'count', measured: users.length, required: 1, why: 'A spigot takes one duct',
  }
}
