import type { PairKernel } from './answer.ts'
import { leastToTube } from './leastToTube.ts'
import { legArc } from './legArc.ts'
import { legLeg } from './legLeg.ts'

/** Least signed distance from a straight leg to a tube; exact against its legs, to ANSWER_ERROR_MM against its bends. */
export const legTube: PairKernel = (elements, e, data, s, cutoffMm, answer) =>
  leastToTube(legLeg, legArc, elements, e, data, s, cutoffMm, answer)
