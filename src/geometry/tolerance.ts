/** Every tolerance of the kernel, each with its unit and its reason. Lengths in millimetres. */

/** Largest error of a clearance that involves an arc, mm. A hundredth of what a tape can read. */
export const ANSWER_ERROR_MM = 1e-4
/** Two points nearer than this are the same point, mm: a leg this short has no direction of its own. */
export const SAME_POINT_MM = 1e-7
/** A turn smaller than this is straight on, rad: over a 100 m leg it strays by less than ANSWER_ERROR_MM. */
export const STRAIGHT_RAD = 1e-9
/** An axis whose length, or whose squareness to another, is off by more than this is wrong, not rounded: at 100 m it strays by less than ANSWER_ERROR_MM. */
export const UNIT_AXIS_ERROR = 1e-9
/** What double precision leaves of a coordinate of a building (metres, so 1e4 mm), mm. */
export const ROUNDING_MM = 1e-9
/** The largest straight cylinder through a series of joists is proved to within this, mm. */
export const FIT_ERROR_MM = 1e-6
/** Ceiling zones nearer to each other than this touch, mm: outlines are typed to the whole millimetre, so neighbours meant to meet miss by up to half of one. */
export const ZONES_TOUCH_MM = 0.5
/** Two zones' walls further from parallel than this (a sine) face each other over a few millimetres only: no duct passes there, so no slit is closed. */
export const WALLS_FACE_SIN = 0.1
/** A stretch of run outside the void shorter, or shallower, than this is the rounding of a seam between two zones, mm: ten times the hair either side of it. */
export const SEAM_MM = 1e-6
