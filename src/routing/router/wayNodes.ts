/** The corners that a search has come to, in flat arrays that are kept from one search to the next. */
export class WayNodes {
  count = 0
  u = new Float64Array(1 << 14)
  v = new Float64Array(1 << 14)
  z = new Float64Array(1 << 14)
  /** cost so far: length, prices, and what other ducts cost once that is known */
  g = new Float64Array(1 << 14)
  /** what the bend at the corner before takes from each of its legs, mm */
  tangent = new Float64Array(1 << 14)
  before = new Int32Array(1 << 14)
  /** which stop on the last axis this is; -1 for none */
  stop = new Int32Array(1 << 14)
  isProved = new Uint8Array(1 << 14)

  clear(): void {
    this.count = 0
  }

  add(u: number, v: number, z: number, g: number, tangent: number, before: number, stop: number): number {
    const i = this.count++
    if (i === this.u.length) this.#grow()
    this.u[i] = u
    this.v[i] = v
    this.z[i] = z
    this.g[i] = g
    this.tangent[i] = tangent
    this.before[i] = before
    this.stop[i] = stop
    this.isProved[i] = 0
    return i
  }

  #grow(): void {
    const larger = <T extends Float64Array | Int32Array | Uint8Array>(old: T): T => {
      const made = new (old.constructor as new (size: number) => T)(2 * old.length)
      made.set(old)
      return made
    }
    this.u = larger(this.u)
    this.v = larger(this.v)
    this.z = larger(this.z)
    this.g = larger(this.g)
    this.tangent = larger(this.tangent)
    this.before = larger(this.before)
    this.stop = larger(this.stop)
    this.isProved = larger(this.isProved)
  }
}
