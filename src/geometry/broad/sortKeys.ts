const DIGIT_BITS = 10
const DIGITS = 1 << DIGIT_BITS

/** The order that sorts unsigned keys of 30 bits, equal keys in their given order: a radix sort, least digit first (Knuth, TAOCP 3, 5.2.5). */
export function sortKeys(keys: Uint32Array): Uint32Array {
  const n = keys.length
  let order = new Uint32Array(n), other = new Uint32Array(n)
  for (let i = 0; i < n; i++) order[i] = i
  const starts = new Uint32Array(DIGITS)
  for (let shift = 0; shift < 3 * DIGIT_BITS; shift += DIGIT_BITS) {
    starts.fill(0)
    for (let i = 0; i < n; i++) starts[keys[i] >>> shift & DIGITS - 1]++
    let sum = 0
    for (let digit = 0; digit < DIGITS; digit++) {
      const size = starts[digit]
      starts[digit] = sum
      sum += size
    }
    for (let i = 0; i < n; i++) other[starts[keys[order[i]] >>> shift & DIGITS - 1]++] = order[i]
    const kept = order
    order = other
    other = kept
  }
  return order
}
