import { Vector3 } from 'three'
import type { Camera, Object3D } from 'three'

/** half the width that a tag may have (style.css), and what it and the view's buttons take above the place it points at, CSS px */
const HALF_WIDTH_PX = 164
const ABOVE_PX = 170
/** how much lower a tag stands that has no room above its thing, CSS px */
const BELOW_PX = 140
const spot = new Vector3()

/** Where a tag floats: at its thing, but above it, or below where it would be out of the picture or under the view's buttons. For Html's calculatePosition. */
export function tagPlace(thing: Object3D, camera: Camera, { width, height }: { readonly width: number, readonly height: number }): [number, number] {
  spot.setFromMatrixPosition(thing.matrixWorld).project(camera)
  const half = Math.min(HALF_WIDTH_PX, width / 2)
  const x = (spot.x + 1) / 2 * width, y = (1 - spot.y) / 2 * height
  return [Math.min(Math.max(x, half), width - half), y < ABOVE_PX ? y + BELOW_PX : Math.min(y, height)]
}

/** what the view's buttons and the tag itself take above the thing, and how far below it the tag stands then, CSS px */
const BUTTONS_PX = 132, UNDER_PX = 104
/** its half width with ten words, CSS px */
const SHORT_HALF_PX = 120

/** The same for a name that stands close at its thing: above it, or under it where the view's buttons are, and never over the edge. */
export function tagUnderButtons(thing: Object3D, camera: Camera, { width, height }: { readonly width: number, readonly height: number }): [number, number] {
  spot.setFromMatrixPosition(thing.matrixWorld).project(camera)
  const x = (spot.x + 1) / 2 * width, y = (1 - spot.y) / 2 * height, half = Math.min(SHORT_HALF_PX, width / 2)
  const isInSight = x >= 0 && x <= width && y >= 0 && y <= height
  const clear = y < BUTTONS_PX && y + UNDER_PX < height ? y + UNDER_PX : y
  return isInSight ? [Math.min(Math.max(x, half), width - half), clear] : [x, y]
}
