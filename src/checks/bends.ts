/** Bends: tighter than the duct takes, longer than their legs, or of no fitting listed. */
import { pointAt } from '#geometry/curve/measure.ts'
import type { Bend } from '#geometry/curve/waypoints.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { DuctType } from '#model/index.ts'
import type { CheckContext } from './context.ts'
import type { Finding, FindingCode, Severity } from './finding.ts'
import { bendRef, placeOf } from './refs.ts'

/** A fitting of this nearly the angle and radius is the fitting: common practice; a spigot joint gives this much. */
export const FITTING_ANGLE_DEG = 0.5
export const FITTING_RADIUS_MM = 1

type RigidType = Extract<DuctType, { kind: 'rigid' }>
type Fitting = RigidType['fittings'][number]

export function bendFaults(context: CheckContext, runIndex: number): Finding[] {
  const { type, bends, outerRadiusMm } = context.runs[runIndex].placed
  const faults: Finding[] = []
  bends.forEach((bend, i) => {
    const add = adder(context, runIndex, i, faults)
    const turnDeg = bend.turnRad * 180 / Math.PI
    // whatever its type says, a tube thicker than its bend folds into itself
    if (bend.elementIndex >= 0 && !isShrunk(bend) && bend.radiusMm < outerRadiusMm - ANSWER_ERROR_MM) {
      add('bend-too-tight', 'stop', 'mm', bend.radiusMm, outerRadiusMm, 'half its own diameter: in a tighter bend it folds into itself')
    } else if (type.kind === 'semi-rigid') {
      const leastMm = type.minBendRadiusMm
      const isBack = bend.elementIndex < 0
      const askedMm = isBack ? 0 : bend.askedMm
      if (askedMm < leastMm - ANSWER_ERROR_MM) {
        add('bend-too-tight', 'stop', 'mm', askedMm, leastMm, isBack ? `${type.name} turns straight back on itself here` : `least bend radius of ${type.name}`)
      }
    } else if (!hasFitting(type, turnDeg, bend.askedMm)) {
      const nearest = nearestFitting(type, turnDeg, bend.askedMm)
      const isAngle = Math.abs(nearest.angleDeg - turnDeg) > FITTING_ANGLE_DEG
      if (isAngle) add('no-such-fitting', 'stop', 'deg', turnDeg, nearest.angleDeg, `fittings of ${type.name}; half a degree either way is common practice`)
      else add('no-such-fitting', 'stop', 'mm', bend.askedMm, nearest.radiusMm, `fittings of ${type.name}; 1 mm either way is common practice`)
    }
    if (bend.elementIndex >= 0 && bend.radiusMm < bend.askedMm - ANSWER_ERROR_MM) {
      const neededMm = bend.askedMm * Math.tan(bend.turnRad / 2)
      const stillBends = type.kind === 'semi-rigid' && bend.radiusMm >= type.minBendRadiusMm - ANSWER_ERROR_MM
      add('bend-has-no-room', stillBends ? 'mend' : 'stop', 'mm', bend.tangentMm, neededMm, 'the straight duct beside it is too short for this radius')
    }
  })
  if (type.kind === 'rigid') fittingsTooClose(context, runIndex, type, faults)
  return faults
}

/** Both fittings slide into the piece of duct between them, so it must be at least as long as the two insertions. */
function fittingsTooClose(context: CheckContext, runIndex: number, type: RigidType, faults: Finding[]): void {
  const { bends } = context.runs[runIndex].placed
  for (let i = 1; i < bends.length; i++) {
    const before = bends[i - 1], bend = bends[i]
    const straightMm = startOf(bend) - endOf(before)
    const neededMm = insertionOf(type, before) + insertionOf(type, bend)
    // a fitting that was shrunk for want of room is reported as that
    if (straightMm >= neededMm - ANSWER_ERROR_MM || isShrunk(before) || isShrunk(bend)) continue
    adder(context, runIndex, i, faults, '-to-last')('bend-has-no-room', 'stop', 'mm', Math.max(0, straightMm), neededMm, `the straight between it and the bend before must hold both fittings' insertions`)
  }
}

function adder(context: CheckContext, runIndex: number, i: number, faults: Finding[], mark = '') {
  const { placed } = context.runs[runIndex]
  return (code: FindingCode, severity: Severity, unit: Finding['unit'], measured: number, required: number, why: string): void => {
    const point = [0, 0, 0]
    pointAt(placed.centreline, placed.bends[i].stationMm, point)
    const at = placeOf(point), ref = bendRef(placed, i + 1)
    faults.push({
      id: `${code}:${ref.id}:${ref.part}${mark}`, code, severity, parts: [ref], at, mark: at,
      stationMm: placed.bends[i].stationMm, unit, measured, required, why,
    })
  }
}

function isShrunk(bend: Bend): boolean {
  return bend.radiusMm < bend.askedMm - ANSWER_ERROR_MM
}

/** Stations where a bend's arc starts and ends, mm. */
export function startOf(bend: Bend): number {
  return bend.stationMm - bend.radiusMm * bend.turnRad / 2
}

export function endOf(bend: Bend): number {
  return bend.stationMm + bend.radiusMm * bend.turnRad / 2
}

function hasFitting(type: RigidType, turnDeg: number, radiusMm: number): boolean {
  return type.fittings.some((fitting) => isNear(fitting.angleDeg, turnDeg, FITTING_ANGLE_DEG) && isNear(fitting.radiusMm, radiusMm, FITTING_RADIUS_MM))
}

/** At the edge itself it still counts, whatever the rounding. */
function isNear(a: number, b: number, within: number): boolean {
  return Math.abs(a - b) <= within + 1e-9
}

/** The listed fitting that a bend is made with: nearest in angle; of those equally near, nearest in radius. */
export function nearestFitting(type: RigidType, turnDeg: number, radiusMm: number): Fitting {
  return type.fittings.reduce((best, fitting) => {
    const closer = Math.abs(best.angleDeg - turnDeg) - Math.abs(fitting.angleDeg - turnDeg)
    if (closer !== 0) return closer > 0 ? fitting : best
    return Math.abs(fitting.radiusMm - radiusMm) < Math.abs(best.radiusMm - radiusMm) ? fitting : best
  })
}

function insertionOf(type: RigidType, bend: Bend): number {
  return nearestFitting(type, bend.turnRad * 180 / Math.PI, bend.askedMm).insertionMm
}
