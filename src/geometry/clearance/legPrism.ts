import type { PairKernel } from './answer.ts'
import { elementPrism } from './elementPrism.ts'

/**
 * Least signed distance, mm, of a straight leg to an extruded polygon (layouts: curve/centreline.ts, solid/solidSet.ts).
 * Outside > 0, touching 0, inside the negative depth below the nearest wall or end; a hole is outside. Exact to rounding
 * outside, to 1e-9 mm inside. Zero length and zero thickness allowed.
 */
export const legPrism: PairKernel = (elements, e, data, s, cutoffMm, answer) => elementPrism(false, elements, e, data, s, cutoffMm, answer)
