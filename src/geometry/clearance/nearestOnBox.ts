import { DISTANCE, ON_CURVE_X, ON_SOLID_X } from './answer.ts'

/**
 * Signed distance, mm, of the point at ON_CURVE in `answer` to a box; writes it to DISTANCE and the surface point nearest to it to ON_SOLID.
 * @param s offset of the box in `data` (solid/solidSet.ts)
 */
export const nearestOnBox = (data: Float64Array, s: number, answer: Float64Array): number => {
  const x = answer[ON_CURVE_X] - data[s], y = answer[ON_CURVE_X + 1] - data[s + 1], z = answer[ON_CURVE_X + 2] - data[s + 2]
  let squared = 0, px = 0, py = 0, pz = 0
  let face = 0, faceDistance = -Infinity, faceSide = 1
  for (let axis = 0; axis < 3; axis++) {
    const f = s + 6 + 3 * axis
    const along = x * data[f] + y * data[f + 1] + z * data[f + 2], half = data[s + 3 + axis]
    const side = along < 0 ? -1 : 1
    const beyond = side * along - half
    if (beyond > faceDistance) {
      faceDistance = beyond
      face = f
      faceSide = side
    }
    if (beyond > 0) squared += beyond * beyond
    const there = beyond > 0 ? side * half : along
    px += there * data[f]
    py += there * data[f + 1]
    pz += there * data[f + 2]
  }
  if (squared > 0) {
    answer[ON_SOLID_X] = data[s] + px
    answer[ON_SOLID_X + 1] = data[s + 1] + py
    answer[ON_SOLID_X + 2] = data[s + 2] + pz
    return answer[DISTANCE] = Math.sqrt(squared)
  }
  answer[ON_SOLID_X] = answer[ON_CURVE_X] - faceSide * faceDistance * data[face]
  answer[ON_SOLID_X + 1] = answer[ON_CURVE_X + 1] - faceSide * faceDistance * data[face + 1]
  answer[ON_SOLID_X + 2] = answer[ON_CURVE_X + 2] - faceSide * faceDistance * data[face + 2]
  return answer[DISTANCE] = faceDistance
}
