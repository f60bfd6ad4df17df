/** What one run costs: friction from its length and bore, its bends by angle and radius, its two ends, and parts put into it. */
import { ARC, ELEMENT_STRIDE, KIND, LENGTH } from '#geometry/curve/centreline.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import type { BendMethod, PartLoss } from '#model/index.ts'
import type { Air } from './density.ts'
import { flowInDuct } from './friction.ts'
import { USUAL_ROUGHNESS, bendLoss, partDropPa } from './losses.ts'

/** A run as the air meets it. */
export interface AirWay {
  readonly boreMm: number
  readonly roughnessMm: number
  /** of the legs alone, and of the bends' arcs, m */
  readonly legsM: number
  readonly arcsM: number
  readonly bends: readonly { readonly turnRad: number, readonly radiusMm: number }[]
  /** sum of the zetas of its two ends */
  readonly endsZeta: number
  readonly inLine: readonly PartLoss[]
}

export interface RunDrop {
  readonly velocityMps: number
  readonly reynolds: number
  readonly friction: number
  readonly frictionPaPerM: number
  /** friction along the legs, and along the arcs where the bends' figures leave it out */
  readonly frictionPa: number
  readonly bendsPa: number
  readonly endsPa: number
  readonly inLinePa: number
  readonly totalPa: number
  readonly bends: readonly { readonly turnDeg: number, readonly radiusRatio: number, readonly zeta: number }[]
}

export function wayOf({ run, type, centreline: { elements, count }, bends }: PlacedRun, endsZeta: number): AirWay {
  let legsMm = 0, arcsMm = 0
  for (let i = 0; i < count; i++) {
    const e = i * ELEMENT_STRIDE
    if (elements[e + KIND] === ARC) arcsMm += elements[e + LENGTH]
    else legsMm += elements[e + LENGTH]
  }
  return {
    boreMm: type.innerDiameterMm, roughnessMm: type.roughnessMm ?? USUAL_ROUGHNESS[type.kind].mm,
    legsM: legsMm / 1000, arcsM: arcsMm / 1000,
    bends: bends.map(({ turnRad, radiusMm }) => ({ turnRad, radiusMm })), endsZeta, inLine: run.inLine ?? [],
  }
}

/** @param lps >= 0 */
export function runDrop(way: AirWay, lps: number, air: Air, method: BendMethod): RunDrop {
  const { velocityMps, reynolds, friction, velocityPa, frictionPaPerM } = flowInDuct(lps, way.boreMm, way.roughnessMm, air)
  let bendsPa = 0, arcsM = way.arcsM
  const bends = lps > 0 ? way.bends.map(({ turnRad, radiusMm }) => {
    const radiusRatio = radiusMm / way.boreMm
    const { zeta, holdsFriction } = bendLoss(method, turnRad, radiusRatio, friction)
    if (holdsFriction) arcsM -= radiusMm * turnRad / 1000
    bendsPa += zeta * velocityPa
    return { turnDeg: turnRad * 180 / Math.PI, radiusRatio, zeta }
  }) : []
  const frictionPa = frictionPaPerM * (way.legsM + Math.max(0, arcsM))
  const endsPa = way.endsZeta * velocityPa
  const inLinePa = way.inLine.reduce((sum, part) => sum + partDropPa(part, lps, air.density), 0)
  return {
    velocityMps, reynolds, friction, frictionPaPerM, frictionPa, bendsPa, endsPa, inLinePa,
    totalPa: frictionPa + bendsPa + endsPa + inLinePa, bends,
  }
}
