import { DISTANCE, ON_CURVE_X, ON_SOLID_X } from './answer.ts'

/**
 * Signed distance, mm, of the point at ON_CURVE in `answer` to a flat-ended cylinder; writes it to DISTANCE and the surface
 * point nearest to it to ON_SOLID. A point on the axis, nearest to the side, gets one of the side points equally near.
 * @param s offset of the cylinder in `data` (solid/solidSet.ts)
 */
export const nearestOnCylinder = (data: Float64Array, s: number, answer: Float64Array): number => {
  const axisX = data[s + 3], axisY = data[s + 4], axisZ = data[s + 5]
  const x = answer[ON_CURVE_X] - data[s], y = answer[ON_CURVE_X + 1] - data[s + 1], z = answer[ON_CURVE_X + 2] - data[s + 2]
  const height = x * axisX + y * axisY + z * axisZ
  let outX = x - height * axisX, outY = y - height * axisY, outZ = z - height * axisZ
  const out = Math.sqrt(outX * outX + outY * outY + outZ * outZ)
  if (out > 0) {
    outX /= out
    outY /= out
    outZ /= out
  }
  // So near the axis that `out` is rounding, its direction may lean along the axis: stand it square again, or take any.
  const lean = outX * axisX + outY * axisY + outZ * axisZ
  outX -= lean * axisX
  outY -= lean * axisY
  outZ -= lean * axisZ
  let size = Math.sqrt(outX * outX + outY * outY + outZ * outZ)
  if (size < 0.5) {
    const leanX = Math.abs(axisX), leanY = Math.abs(axisY), leanZ = Math.abs(axisZ)
    if (leanX <= leanY && leanX <= leanZ) { outX = 0; outY = axisZ; outZ = -axisY }
    else if (leanY <= leanZ) { outX = -axisZ; outY = 0; outZ = axisX }
    else { outX = axisY; outY = -axisX; outZ = 0 }
    size = Math.sqrt(outX * outX + outY * outY + outZ * outZ)
  }
  outX /= size
  outY /= size
  outZ /= size
  const endSide = height < 0 ? -1 : 1
  const beyondSide = out - data[s + 6], beyondEnd = endSide * height - data[s + 7]
  const inside = beyondSide <= 0 && beyondEnd <= 0
  const moveSide = inside ? beyondSide >= beyondEnd : beyondSide > 0
  const moveEnd = inside ? !moveSide : beyondEnd > 0
  const sideStep = moveSide ? beyondSide : 0, endStep = moveEnd ? endSide * beyondEnd : 0
  answer[ON_SOLID_X] = answer[ON_CURVE_X] - sideStep * outX - endStep * axisX
  answer[ON_SOLID_X + 1] = answer[ON_CURVE_X + 1] - sideStep * outY - endStep * axisY
  answer[ON_SOLID_X + 2] = answer[ON_CURVE_X + 2] - sideStep * outZ - endStep * axisZ
  answer[DISTANCE] = inside ? Math.max(beyondSide, beyondEnd) : moveSide && moveEnd ? Math.sqrt(beyondSide * beyondSide + beyondEnd * beyondEnd) : moveSide ? beyondSide : beyondEnd
  return answer[DISTANCE]
}
