/** Losses of what is not straight duct, as shares (zeta) of the velocity pressure rho V² / 2, each with its source. */
import type { BendMethod, DuctType, PartLoss } from '#model/index.ts'
import { RATED_DENSITY } from './density.ts'
import type { Source } from './sources.ts'

const ROUND_FIGURES: Source = { document: 'Engineering reference table, minor loss coefficients for air ducts', mark: 'read' }

/** One for each way that a job may choose. */
export const BEND_SOURCES: Readonly<Record<BendMethod, Source>> = {
  'bend-formula': { document: 'Rennels and Hudson, Pipe Flow', edition: '2012', at: 'smooth bends, friction along the bend included', mark: 'from memory' },
  'smooth-elbow-table': { document: 'SMACNA HVAC Systems Duct Design, smooth round elbow', at: 'Table 14-10A, with the angle factors of ASHRAE fitting CR3-1', mark: 'from memory' },
  'round-figures': ROUND_FIGURES,
}

/** radius to the centre line over diameter, and zeta of 90 degrees */
const SMOOTH_ELBOW: readonly (readonly [number, number])[] = [[0.5, 0.71], [0.75, 0.33], [1, 0.22], [1.5, 0.15], [2, 0.13], [2.5, 0.12]]
/** degrees, and share of the loss of 90 degrees: ASHRAE CR3-1 (restated) */
const ANGLE_FACTORS: readonly (readonly [number, number])[] = [[0, 0], [20, 0.31], [30, 0.45], [45, 0.6], [60, 0.78], [75, 0.9], [90, 1], [180, 2]]
/** a corner without a radius: 0.5 at 45 and 1.3 at 90 degrees, the same reference (read); straight lines between and beyond */
const SHARP: readonly (readonly [number, number])[] = [[0, 0], [45, 0.5], [90, 1.3], [180, 2.9]]
/** below this the bend counts as a corner */
const LEAST_RADIUS_RATIO = 0.5

export interface BendLoss {
  readonly zeta: number
  /** friction along the arc is part of zeta already */
  readonly holdsFriction: boolean
}

/**
 * Two bends close together lose less than twice one bend (1.8 times, W. P. Jones, Air Conditioning Engineering, ch. 15): that is not taken off.
 * @param turnRad in (0, pi]; @param radiusRatio centre-line radius / inside diameter; @param friction Darcy's f in that duct
 */
export function bendLoss(method: BendMethod, turnRad: number, radiusRatio: number, friction: number): BendLoss {
  const turnDeg = turnRad * 180 / Math.PI
  if (radiusRatio < LEAST_RADIUS_RATIO) return { zeta: between(SHARP, turnDeg), holdsFriction: false }
  switch (method) {
    case 'bend-formula': {
      const sine = Math.sin(turnRad / 2)
      const zeta = friction * turnRad * radiusRatio + (0.1 + 2.4 * friction) * sine
        + 6.6 * friction * (Math.sqrt(sine) + sine) / radiusRatio ** (4 * turnRad / Math.PI)
      return { zeta, holdsFriction: true }
    }
    case 'smooth-elbow-table':
      return { zeta: between(SMOOTH_ELBOW, radiusRatio) * between(ANGLE_FACTORS, turnDeg), holdsFriction: false }
    case 'round-figures': {
      const [at45, at90] = radiusRatio < 1 ? [0.2, 0.5] : [0.05, 0.25]
      return { zeta: between([[0, 0], [45, at45], [90, at90], [180, 2 * at90]], turnDeg), holdsFriction: false }
    }
  }
}

/** From a box or a room into a duct with its end flush: ASHRAE, Principles of HVAC, supplement 1-1 (restated). */
export const INTO_DUCT = { zeta: 0.5, source: { document: 'ASHRAE, Principles of HVAC', at: 'supplement 1-1, flush entry', mark: 'restated' } as Source } as const
/** Out of a duct into a box or a room: all of the velocity pressure. */
export const OUT_OF_DUCT = { zeta: 1, source: ROUND_FIGURES } as const
/** A grille or valve of which nothing has been entered: free-area ratio 0.7, on the velocity in its duct. */
export const UNKNOWN_TERMINAL = { zeta: 3, source: ROUND_FIGURES } as const

/** roughness of the bore where none is entered, mm */
export const USUAL_ROUGHNESS: Readonly<Record<DuctType['kind'], { readonly mm: number, readonly source: Source }>> = {
  'rigid': { mm: 0.09, source: { document: 'ASHRAE Handbook Fundamentals, Duct Design', at: 'Table 1, galvanised round duct, average', mark: 'restated' } },
  'semi-rigid': { mm: 0.09, source: { document: 'ASHRAE Handbook Fundamentals, Duct Design', at: 'Table 1, flexible duct fully extended, the smooth end of its range; smooth-lined duct has no row of its own', mark: 'restated' } },
}

/** Pressure over a part with an entered drop, Pa. Its figures are taken to be for air of 1.2 kg/m³; what goes with the square goes with density. */
export function partDropPa({ dropPa, atLps, exponent }: PartLoss, lps: number, density: number): number {
  // the part that is friction in thin layers (exponent 1) goes with viscosity, not density
  const dense = (density / RATED_DENSITY) ** (exponent - 1)
  return dropPa * (lps / atLps) ** exponent * dense
}

/** The value on straight lines between the rows, held at both ends. */
export function between(rows: readonly (readonly [number, number])[], x: number): number {
  if (x <= rows[0][0]) return rows[0][1]
  for (let i = 1; i < rows.length; i++) {
    const [x0, y0] = rows[i - 1], [x1, y1] = rows[i]
    if (x <= x1) return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
  }
  return rows[rows.length - 1][1]
}
