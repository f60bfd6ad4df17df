/** Openings coloured by the largest duct that each takes: from dark to light, so that the order is read without seeing hues. */
import type { Assembly } from '#assembly/assembly.ts'
import type { Frame } from './frame.ts'
import { MM_PER_UNIT } from './frame.ts'
import { linearRgb } from './palette.ts'

export interface OpeningStep {
  /** takes this and more, mm */
  readonly fromMm: number
  readonly colour: string
  /** dark or light ink on it */
  readonly ink: string
}

/** Sizes that round duct is sold in for dwellings (common practice, from memory). Lightness climbs by about equal steps from slate to straw. */
export const OPENING_STEPS: readonly OpeningStep[] = [
  { fromMm: 0, colour: '#2e2440', ink: '#ffffff' },
  { fromMm: 63, colour: '#4b3a66', ink: '#ffffff' },
  { fromMm: 75, colour: '#5f5680', ink: '#ffffff' },
  { fromMm: 90, colour: '#4f7c94', ink: '#000000' },
  { fromMm: 125, colour: '#55a596', ink: '#000000' },
  { fromMm: 160, colour: '#9cc77c', ink: '#000000' },
  { fromMm: 200, colour: '#f0e08a', ink: '#000000' },
]

/** A hair of rounding does not push an opening a step down, mm. */
const ROUNDING_MM = 1e-6

export function stepOf(largestMm: number): number {
  let step = 0
  while (step + 1 < OPENING_STEPS.length && largestMm + ROUNDING_MM >= OPENING_STEPS[step + 1].fromMm) step++
  return step
}

/** '90 to 125 mm', 'below 63 mm', '200 mm and more' */
export function stepWords(step: number): string {
  const { fromMm } = OPENING_STEPS[step], next = OPENING_STEPS[step + 1]?.fromMm
  return fromMm === 0 ? `below ${next} mm` : next === undefined ? `${fromMm} mm and more` : `${fromMm} to ${next} mm`
}

export interface OpeningTint { readonly joistIndex: number, readonly opening: number, readonly colour: string }

export interface TintedOpenings {
  /** scene units */
  readonly positions: Float32Array
  /** linear, per corner */
  readonly colours: Float32Array
  readonly indices: Uint32Array
}

/** Each opening as a sheet on its joist's middle plane. */
export function tintedOpenings({ joists }: Assembly, frame: Frame, tints: readonly OpeningTint[]): TintedOpenings {
  const positions: number[] = [], colours: number[] = [], indices: number[] = []
  for (const { joistIndex, opening: number, colour } of tints) {
    const joist = joists[joistIndex]
    const corners = joist?.openings.find((one) => one.number === number)?.opening.verticesXy
    if (corners === undefined) continue
    const first = positions.length / 3, rgb = linearRgb(colour), count = corners.length / 2
    for (let i = 0; i < count; i++) {
      const x = corners[2 * i], y = corners[2 * i + 1]
      const at = [joist.origin[0] + x * joist.along[0], joist.origin[1] + x * joist.along[1], joist.origin[2] + y]
      for (let k = 0; k < 3; k++) positions.push((at[k] - frame.originMm[k]) / MM_PER_UNIT)
      colours.push(...rgb)
    }
    for (let i = 1; i + 1 < count; i++) indices.push(first, first + i, first + i + 1)
  }
  return { positions: Float32Array.from(positions), colours: Float32Array.from(colours), indices: Uint32Array.from(indices) }
}
