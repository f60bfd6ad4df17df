/**
 * Four or more ducts side by side. First climbs from scattered placings and from rows; then, at a size just above the
 * best so far, the ducts are put in one after another, each touching two things, and a placing that comes out is
 * climbed from; until PATIENCE tries in a row have not come out. The tries are the same on every machine and every call.
 * Nothing is proved: the best placing may be missed. Measured on 40 random openings of 4 to 6 sides each, about 200
 * across, ducts of 20 to 80: against 1500 climbs, the spare of four ducts fell short by up to 0.001 mm (1 case of 40),
 * of five by up to 0.5 (10 of 40, mean 0.03), of six by up to 0.7 (20 of 40, mean 0.09); 20 to 90 ms.
 */
import { climb, growthAt, type DuctMix } from './ductsApart.ts'
import type { Opening } from './opening.ts'

const STARTS = 8
const PATIENCE = 1600
/** How much more is asked of the next placing than the best so far, mm. */
const STEP_MM = 1e-3

export function placeMany(opening: Opening, mix: DuctMix, centres: Float64Array): number {
  const count = mix.radii.length
  const trial = new Float64Array(centres.length)
  const random = numbers(count)
  let best = -Infinity
  const keepIfBetter = (): boolean => {
    const growth = climb(opening, mix, trial)
    if (!(growth > best + 1e-9)) return false
    best = growth
    centres.set(trial)
    return true
  }
  for (let start = 0; start < STARTS; start++) {
    if (start % 3 === 0) inRow(opening, random, trial)
    else scattered(opening, random, trial)
    if (growthAt(opening, mix, trial) > -Infinity) keepIfBetter()
  }
  if (best === -Infinity) return best
  for (let failed = 0; failed < PATIENCE; failed++) {
    if (built(opening, mix, best + STEP_MM, random, trial) && keepIfBetter()) failed = 0
  }
  return best
}

/** Where the duct in hand can go, x and y, and how many such places there are. */
let placeX = 0, placeY = 0, places = 0

/**
 * The ducts grown by `growth`, put in one after another, each where it touches two of the sides and ducts already there,
 * the larger ones sooner, otherwise at random. False when one finds no place.
 */
function built(opening: Opening, mix: DuctMix, growth: number, random: () => number, out: Float64Array): boolean {
  const { edges, edgeCount } = opening, { gapMm } = mix
  const radii = Array.from(mix.radii, (radius) => Math.max(0, radius + growth / 2))
  const eagerness = radii.map((radius) => radius * (0.4 + random()))
  const order = radii.map((_, i) => i).sort((i, j) => eagerness[j] - eagerness[i])
  for (let n = 0; n < order.length; n++) {
    const duct = order[n], radius = radii[duct]
    const offer = (x: number, y: number): void => {
      for (let e = 0; e < edgeCount; e++) if (!(edges[5 * e] * x + edges[5 * e + 1] * y + radius <= edges[5 * e + 2] + 1e-9)) return
      for (let m = 0; m < n; m++) {
        const apart = Math.hypot(x - out[2 * order[m]], y - out[2 * order[m] + 1])
        if (!(apart >= radius + radii[order[m]] + gapMm - 1e-9)) return
      }
      // each place as likely as any other
      if (random() * ++places < 1) { placeX = x; placeY = y }
    }
    places = 0
    for (let e = 0; e < edgeCount; e++) {
      const ax = edges[5 * e], ay = edges[5 * e + 1], reach = edges[5 * e + 2] - radius
      for (let f = 0; f < e; f++) {
        const cross = ax * edges[5 * f + 1] - ay * edges[5 * f], other = edges[5 * f + 2] - radius
        if (Math.abs(cross) > 1e-9) offer((reach * edges[5 * f + 1] - other * ay) / cross, (ax * other - edges[5 * f] * reach) / cross)
      }
      for (let m = 0; m < n; m++) {
        const x = out[2 * order[m]], y = out[2 * order[m] + 1], ring = radius + radii[order[m]] + gapMm
        const off = reach - ax * x - ay * y, half = ring * ring - off * off
        if (half < 0) continue
        const t = Math.sqrt(half)
        offer(x + off * ax - t * ay, y + off * ay + t * ax)
        offer(x + off * ax + t * ay, y + off * ay - t * ax)
      }
    }
    for (let m = 0; m < n; m++) for (let k = 0; k < m; k++) {
      const x = out[2 * order[m]], y = out[2 * order[m] + 1]
      const dx = out[2 * order[k]] - x, dy = out[2 * order[k] + 1] - y, length = Math.hypot(dx, dy)
      if (!(length > 0)) continue
      const ring = radius + radii[order[m]] + gapMm, otherRing = radius + radii[order[k]] + gapMm
      const along = (ring * ring - otherRing * otherRing + length * length) / (2 * length), half = ring * ring - along * along
      if (half < 0) continue
      const t = Math.sqrt(half), ux = dx / length, uy = dy / length
      offer(x + along * ux - t * uy, y + along * uy + t * ux)
      offer(x + along * ux + t * uy, y + along * uy - t * ux)
    }
    if (places === 0) return false
    out[2 * duct] = placeX
    out[2 * duct + 1] = placeY
  }
  return true
}

/** Centres along the opening's longest reach, in a random order. */
function inRow({ verticesXy: v }: Opening, random: () => number, out: Float64Array): void {
  let from = 0, to = 2, longest = -1
  for (let i = 0; i < v.length; i += 2) for (let j = 0; j < i; j += 2) {
    const length = Math.hypot(v[i] - v[j], v[i + 1] - v[j + 1])
    if (length > longest) { longest = length; from = i; to = j }
  }
  let middleX = 0, middleY = 0
  for (let i = 0; i < v.length; i += 2) { middleX += 2 * v[i] / v.length; middleY += 2 * v[i + 1] / v.length }
  const count = out.length / 2
  const order = Array.from({ length: count }, (_, i) => i)
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1))
    const kept = order[i]
    order[i] = order[j]
    order[j] = kept
  }
  for (let i = 0; i < count; i++) {
    const t = (order[i] + 0.5 + 0.3 * (random() - 0.5)) / count, inward = 0.2 + 0.5 * random()
    out[2 * i] = (1 - inward) * (v[from] + t * (v[to] - v[from])) + inward * middleX
    out[2 * i + 1] = (1 - inward) * (v[from + 1] + t * (v[to + 1] - v[from + 1])) + inward * middleY
  }
}

function scattered(opening: Opening, random: () => number, out: Float64Array): void {
  for (let i = 0; i < out.length / 2; i++) somewhere(opening, random, out, i)
}

/** A random point of the opening for one duct. */
function somewhere({ verticesXy: v }: Opening, random: () => number, out: Float64Array, duct: number): void {
  let sum = 0, x = 0, y = 0
  for (let i = 0; i < v.length; i += 2) {
    const share = -Math.log(1 - random())
    sum += share
    x += share * v[i]
    y += share * v[i + 1]
  }
  out[2 * duct] = x / sum
  out[2 * duct + 1] = y / sum
}

/** mulberry32, so that the same question has the same answer everywhere. */
function numbers(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), state | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}
