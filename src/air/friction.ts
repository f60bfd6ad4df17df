/**
 * Friction in round ducts. Darcy's f in: drop = f (L / D) rho V² / 2.
 * Laminar below Re 2300: f = 64 / Re. Turbulent from Re 4000: Colebrook-White (C. F. Colebrook, J. Inst. Civil Eng. 11, 1939),
 *   1 / sqrt f = -2 log10( e / 3.7 + 2.51 / (Re sqrt f) ),  e = roughness / D.
 * Between them flow is neither, and no formula holds: f is drawn straight from the one to the other, so that it stays without a jump.
 */
import type { Air } from './density.ts'

export const LAMINAR_BELOW = 2_300
export const TURBULENT_FROM = 4_000
const LN10 = Math.LN10

/**
 * Colebrook-White to machine precision: Newton in x = 1 / sqrt f from Haaland's explicit form (J. Fluids Eng. 105, 1983; up to 1.4 % off).
 * @param reynolds > 0; @param roughnessRatio roughness / diameter, 0 for smooth
 */
export function colebrook(reynolds: number, roughnessRatio: number): number {
  const a = roughnessRatio / 3.7, b = 2.51 / reynolds
  let x = -1.8 * Math.log10(a ** 1.11 + 6.9 / reynolds)
  if (!(x > 0.5)) x = 0.5
  for (let turn = 0; turn < 50; turn++) {
    const inner = a + b * x
    const step = (x + 2 * Math.log10(inner)) / (1 + 2 * b / (LN10 * inner))
    x -= step
    if (Math.abs(step) <= 2e-16 * x) break
  }
  return 1 / (x * x)
}

/** Haaland's explicit form: a start for others, up to 1.4 % off. */
export function haaland(reynolds: number, roughnessRatio: number): number {
  return (-1.8 * Math.log10((roughnessRatio / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
}

/** Darcy's f in any flow; Infinity at Reynolds 0. */
export function frictionFactor(reynolds: number, roughnessRatio: number): number {
  if (reynolds < LAMINAR_BELOW) return 64 / reynolds
  if (reynolds >= TURBULENT_FROM) return colebrook(reynolds, roughnessRatio)
  const share = (reynolds - LAMINAR_BELOW) / (TURBULENT_FROM - LAMINAR_BELOW)
  return (1 - share) * 64 / LAMINAR_BELOW + share * colebrook(TURBULENT_FROM, roughnessRatio)
}

export interface DuctFlow {
  readonly velocityMps: number
  readonly reynolds: number
  readonly friction: number
  /** rho V² / 2, Pa */
  readonly velocityPa: number
  readonly frictionPaPerM: number
}

/** @param boreMm inside diameter; @param lps flow, >= 0; all zero at no flow */
export function flowInDuct(lps: number, boreMm: number, roughnessMm: number, { density, viscosity }: Air): DuctFlow {
  const diameterM = boreMm / 1000
  const velocityMps = lps / 1000 / (Math.PI / 4 * diameterM * diameterM)
  const reynolds = density * velocityMps * diameterM / viscosity
  const velocityPa = density * velocityMps * velocityMps / 2
  if (!(lps > 0)) return { velocityMps: 0, reynolds: 0, friction: 0, velocityPa: 0, frictionPaPerM: 0 }
  const friction = frictionFactor(reynolds, roughnessMm / boreMm)
  return { velocityMps, reynolds, friction, velocityPa, frictionPaPerM: friction / diameterM * velocityPa }
}
