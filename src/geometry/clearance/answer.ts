/** Where a clearance kernel writes its answer: a Float64Array of ANSWER_SIZE numbers that the caller keeps and reuses. */
export const ANSWER_SIZE = 8
/** least signed distance, mm: from the element's own points (no radius taken off) to the solid's surface; negative inside */
export const DISTANCE = 0
/** the point of the centreline where that least distance occurs, mm */
export const ON_CURVE_X = 1
/** the point of the solid's surface closest to it, mm */
export const ON_SOLID_X = 4
/** how far along the element ON_CURVE lies, mm from the element's start */
export const ALONG = 7

/**
 * A pair kernel: the least signed distance over all points of one element to one solid.
 * @param elements packed elements (curve/centreline.ts)
 * @param e offset of the element in `elements`
 * @param data packed solids (solid/solidSet.ts)
 * @param s offset of the solid in `data`
 * @param cutoffMm when the distance is provably above this the kernel may return any number above it and leave `answer` alone
 * @param answer filled as above when the returned distance is <= cutoffMm
 * @returns the least signed distance, mm
 */
export type PairKernel = (
  elements: Float64Array, e: number, data: Float64Array, s: number, cutoffMm: number, answer: Float64Array,
) => number

/** An answer about two centrelines holds one number more: how far along the other one ON_SOLID_X lies, mm */
export const PAIR_ANSWER_SIZE = 9
export const ALONG_OTHER = 8

/**
 * Least distance between two elements, as a PairKernel but bare: ON_SOLID_X is a point of the second element's own
 * curve, ALONG_OTHER its distance from that element's start, and the distance is never negative.
 * @param answer PAIR_ANSWER_SIZE numbers, filled when the returned distance is <= cutoffMm
 */
export type CurveKernel = (
  elements: Float64Array, e: number, others: Float64Array, o: number, cutoffMm: number, answer: Float64Array,
) => number
