/**
 * Runs that leave the ceiling void: the union of the job's ceiling zones. A run may be outside it where it is in a sleeve, and at its
 * ends on spigots for the length of the collar zone (contacts.ts), so that a unit or a plenum may stand just outside. A job with no
 * zones says nothing of its void, and nothing is asked.
 */
import { ALONG, DISTANCE, ON_CURVE_X, ON_SOLID_X } from '#geometry/clearance/answer.ts'
import { SPARE_ANSWER_SIZE, SPARE_ON_CURVE_X, SPARE_ON_SHEET_X, SPARE_SHEET, SPARE_STATION, spareInVoid } from '#geometry/envelope/spareInVoid.ts'
import { TOP, UNDERSIDE, type VoidEnvelope } from '#geometry/envelope/voidEnvelope.ts'
import { SAME_POINT_MM } from '#geometry/tolerance.ts'
import { stretchesOutside } from './contacts.ts'
import type { CheckContext } from './context.ts'
import type { Finding, PartRef } from './finding.ts'
import { placesBelow, type NearPlace } from './places.ts'
import { runRef } from './refs.ts'

const spare = new Float64Array(SPARE_ANSWER_SIZE)
/** Two ways out of the void with at least so much run between them are two findings, mm. */
const APART_MM = 1_000

export function voidFaults(context: CheckContext, runIndex: number): Finding[] {
  const { envelope } = context
  const { placed, mayLeave } = context.runs[runIndex]
  const { centreline, outerRadiusMm } = placed
  if (envelope === null || envelope.sheets.count === 0 || centreline.lengthMm <= SAME_POINT_MM) return []
  const places: NearPlace[] = []
  for (const [fromMm, toMm] of stretchesOutside(mayLeave, 0, centreline.lengthMm)) {
    placesBelow(fromMm, toMm, outerRadiusMm, APART_MM, -1, (a, b, _, out) => {
      out[DISTANCE] = spareInVoid(centreline, envelope, a, b, spare)
      for (let k = 0; k < 3; k++) {
        out[ON_CURVE_X + k] = spare[SPARE_ON_CURVE_X + k]
        out[ON_SOLID_X + k] = spare[SPARE_ON_SHEET_X + k]
      }
      out[ALONG] = spare[SPARE_STATION]
      return out[DISTANCE]
    }, places)
  }
  return places.map((place, i): Finding => {
    spareInVoid(centreline, envelope, place.stationMm, place.stationMm, spare)
    return {
      id: `leaves-void:${placed.run.id}${i === 0 ? '' : `:${i + 1}`}`, code: 'leaves-void', severity: 'stop',
      parts: [runRef(placed), faceRef(context, envelope, spare[SPARE_SHEET])],
      at: place.onCurve, onOther: place.onOther, mark: place.onOther, stationMm: place.stationMm,
      unit: 'mm', measured: place.distanceMm - outerRadiusMm, required: 0, why: 'A run stays within the ceiling zones but in sleeves and at its spigots',
    }
  })
}

/** A sheet of the envelope by the zone it bounds, told by what a person sees there. */
export function faceRef({ assembly, soundZones }: CheckContext, envelope: VoidEnvelope, sheet: number): PartRef {
  const { id, name } = assembly.job.zones[soundZones[envelope.sheetZone[sheet]]]
  const face = envelope.sheetFace[sheet]
  const part = face === UNDERSIDE ? 'underside' : face === TOP ? 'top' : 'side'
  return { id, part, name: `${FACE_WORDS[part]} (${name})` }
}

const FACE_WORDS = { underside: 'the ceiling', top: 'the floor above', side: 'the edge of the void' } as const
