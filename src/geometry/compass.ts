/** Points of the compass on a plan that is drawn with y to the north. */

const POINTS = ['east', 'north-east', 'north', 'north-west', 'west', 'south-west', 'south', 'south-east'] as const
export type CompassPoint = (typeof POINTS)[number]

/** The one of the eight that a direction in plan is nearest to; half-way between two it is the one next to a main point counter-clockwise. The direction must have a length. */
export function compassOf(dx: number, dy: number): CompassPoint {
  return POINTS[(Math.round(Math.atan2(dy, dx) / (Math.PI / 4)) + 8) % 8]
}
