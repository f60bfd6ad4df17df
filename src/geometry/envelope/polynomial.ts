/** Polynomials of low degree as coefficient lists, constant first. */
export type Polynomial = readonly number[]

export function valueAt(p: Polynomial, u: number): number {
  let value = 0
  for (let i = p.length - 1; i >= 0; i--) value = value * u + p[i]
  return value
}

export function sum(p: Polynomial, q: Polynomial, qTimes = 1): number[] {
  return Array.from({ length: Math.max(p.length, q.length) }, (_, i) => (p[i] ?? 0) + qTimes * (q[i] ?? 0))
}

export function product(p: Polynomial, q: Polynomial): number[] {
  const out = new Array<number>(p.length + q.length - 1).fill(0)
  for (let i = 0; i < p.length; i++) for (let j = 0; j < q.length; j++) out[i + j] += p[i] * q[j]
  return out
}

export function derivative(p: Polynomial): number[] {
  return p.length < 2 ? [0] : p.slice(1).map((a, i) => a * (i + 1))
}

/**
 * The places in (low, high) where the polynomial changes sign, in order. Between roots of the derivative it runs one way, so each
 * change is bracketed, and Newton's steps find it to the last digits; a step out of the bracket is replaced by halving. A place
 * where it touches zero without crossing may be left out.
 */
export function rootsBetween(p: Polynomial, low: number, high: number): number[] {
  let degree = p.length - 1
  while (degree > 0 && p[degree] === 0) degree--
  if (degree === 0) return []
  const stops = degree === 1 ? [low, high] : [low, ...rootsBetween(derivative(p.slice(0, degree + 1)), low, high), high]
  const roots: number[] = []
  for (let i = 1; i < stops.length; i++) {
    const a = stops[i - 1], b = stops[i], isUp = valueAt(p, b) > 0
    if (valueAt(p, a) > 0 !== isUp) roots.push(rootIn(p, a, b, isUp))
  }
  return roots
}

function rootIn(p: Polynomial, from: number, to: number, isUp: boolean): number {
  let a = from, b = to, u = (a + b) / 2
  for (let i = 0; i < MOST_STEPS; i++) {
    let value = 0, slope = 0
    for (let k = p.length - 1; k >= 0; k--) {
      slope = slope * u + value
      value = value * u + p[k]
    }
    if (value > 0 === isUp) b = u
    else a = u
    let next = u - value / slope
    if (!(next > a && next < b)) next = (a + b) / 2
    if (next === u || next <= a || next >= b) break
    u = next
  }
  return u
}

/** Halving alone is down to the last digit after this many steps. */
const MOST_STEPS = 64
