/**
 * Whether a rectangle can be moved from below a row of boxes up between them, by looking: every place and tilt of a lattice, joined
 * to its neighbours. Slow and simple. With the rectangle made smaller all round by `lessMm`, not finding a way is a proof that the
 * whole one has none, when lessMm covers half a step of the lattice; made larger by that (less than 0), finding one is a proof that it has.
 */
export type Rect = readonly [s0: number, s1: number, z0: number, z1: number]

export interface Piece { readonly lengthMm: number, readonly diameterMm: number }

export interface Lattice { readonly stepMm: number, readonly stepDeg: number }

/** How much half a step of the lattice can move any point of the piece, mm. */
export function halfStepMm({ lengthMm, diameterMm }: Piece, { stepMm, stepDeg }: Lattice): number {
  return Math.hypot(stepMm, stepMm) / 2 + Math.hypot(lengthMm / 2, diameterMm / 2) * stepDeg * Math.PI / 360
}

/** Whether a piece with its lower foot at (s, z), its head up to the right by `tilt`, overlaps a box: separating axes, both pairs (Gottschalk 1996). */
export function overlaps({ lengthMm, diameterMm }: Piece, s: number, z: number, tilt: number, [s0, s1, z0, z1]: Rect, lessMm = 0): boolean {
  const c = Math.cos(tilt), n = Math.sin(tilt), halfL = lengthMm / 2 - lessMm, halfD = diameterMm / 2 - lessMm
  const ms = s + c * lengthMm / 2 - n * diameterMm / 2, mz = z + n * lengthMm / 2 + c * diameterMm / 2
  const hs = (s1 - s0) / 2, hz = (z1 - z0) / 2, ds = (s0 + s1) / 2 - ms, dz = (z0 + z1) / 2 - mz
  return Math.abs(ds) < hs + halfL * c + halfD * n && Math.abs(dz) < hz + halfL * n + halfD * c
    && Math.abs(ds * c + dz * n) < halfL + hs * c + hz * n && Math.abs(dz * c - ds * n) < halfD + hs * n + hz * c
}

/** From upright below (the whole piece under z = 0) to level with its foot at s >= 0 and its underside at `levelMm` or above. */
export function goesIn(piece: Piece, rects: readonly Rect[], levelMm: number, lattice: Lattice, lessMm: number): boolean {
  const { stepMm, stepDeg } = lattice, { lengthMm, diameterMm } = piece
  const sFrom = -lengthMm, sCount = Math.ceil((lengthMm + 400) / stepMm), zFrom = -lengthMm - diameterMm - 50, zCount = Math.ceil((levelMm + 60 - zFrom) / stepMm), tCount = Math.round(90 / stepDeg) + 1
  // 0 not looked at, 1 free and reached, 2 barred
  const state = new Uint8Array(sCount * zCount * tCount)
  const stack: number[] = []
  const look = (i: number, j: number, k: number): void => {
    if (i < 0 || j < 0 || k < 0 || i >= sCount || j >= zCount || k >= tCount) return
    const at = (k * zCount + j) * sCount + i
    if (state[at] !== 0) return
    const s = sFrom + i * stepMm, z = zFrom + j * stepMm, tilt = k * stepDeg * Math.PI / 180
    state[at] = 2
    for (const rect of rects) if (overlaps(piece, s, z, tilt, rect, lessMm)) return
    state[at] = 1
    stack.push(at)
  }
  look(Math.round((diameterMm + 20 - sFrom) / stepMm), 0, tCount - 1)
  for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
    const i = at % sCount, j = Math.floor(at / sCount) % zCount, k = Math.floor(at / (sCount * zCount))
    if (k === 0 && sFrom + i * stepMm >= -stepMm && zFrom + j * stepMm >= levelMm - stepMm) return true
    look(i, j, k - 1)
    look(i, j + 1, k)
    look(i + 1, j, k)
    look(i - 1, j, k)
    look(i, j - 1, k)
    look(i, j, k + 1)
  }
  return false
}
