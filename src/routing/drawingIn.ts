/**
 * From which of its ends a bendable duct can be drawn in. It comes from the room below and has to turn into its first leg
 * before its first bend starts; and of two ends that allow it, the one from which it goes with less force is the better.
 */
import type { PlacedRun } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { endOf, startOf } from '#checks/bends.ts'
import type { CheckContext } from '#checks/context.ts'
import type { PartRef } from '#checks/finding.ts'
import { solidRef } from '#checks/refs.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE, curveClearance } from '#geometry/clearance/index.ts'
import { ARC, ELEMENT_STRIDE, END_X, KIND, LENGTH, START_X, TURN } from '#geometry/curve/centreline.ts'
import { directionAt, pointAt } from '#geometry/curve/measure.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { plus, turnOf, type Vec } from './threadVector.ts'

export interface DrawingEnd {
  readonly end: 'from' | 'to'
  /** 'free'; 'first-bend': too little straight between the end and its first bend; 'no-room': something stands where the duct would have to come up */
  readonly verdict: 'free' | 'first-bend' | 'no-room'
  /** straight duct between the end and the first bend, mm */
  readonly straightMm: number
  /** straight that the duct takes to turn up into the first leg, at its least bend radius, mm */
  readonly neededMm: number
  /** what is in the way; null when nothing is, or no place was tried */
  readonly blockedBy: PartRef | null
  /** force at the duct's head when it arrives, as a length of duct that weighs as much, mm: to compare the two ends with */
  readonly pullMm: number
}

/** Friction of plastic duct on timber and on itself, assumed; it decides between two ends only. */
const FRICTION = 0.4
/** What the coil and the hand that feeds it hold back, as a length of duct, mm: assumed. */
const HELD_BACK_MM = 1000
/** How far below the end of the run the duct must hang free, mm. */
const HANGS_MM = 600
/** Places tried for the turn are this far apart, mm. */
const STEP_MM = 50
/** A first leg nearer to upright than this needs no turn in front of its spigot: the end hangs beside it until it is pushed on, rad. */
const NEARLY_UPRIGHT_RAD = Math.PI / 4

export function drawingEnd(context: CheckContext, runIndex: number, end: 'from' | 'to'): DrawingEnd {
  const { placed } = context.runs[runIndex]
  const { centreline, bends, type } = placed
  const { lengthMm } = centreline
  const straightMm = bends.length === 0 ? lengthMm : Math.max(0, end === 'from' ? startOf(bends[0]) : lengthMm - endOf(bends[bends.length - 1]))
  const radiusMm = type.kind === 'semi-rigid' ? type.minBendRadiusMm : 0
  const stationMm = end === 'from' ? 0 : lengthMm
  const at: [number, number, number] = [0, 0, 0], way: [number, number, number] = [0, 0, 0]
  pointAt(centreline, stationMm, at)
  directionAt(centreline, stationMm, way)
  const inward: Vec = end === 'from' ? way : [-way[0], -way[1], -way[2]]
  const turnRad = turnOf([0, 0, 1], inward)
  const common = { end, straightMm, pullMm: pullFrom(placed, end) }
  // through a sleeve it comes from outside, in line; up into a spigot that looks down it comes as it will lie
  if (!isSpigot(placed[end]) || turnRad < NEARLY_UPRIGHT_RAD) return { ...common, verdict: 'free', neededMm: 0, blockedBy: null }
  const neededMm = radiusMm * Math.tan(Math.min(turnRad, 0.99 * Math.PI) / 2)
  if (neededMm > straightMm) return { ...common, verdict: 'first-bend', neededMm, blockedBy: null }
  let blockedBy: PartRef | null = null
  for (let cornerMm = 0; cornerMm <= straightMm - neededMm; cornerMm += STEP_MM) {
    const corner = plus(at, inward, cornerMm), below: Vec = [corner[0], corner[1], corner[2] - Math.max(HANGS_MM, neededMm)]
    const { centreline: feed } = centrelineThrough([...below, ...corner, ...plus(corner, inward, neededMm)], [0, radiusMm, 0])
    const meets = firstMet(context, feed, placed.outerRadiusMm)
    if (meets === null) return { ...common, verdict: 'free', neededMm, blockedBy: null }
    blockedBy ??= meets
  }
  return { ...common, verdict: 'no-room', neededMm, blockedBy }
}

const found = new IndexList(), answer = new Float64Array(ANSWER_SIZE)

function firstMet(context: CheckContext, curve: PlacedRun['centreline'], outerRadiusMm: number): PartRef | null {
  const { assembly, grid, isSound } = context
  let least = 0, which = -1
  for (let e = 0; e < curve.count * ELEMENT_STRIDE; e += ELEMENT_STRIDE) {
    grid.nearElement(curve.elements, e, outerRadiusMm, found)
    for (let k = 0; k < found.count; k++) {
      const solidIndex = found.items[k]
      if (isSound[solidIndex] === 0) continue
      const clearanceMm = curveClearance(curve, outerRadiusMm, assembly.solids, solidIndex, 0, answer)
      if (!(clearanceMm < least)) continue
      least = clearanceMm
      which = solidIndex
    }
  }
  return which < 0 ? null : solidRef(assembly, which)
}

/**
 * Straight duct drags by its weight on what it lies on, and a bend multiplies what comes into it by e^(friction x turn): the belt
 * equation of Euler and Eytelwein. So bends cost least early on.
 */
function pullFrom({ centreline: { elements, count } }: PlacedRun, end: 'from' | 'to'): number {
  let pull = HELD_BACK_MM
  for (let k = 0; k < count; k++) {
    const e = (end === 'from' ? k : count - 1 - k) * ELEMENT_STRIDE
    const level = Math.hypot(elements[e + END_X] - elements[e + START_X], elements[e + END_X + 1] - elements[e + START_X + 1])
    if (elements[e + KIND] === ARC) pull *= Math.exp(FRICTION * elements[e + TURN])
    pull += FRICTION * Math.min(level, elements[e + LENGTH])
  }
  return pull
}
