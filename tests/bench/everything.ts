/**
 * The question: every run-solid and run-run pair with clearance below 25 mm, its exact clearance, and each run's least clearance
 * to a solid as far as 25 mm. Ours, on nothing but the geometry folder, and without garbage: answers lie in flat arrays that are kept.
 */
import { CurveIndex } from '#geometry/broad/curves.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { SolidGrid } from '#geometry/broad/solidGrid.ts'
import { ANSWER_SIZE, PAIR_ANSWER_SIZE, elementDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { ELEMENT_STRIDE, type Centreline } from '#geometry/curve/centreline.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { NEAR_MM, OUTER_RADIUS_MM } from './instance.ts'

/** Pairs found, as parallel lists. */
export interface Pairs {
  /** run-solid pairs below NEAR_MM: run, solid, clearance in mm */
  readonly runs: IndexList
  readonly solids: IndexList
  solidMm: Float64Array
  /** run-run pairs: lower run, higher run, clearance */
  readonly first: IndexList
  readonly second: IndexList
  runMm: Float64Array
  /** each run's least clearance to a solid, Infinity where none is within NEAR_MM */
  readonly leastMm: Float64Array
  /** pairs of element and solid handed to a kernel */
  candidates: number
}

export function emptyPairs(runCount: number): Pairs {
  return {
    runs: new IndexList(), solids: new IndexList(), solidMm: new Float64Array(64),
    first: new IndexList(), second: new IndexList(), runMm: new Float64Array(64), leastMm: new Float64Array(runCount), candidates: 0,
  }
}

export interface Indexed {
  readonly solids: SolidSet
  readonly curves: readonly Centreline[]
  readonly grid: SolidGrid
  readonly curveIndex: CurveIndex
  /** where a solid's pair with the present run lies in the lists, plus one; of another run when before `from` */
  readonly placeOf: Uint32Array
}

export function indexed(solids: SolidSet, curves: readonly Centreline[]): Indexed {
  return { solids, curves, grid: new SolidGrid(solids), curveIndex: new CurveIndex(curves), placeOf: new Uint32Array(Math.max(solids.count, curves.length)) }
}

const found = new IndexList()
const answer = new Float64Array(ANSWER_SIZE), pairAnswer = new Float64Array(PAIR_ANSWER_SIZE)

export function everything(index: Indexed, out: Pairs): void {
  clear(out)
  for (let run = 0; run < index.curves.length; run++) {
    runToSolids(index, run, index.curves[run], out)
    runToRuns(index, run, index.curves[run], out, true)
  }
}

/** One run's part of it, with that run as `curve`: it may have moved since the index was built. */
export function everythingOfRun(index: Indexed, run: number, curve: Centreline, out: Pairs): void {
  clear(out)
  runToSolids(index, run, curve, out)
  runToRuns(index, run, curve, out, false)
}

function clear(out: Pairs): void {
  out.runs.clear()
  out.solids.clear()
  out.first.clear()
  out.second.clear()
  out.candidates = 0
}

function runToSolids({ solids, grid, placeOf }: Indexed, run: number, { elements, count }: Centreline, out: Pairs): void {
  const reach = OUTER_RADIUS_MM + NEAR_MM
  const from = out.solids.count
  let least = Infinity
  for (let i = 0, e = 0; i < count; i++, e += ELEMENT_STRIDE) {
    const near = grid.nearElement(elements, e, reach, found)
    out.candidates += near
    for (let j = 0; j < near; j++) {
      const solid = found.items[j], place = placeOf[solid] - 1
      const isThere = place >= from && place < out.solids.count && out.solids.items[place] === solid
      const distance = elementDistance(elements, e, solids, solid, isThere ? Math.min(reach, out.solidMm[place] + OUTER_RADIUS_MM) : reach, answer)
      if (!(distance < reach)) continue
      const clearance = distance - OUTER_RADIUS_MM
      if (clearance < least) least = clearance
      if (isThere) {
        if (clearance < out.solidMm[place]) out.solidMm[place] = clearance
        continue
      }
      if (out.solids.count === out.solidMm.length) out.solidMm = longer(out.solidMm)
      out.solidMm[out.solids.count] = clearance
      out.runs.push(run)
      out.solids.push(solid)
      placeOf[solid] = out.solids.count
    }
  }
  out.leastMm[run] = least
}

function runToRuns({ curves, curveIndex, placeOf }: Indexed, run: number, { elements, count }: Centreline, out: Pairs, onlyLater: boolean): void {
  const reach = 2 * OUTER_RADIUS_MM + NEAR_MM
  const from = out.second.count
  for (let i = 0, e = 0; i < count; i++, e += ELEMENT_STRIDE) {
    const near = curveIndex.nearElement(elements, e, reach, found)
    for (let j = 0; j < near; j++) {
      const entry = found.items[j], other = curveIndex.curveOf[entry]
      if (other === run || (onlyLater && other < run)) continue
      const place = placeOf[other] - 1
      const isThere = place >= from && place < out.second.count && out.second.items[place] === other
      const cutoff = isThere ? Math.min(reach, out.runMm[place] + 2 * OUTER_RADIUS_MM) : reach
      const distance = elementsDistance(elements, e, curves[other].elements, curveIndex.elementOf[entry], cutoff, pairAnswer)
      if (!(distance < reach)) continue
      const clearance = distance - 2 * OUTER_RADIUS_MM
      if (isThere) {
        if (clearance < out.runMm[place]) out.runMm[place] = clearance
        continue
      }
      if (out.second.count === out.runMm.length) out.runMm = longer(out.runMm)
      out.runMm[out.second.count] = clearance
      out.first.push(run)
      out.second.push(other)
      placeOf[other] = out.second.count
    }
  }
}

function longer(list: Float64Array): Float64Array<ArrayBuffer> {
  const twice = new Float64Array(2 * list.length)
  twice.set(list)
  return twice
}
