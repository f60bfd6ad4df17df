import type { PairKernel } from './answer.ts'
import { elementPrism } from './elementPrism.ts'

/**
 * Least signed distance, mm, of a circular arc to an extruded polygon (layouts: curve/centreline.ts, solid/solidSet.ts).
 * Outside > 0, touching 0, inside the negative depth below the nearest wall or end; a hole is outside. Closed form
 * outside, to 1e-7 mm inside. Any turn up to 2 pi.
 */
export const arcPrism: PairKernel = (elements, e, data, s, cutoffMm, answer) => elementPrism(true, elements, e, data, s, cutoffMm, answer)
