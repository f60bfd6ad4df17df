/**
 * The walls of one extruded polygon, unpacked for the prism kernels: one prism at a time, in reused arrays that only
 * grow. Plan coordinates u, v of the prism's own frame, mm.
 */
const STRIDE = 7 // from u, v; to u, v; unit direction u, v (0, 0 for no length); length
let walls = new Float64Array(64 * STRIDE)

/** minU, minV, maxU, maxV of the walls last loaded, mm */
export const PLAN_BOUNDS = new Float64Array(4)
/** one wall, as loaded: from u, v; to u, v; unit direction u, v; length, mm */
export const WALL = new Float64Array(STRIDE)

/** Unpacks the walls of the prism at offset `s` (solid/solidSet.ts). @returns how many */
export const loadWalls = (data: Float64Array, s: number): number => {
  let minU = Infinity, minV = Infinity, maxU = -Infinity, maxV = -Infinity
  let count = 0
  let at = s + 15
  for (let ring = data[s + 14]; ring > 0; ring--) {
    const corners = data[at++]
    if ((count + corners) * STRIDE > walls.length) {
      const longer = new Float64Array(2 * (count + corners) * STRIDE)
      longer.set(walls)
      walls = longer
    }
    let fromU = data[at + 2 * corners - 2], fromV = data[at + 2 * corners - 1]
    for (let corner = 0; corner < corners; corner++, at += 2) {
      const toU = data[at], toV = data[at + 1]
      if (toU < minU) minU = toU
      if (toU > maxU) maxU = toU
      if (toV < minV) minV = toV
      if (toV > maxV) maxV = toV
      const length = Math.sqrt((toU - fromU) * (toU - fromU) + (toV - fromV) * (toV - fromV))
      const w = count++ * STRIDE
      walls[w] = fromU
      walls[w + 1] = fromV
      walls[w + 2] = toU
      walls[w + 3] = toV
      walls[w + 4] = length > 0 ? (toU - fromU) / length : 0
      walls[w + 5] = length > 0 ? (toV - fromV) / length : 0
      walls[w + 6] = length
      fromU = toU
      fromV = toV
    }
  }
  PLAN_BOUNDS[0] = minU
  PLAN_BOUNDS[1] = minV
  PLAN_BOUNDS[2] = maxU
  PLAN_BOUNDS[3] = maxV
  return count
}

/** Copies wall number `wall` into WALL. */
export const readWall = (wall: number): void => {
  const w = wall * STRIDE
  for (let i = 0; i < STRIDE; i++) WALL[i] = walls[w + i]
}

/** Whether (u, v) lies within the outline and in no hole: an odd number of walls cross the ray towards +u. */
export const insidePlan = (count: number, u: number, v: number): boolean => {
  let inside = false
  for (let w = 0; w < count * STRIDE; w += STRIDE) {
    const fromV = walls[w + 1], toV = walls[w + 3]
    if (fromV > v !== toV > v && u < walls[w] + (v - fromV) / (toV - fromV) * (walls[w + 2] - walls[w])) inside = !inside
  }
  return inside
}

const wallDistanceAt = (w: number, u: number, v: number): number => {
  const du = u - walls[w], dv = v - walls[w + 1]
  const along = du * walls[w + 4] + dv * walls[w + 5]
  if (along <= 0) return Math.sqrt(du * du + dv * dv)
  if (along >= walls[w + 6]) {
    const eu = u - walls[w + 2], ev = v - walls[w + 3]
    return Math.sqrt(eu * eu + ev * ev)
  }
  return Math.abs(du * walls[w + 5] - dv * walls[w + 4])
}

/** Plan distance, mm, from (u, v) to wall number `wall`. */
export const wallDistance = (wall: number, u: number, v: number): number => wallDistanceAt(wall * STRIDE, u, v)

/** The number of the wall nearest to (u, v) in plan. */
export const nearestWall = (count: number, u: number, v: number): number => {
  let least = Infinity, nearest = 0
  for (let wall = 0; wall < count; wall++) {
    const distance = wallDistanceAt(wall * STRIDE, u, v)
    if (distance < least) {
      least = distance
      nearest = wall
    }
  }
  return nearest
}
