/** Where a site point falls in the picture, by the pinhole formula and nothing of the view's own code. */
type Point = readonly number[]

/**
 * @param eye, target, place in the same unit, z up
 * @returns -1..1 to the right and up; outside that it is out of the picture
 */
export function inPicture(eye: Point, target: Point, fovDeg: number, aspect: number, place: Point): [number, number] {
  const unit = (v: number[]): number[] => v.map((x) => x / Math.hypot(...v))
  const ahead = unit([0, 1, 2].map((k) => target[k] - eye[k]))
  const right = unit([ahead[1], -ahead[0], 0])
  const up = [right[1] * ahead[2] - right[2] * ahead[1], right[2] * ahead[0] - right[0] * ahead[2], right[0] * ahead[1] - right[1] * ahead[0]]
  const p = [0, 1, 2].map((k) => place[k] - eye[k])
  const along = (a: number[]): number => a[0] * p[0] + a[1] * p[1] + a[2] * p[2]
  const tan = Math.tan(fovDeg * Math.PI / 360) * along(ahead)
  return [along(right) / (tan * aspect), along(up) / tan]
}
