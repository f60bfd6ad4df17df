/** The places of the workshop in the order of the work. A new place is its folder and a line here. */
import type { Place } from './place.ts'

export const PLACES: readonly Place[] = []
