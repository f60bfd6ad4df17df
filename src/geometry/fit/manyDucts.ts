/**
 * Four or more ducts side by side: many climbs from different placings, then swaps of two ducts while that helps. The
 * starts are the same on every machine and every call. Nothing is proved: the best placing may be missed.
 */
import { climb, growthAt, type DuctMix } from './ductsApart.ts'
import type { Opening } from './opening.ts'

const STARTS = 48

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
  for (let again = true; again;) {
    again = false
    for (let i = 0; i < count; i++) for (let j = 0; j < i; j++) {
      if (mix.radii[i] === mix.radii[j]) continue
      trial.set(centres)
      trial.copyWithin(2 * i, 2 * j, 2 * j + 2)
      trial[2 * j] = centres[2 * i]
      trial[2 * j + 1] = centres[2 * i + 1]
      if (keepIfBetter()) again = true
    }
    // one duct lifted out and put elsewhere
    for (let i = 0; i < count; i++) for (let go = 0; go < 4; go++) {
      trial.set(centres)
      somewhere(opening, random, trial, i)
      if (growthAt(opening, mix, trial) > -Infinity && keepIfBetter()) again = true
    }
  }
  return best
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
