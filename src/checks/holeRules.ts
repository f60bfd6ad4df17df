/**
 * Published rules for round holes drilled through joists, as data. Each says where it comes from and how it was come by: 'read' in the
 * document itself, 'restated' by another publication, 'from memory'. They are general: the joist's maker, an engineer and the local
 * code come first. Notches are not drawn in a job, so the rules' limits on notches are not here.
 */
import type { Settings } from '#model/index.ts'

type Rules = Settings['holeRules']
export type HoleRuleId = Rules[keyof Rules]

export interface HoleRule {
  /** document and clause */
  readonly source: string
  readonly mark: 'read' | 'restated' | 'from memory'
  /** joists deeper than this are outside the rule, mm */
  readonly deepestJoistMm?: number
  /** largest diameter: the least of a share of the depth, a length, and the web between the flanges less a length, mm */
  readonly diameter: { readonly ofDepth?: number, readonly mostMm?: number, readonly lessThanWebByMm?: number }
  /** where along the span, as shares of it: the hole's centre from the nearer support */
  readonly zone?: { readonly from: number, readonly to: number }
  /** from the hole's edge to the edge of the nearer bearing, mm */
  readonly fromBearingMm?: number
  /** how that one figure was come by, where it is not as the rest */
  readonly bearingMark?: 'from memory'
  /** centre on the middle of the joist's depth (neutral axis, centre line) */
  readonly onMiddle: boolean
  /** left between the hole's edge and the joist's top and bottom, or its flanges, mm */
  readonly edgeMm?: number
  /** between two holes of one joist: centre to centre or edge to edge; the larger of a length and so many diameters of the larger hole */
  readonly apart?: { readonly between: 'centres' | 'edges', readonly mm?: number, readonly diameters?: number }
}

/** 1 inch, mm: exact by definition. */
const INCH_MM = 25.4

export const HOLE_RULES: Readonly<Record<HoleRuleId, HoleRule>> = {
  'uk-classic': {
    source: 'BS 5268-2 clause 2.10.4', mark: 'restated', deepestJoistMm: 250,
    diameter: { ofDepth: 0.25 }, zone: { from: 0.25, to: 0.4 }, onMiddle: true, apart: { between: 'centres', diameters: 3 },
  },
  'uk-capped': {
    source: 'LABC guidance on notching and drilling joists, after TRADA guidance 3.2.2 to Eurocode 5', mark: 'read',
    diameter: { ofDepth: 0.25, mostMm: 65 }, zone: { from: 0.25, to: 0.4 }, onMiddle: true, apart: { between: 'centres', diameters: 3 },
  },
  // 'at least 100 mm apart' is read as clear timber between the holes, the stricter reading
  'nhbc-6.4.18': {
    source: 'NHBC Standards 2020, 6.4.18 Table 6', mark: 'read', deepestJoistMm: 250,
    diameter: { ofDepth: 0.25 }, zone: { from: 0.25, to: 0.4 }, onMiddle: true, apart: { between: 'edges', mm: 100 },
  },
  'irc-r502.8': {
    source: 'IRC R502.8.1', mark: 'restated',
    diameter: { ofDepth: 1 / 3 }, onMiddle: false, edgeMm: 2 * INCH_MM, apart: { between: 'edges', mm: 2 * INCH_MM },
  },
  // the document's distances to supports are tables by depth, span and size; only its general words are here, and 6 inches from memory
  'i-joist-generic': {
    source: 'APA Form Z725, general rules for holes in wood I-joists', mark: 'restated',
    diameter: { lessThanWebByMm: 6 }, onMiddle: false, edgeMm: 3, fromBearingMm: 6 * INCH_MM, bearingMark: 'from memory', apart: { between: 'edges', diameters: 2 },
  },
  // the length limit of 114 mm never bites on a round hole
  'irc-r505-cold-formed': {
    source: 'IRC R505.2.6.1', mark: 'from memory',
    diameter: { ofDepth: 0.5, mostMm: 64 }, onMiddle: true, fromBearingMm: 254, apart: { between: 'centres', mm: 610 },
  },
}

/** A centre within this of the middle of the depth is on it, mm: our own allowance for a drill held by hand. */
export const ON_MIDDLE_MM = 3
/** Holes up to this size (1 1/2 in) are allowed nearly anywhere in the web of a wood I-joist, mm; larger ones by the maker's table. */
export const SMALL_I_JOIST_HOLE_MM = 38

/** 'BS 5268-2 clause 2.10.4 (restated)'. */
export function sourceWords({ source, mark }: Pick<HoleRule, 'source' | 'mark'>): string {
  return `${source} (${mark})`
}

/** The largest round hole that the rule allows anywhere in such a joist, mm. */
export function largestDiameterMm({ diameter }: HoleRule, depthMm: number, flangeMm: number): number {
  const { ofDepth, mostMm, lessThanWebByMm } = diameter
  return Math.min(
    ofDepth === undefined ? Infinity : ofDepth * depthMm, mostMm ?? Infinity,
    lessThanWebByMm === undefined ? Infinity : depthMm - 2 * flangeMm - lessThanWebByMm,
  )
}
