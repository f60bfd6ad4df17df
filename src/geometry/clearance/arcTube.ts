import type { PairKernel } from './answer.ts'
import { arcArc } from './arcArc.ts'
import { arcLeg } from './arcLeg.ts'
import { leastToTube } from './leastToTube.ts'

/** Least signed distance from an arc to a tube, to ANSWER_ERROR_MM. */
export const arcTube: PairKernel = (elements, e, data, s, cutoffMm, answer) =>
  leastToTube(arcLeg, arcArc, elements, e, data, s, cutoffMm, answer)
