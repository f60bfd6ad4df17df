/** Where the picture of a plan lies on site: turned, scaled and placed by its two marks. Pure. */
import type { Point2, Underlay } from '#model/index.ts'

type Marks = Underlay['marks']

/** The six numbers of an SVG matrix from picture points (down is positive) to site; a picture is never mirrored. */
export function underlayMatrix([a, b]: Marks): readonly [number, number, number, number, number, number] {
  // picture points as they would be with y up, so that a turn and a scale are one complex number
  const px = b.pixel[0] - a.pixel[0], py = -(b.pixel[1] - a.pixel[1])
  const sx = b.at[0] - a.at[0], sy = b.at[1] - a.at[1]
  const size = px * px + py * py
  const re = (sx * px + sy * py) / size, im = (sy * px - sx * py) / size
  return [re, im, im, -re, a.at[0] - re * a.pixel[0] - im * a.pixel[1], a.at[1] - im * a.pixel[0] + re * a.pixel[1]]
}

export function siteOfPixel(marks: Marks, [u, v]: Point2): Point2 {
  const [a, b, c, d, e, f] = underlayMatrix(marks)
  return [a * u + c * v + e, b * u + d * v + f]
}

/** The picture point at a place on site. */
export function pixelOfSite(marks: Marks, [x, y]: Point2): Point2 {
  const [a, b, c, d, e, f] = underlayMatrix(marks)
  const det = a * d - b * c, dx = x - e, dy = y - f
  return [(d * dx - c * dy) / det, (a * dy - b * dx) / det]
}
