/**
 * Several ducts side by side in one opening, straight on: what a placing is worth, and the climb from it to the
 * best placing nearby. mm.
 *
 * Unknowns: centres p and the growth in diameter g, the same for all. Duct i has radius R = max(0, radius + g/2).
 * Walls: a.p + R <= b. Pairs: |p - q| >= Rp + Rq + gap.
 */
import { maximise } from './linearProgramme.ts'
import type { Opening } from './opening.ts'

/** Ducts to be placed: radii and the least gap between any two. */
export interface DuctMix { readonly radii: Float64Array, readonly gapMm: number }

const SMALLEST_STEP_MM = 1e-11
const MOST_STEPS = 60

/**
 * How much every duct can grow in diameter with these centres (x, y pairs); negative when they must shrink, -Infinity
 * when even points do not keep the gap, or a centre is outside. This, and nothing else, is what a fit is claimed by.
 */
export function growthAt(opening: Opening, mix: DuctMix, centres: Float64Array): number {
  const { edges, edgeCount } = opening, { radii, gapMm } = mix
  let growth = Infinity
  for (let i = 0; i < radii.length; i++) {
    const x = centres[2 * i], y = centres[2 * i + 1]
    let room = Infinity
    for (let e = 0; e < edgeCount; e++) room = Math.min(room, edges[5 * e + 2] - edges[5 * e] * x - edges[5 * e + 1] * y)
    if (!(room >= 0)) return -Infinity
    growth = Math.min(growth, 2 * (room - radii[i]))
    for (let j = 0; j < i; j++) {
      const apart = Math.hypot(x - centres[2 * j], y - centres[2 * j + 1]) - gapMm
      if (!(apart >= 0)) return -Infinity
      const larger = Math.max(radii[i], radii[j]), smaller = Math.min(radii[i], radii[j])
      const both = apart - larger - smaller
      growth = Math.min(growth, both >= -2 * smaller ? both : 2 * (apart - larger))
    }
  }
  return growth
}

let rows = new Float64Array(0), objective = new Float64Array(0), step = new Float64Array(0), trial = new Float64Array(0)

/**
 * Moves `centres` to the best placing that a climb reaches and returns its growth (see growthAt). Each step solves a
 * linear programme in which a pair is kept apart along its present direction u: since |p - q| >= u.(p - q), that never
 * allows too much, so the growth never falls; and at a placing held by enough contacts it closes in quadratically.
 */
export function climb(opening: Opening, mix: DuctMix, centres: Float64Array): number {
  const { edges, edgeCount } = opening, { radii, gapMm } = mix
  const count = radii.length, unknowns = 2 * count + 1, stride = unknowns + 1
  const most = 2 * count * edgeCount + 2 * count * (count - 1)
  if (rows.length < most * stride) rows = new Float64Array(most * stride)
  if (step.length < unknowns) { step = new Float64Array(unknowns); objective = new Float64Array(unknowns); trial = new Float64Array(unknowns) }
  let growth = growthAt(opening, mix, centres)
  if (growth === -Infinity) return growth
  for (let k = 0; k < MOST_STEPS; k++) {
    let rowCount = 0
    const row = (right: number, growthRate: number): number => {
      const at = stride * rowCount++
      rows.fill(0, at, at + stride)
      rows[at + unknowns - 1] = growthRate
      rows[at + unknowns] = right
      return at
    }
    for (let i = 0; i < count; i++) {
      const x = centres[2 * i], y = centres[2 * i + 1]
      const radius = radii[i] + growth / 2
      for (let e = 0; e < edgeCount; e++) {
        const ax = edges[5 * e], ay = edges[5 * e + 1], room = edges[5 * e + 2] - ax * x - ay * y
        // a duct that has shrunk to nothing is a point inside the opening, and may grow again later
        for (let point = radius < 0 ? 1 : 0; point >= 0; point--) {
          const at = row(point === 1 ? room : room - radius, point === 1 ? 0 : 0.5)
          rows[at + 2 * i] = ax
          rows[at + 2 * i + 1] = ay
        }
      }
      for (let j = 0; j < i; j++) {
        let ux = x - centres[2 * j], uy = y - centres[2 * j + 1]
        const apart = Math.hypot(ux, uy)
        if (apart > 0) { ux /= apart; uy /= apart } else { ux = 1; uy = 0 }
        const other = radii[j] + growth / 2
        for (let p = radius < 0 ? 0 : 1; p < 2; p++) for (let q = other < 0 ? 0 : 1; q < 2; q++) {
          const at = row(apart - gapMm - p * radius - q * other, (p + q) / 2)
          rows[at + 2 * i] = -ux
          rows[at + 2 * i + 1] = -uy
          rows[at + 2 * j] = ux
          rows[at + 2 * j + 1] = uy
        }
      }
    }
    objective.fill(0)
    objective[unknowns - 1] = 1
    maximise(rows, rowCount, unknowns, objective, step)
    for (let c = 0; c < 2 * count; c++) trial[c] = centres[c] + step[c]
    const better = growthAt(opening, mix, trial)
    if (!(better > growth + SMALLEST_STEP_MM)) {
      if (better > growth) { growth = better; for (let c = 0; c < 2 * count; c++) centres[c] = trial[c] }
      break
    }
    growth = better
    for (let c = 0; c < 2 * count; c++) centres[c] = trial[c]
  }
  return growth
}
