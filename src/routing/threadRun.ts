/**
 * A run laid through what the user clicked: waypoints that hold the duct's bends, the straight wanted at its spigots and the
 * clearances of the gates, with few corners. Every course that is tried is judged by the job's own checks; the best is given
 * back with all that is wrong with it, so that a bad choice is drawn and explained rather than refused. Nothing in the job changes.
 */
import type { PlacedRun, PlacedSleeve, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot, placeRun } from '#assembly/runs.ts'
import { checkRun, crossingsOf } from '#checks/index.ts'
import { withOneMore, withRun, type CheckContext } from '#checks/context.ts'
import type { Finding } from '#checks/finding.ts'
import { EDGE_STRIDE } from '#geometry/fit/opening.ts'
import type { DuctType, Run, RunEnd } from '#model/index.ts'
import { halfThicknessMm } from '#checks/openingUse.ts'
import { holePassage, joistPassage, type DuctAsked, type Gate, type JoistPassage, type Passage } from './threadGates.ts'
import { middleOf, withJoistsBetween } from './threadFill.ts'
import { mended } from './threadMend.ts'
import { squareThrough, type Choice } from './threadSquare.ts'
import { byOneLeg, withoutNeedlessCorners } from './threadStraighten.ts'
import { stringThrough, type Ending } from './threadString.ts'
import type { Bending } from './threadTurns.ts'
import { dot, minus, plus, turnOf, unit, type Vec } from './threadVector.ts'
import { explanationOf } from './threadWords.ts'

export type { Gate } from './threadGates.ts'

export interface ThreadAsk {
  readonly type: DuctType
  readonly from: RunEnd
  /** null while the run is unfinished */
  readonly to: RunEnd | null
  readonly gates: readonly Gate[]
  /** id of a run of the job that is being laid again; its present course is then not in the way */
  readonly runId?: string
}

export interface Threaded {
  readonly waypoints: Run['waypoints']
  /** the run as it would lie; null when there is nothing to draw */
  readonly placed: PlacedRun | null
  /** nothing must be mended */
  readonly ok: boolean
  /** what the checks say of it, worst first, advice included */
  readonly complaints: readonly Finding[]
  /** in words: openings too small, bends without room, then the notes */
  readonly explanation: readonly string[]
  /** the last of these words, which are no faults: openings taken on the way that were not clicked */
  readonly notes: readonly string[]
  /** openings passed that were not clicked */
  readonly takenOnTheWay: readonly { readonly joistId: string, readonly opening: number | null, readonly holeId: string | null }[]
}

/** A course tried, and how bad it is. */
export interface Tried { readonly points: readonly Vec[], readonly placed: PlacedRun, readonly findings: readonly Finding[], readonly missed: readonly JoistPassage[], readonly badness: number }
export type Try = (points: readonly Vec[]) => Tried

const ROOM_SHARES = [0.5, 0.25, 0.8, 0]
const CHOICES: readonly Choice[] = ['met', 'forward', 'backward']

export function threadRun(context: CheckContext, ask: ThreadAsk): Threaded {
  const { type } = ask
  const missing: string[] = []
  const start = endOf(context, ask.from), finish = ask.to === null ? null : endOf(context, ask.to)
  if (start === null || finish === null && ask.to !== null) return nothing(`The job has no ${wordsOf(start === null ? ask.from : ask.to!)}.`)
  const duct: DuctAsked = {
    outerRadiusMm: type.outerDiameterMm / 2 + type.insulationMm,
    runIndex: ask.runId === undefined ? -1 : context.runs.findIndex(({ placed }) => placed.run.id === ask.runId),
  }
  const clicked = ask.gates.flatMap((gate) => passageOf(context, duct, gate) ?? (missing.push(`There is no ${gateWords(context, gate)}; it is left out.`), []))
  const first = clicked.length > 0 ? middleOf(clicked[0]) : finish?.at ?? null, last = clicked.length > 0 ? middleOf(clicked[clicked.length - 1]) : start.at
  const from = endingOf(context, type, start, first), to = finish === null ? null : endingOf(context, type, finish, last)
  const bending = bendingOf(type), usualMm = bending.kind === 'free' ? bending.radiusMm : Math.min(...bending.fittings.map(({ radiusMm }) => radiusMm))
  const filled = withJoistsBetween(context, duct, from, to, clicked, usualMm)
  const { passages } = filled

  const attempt = attemptOf(context, ask, duct, start, finish, passages)
  const best = bestCourse(attempt, from, to, passages, bending, usualMm)
  return {
    waypoints: best.placed.run.waypoints, placed: best.placed,
    ok: best.missed.length === 0 && best.findings.every(({ severity }) => severity === 'advice'), complaints: best.findings,
    explanation: [...missing, ...filled.barred, ...explanationOf(context, best, passages, type), ...filled.notes], notes: filled.notes,
    takenOnTheWay: passages.filter((passage): passage is JoistPassage => passage.kind === 'joist' && passage.onTheWay)
      .map(({ joist, openingNumber, holeId }) => ({ joistId: joist.id, opening: openingNumber, holeId })),
  }
}

function bestCourse(attempt: Try, from: Ending, to: Ending | null, passages: readonly Passage[], bending: Bending, usualMm: number): Tried {
  const strung = ROOM_SHARES.map((share) => stringThrough(from, to, passages, usualMm, share))
  let best: Tried | null = null
  const offer = (points: readonly Vec[] | null): boolean => {
    if (points === null || points.length < 2) return false
    const tried = attempt(to === null ? withItsEndThrough(points, passages) : points)
    if (best === null || tried.badness < best.badness) best = tried
    return best.badness === 0
  }
  const square = (): boolean => CHOICES.map((choice) => squareThrough(from, to, passages, strung[0].met, bending, choice, usualMm))
    .filter((points) => points !== null).sort((a, b) => a.length - b.length).some(offer)
  const taut = (): boolean => strung.map(({ points }, i) => ({ points, i })).sort((a, b) => a.points.length - b.points.length || a.i - b.i).some(({ points }) => offer(points))
  const direct = (): boolean => offer(byOneLeg(from, to, passages, usualMm))
  const isDone = bending.kind === 'free' ? direct() || taut() || square() : square() || taut()
  if (bending.kind === 'fittings') return best!
  const clear = isDone ? best! : mended(attempt, best!)
  return clear.badness === 0 ? withoutNeedlessCorners(attempt, clear, passages) : clear
}

/** An unfinished run is drawn right through the last joist that it passes. */
function withItsEndThrough(points: readonly Vec[], passages: readonly Passage[]): readonly Vec[] {
  const passage = passages[passages.length - 1]
  if (passage?.kind !== 'joist') return points
  const last = points[points.length - 1], way = unit(minus(last, points[points.length - 2]))
  const across = Math.abs(dot(way, passage.joist.across))
  const offMm = Math.abs(dot(minus(last, passage.joist.origin), passage.joist.across))
  return offMm > 1 ? points : [...points.slice(0, -1), plus(last, way, (halfThicknessMm(passage.joist) + passage.outerRadiusMm) / Math.max(across, 0.3))]
}

/** Faults of the ends that no course could cure: they are reported, but do not steer the search. */
const NOT_OF_THE_COURSE: ReadonlySet<Finding['code']> = new Set<Finding['code']>(['spigot-size', 'spigot-used-twice'])

function attemptOf(context: CheckContext, { type, from, to, runId }: ThreadAsk, { runIndex }: DuctAsked, start: PlacedRun['from'], finish: PlacedRun['to'] | null, passages: readonly Passage[]): Try {
  const old = runIndex < 0 ? null : context.runs[runIndex].placed.run
  return (all) => {
    const points = withoutStraightOn(all)
    const waypoints: Run['waypoints'] = points.map((at) => ({ at: [at[0], at[1], at[2]] }))
    const loose = looseEnd(points)
    const run: Run = old === null
      ? { id: (runId ?? 'new-run') as Run['id'], name: 'This run', type: type.id, from, to: to ?? { sleeve: loose.sleeve.id }, waypoints, note: '' }
      : { ...old, type: type.id, from, to: to ?? { sleeve: loose.sleeve.id }, waypoints }
    const placed = placeRun(run, type, start, finish ?? loose)
    const tried = runIndex < 0 ? withOneMore(context, placed) : withRun(context, runIndex, placed)
    const index = runIndex < 0 ? context.runs.length : runIndex
    const findings = checkRun(tried, index), missed = missedBy(tried, index, passages)
    return { points, placed, findings, missed, badness: badnessOf(findings) + MISSED_GATE * missed.length }
  }
}

/** A gate that was asked for and is not passed is as bad as a fault that cannot be built. */
const MISSED_GATE = 150

function missedBy(context: CheckContext, runIndex: number, passages: readonly Passage[]): JoistPassage[] {
  const crossings = crossingsOf(context, runIndex)
  return passages.filter((passage): passage is JoistPassage => passage.kind === 'joist' && !crossings.some((crossing) => crossing.joistIndex === passage.joistIndex
    && (passage.holeId === null ? holdsPoint(passage, crossing.x, crossing.y) : crossing.hole === passage.holeId)))
}

/** Openings beside a free end of a web overlap: the point may lie in several. */
function holdsPoint({ opening: { edges, edgeCount } }: JoistPassage, x: number, y: number): boolean {
  for (let e = 0; e < edgeCount * EDGE_STRIDE; e += EDGE_STRIDE) if (edges[e] * x + edges[e + 1] * y > edges[e + 2]) return false
  return true
}

/** Turns below this are the rounding of a course, rad. */
const NO_TURN_RAD = 1e-4

function withoutStraightOn(points: readonly Vec[]): Vec[] {
  const left: Vec[] = []
  points.forEach((at, i) => {
    const before = left[left.length - 1], after = points[i + 1]
    if (before === undefined || after === undefined || turnOf(minus(at, before), minus(after, at)) > NO_TURN_RAD) left.push(at)
  })
  return left
}

function badnessOf(findings: readonly Finding[]): number {
  return findings.reduce((sum, { code, severity, measured, required }) => {
    if (severity === 'advice' || NOT_OF_THE_COURSE.has(code)) return sum
    return sum + (severity === 'stop' ? 100 : 30) + Math.min(100, Math.abs(required - measured))
  }, 0)
}

/** What an unfinished run ends in: nothing, where it is. */
function looseEnd(points: readonly Vec[]): PlacedSleeve {
  const at = points[points.length - 1], axis = unit(minus(at, points[points.length - 2]))
  const sleeve = { id: 'no-end', name: 'its open end', at: [...at], axis: [...axis], diameterMm: 1, lengthMm: 1, through: [] } as unknown as PlacedSleeve['sleeve']
  return { sleeve, at, axis, hosts: [] }
}

function endOf({ assembly }: CheckContext, end: RunEnd): PlacedSpigot | PlacedSleeve | null {
  return ('sleeve' in end ? assembly.sleeves.find(({ sleeve }) => sleeve.id === end.sleeve)
    : assembly.spigots.find(({ equipment, spigot }) => equipment.id === end.equipment && spigot.id === end.spigot)) ?? null
}

function endingOf({ assembly }: CheckContext, type: DuctType, end: PlacedSpigot | PlacedSleeve, target: Vec | null): Ending {
  if (isSpigot(end)) {
    const { unitDiameters, otherDiameters } = assembly.job.settings.straightAtSpigot
    return { at: end.at, axis: end.axis, straightMm: (end.equipment.kind === 'unit' ? unitDiameters : otherDiameters) * type.outerDiameterMm + STRAIGHT_SPARE_MM }
  }
  const isBehind = target !== null && dot(minus(target, end.at), end.axis) < 0
  return { at: end.at, axis: isBehind ? [-end.axis[0], -end.axis[1], -end.axis[2]] : end.axis, straightMm: end.sleeve.lengthMm / 2 + STRAIGHT_SPARE_MM }
}

/** A little more straight than is asked, so that rounding of a coordinate does not eat it. */
const STRAIGHT_SPARE_MM = 0.5

function passageOf(context: CheckContext, duct: DuctAsked, gate: Gate): Passage | null {
  switch (gate.kind) {
    case 'point': return { kind: 'point', at: gate.at, name: 'the place clicked' }
    case 'hole': return holePassage(context, duct, gate.holeId)
    case 'opening': {
      const joistIndex = context.assembly.joists.findIndex(({ id }) => id === gate.joistId)
      return joistIndex < 0 ? null : joistPassage(context, duct, joistIndex, gate.opening, false)
    }
  }
}

function bendingOf(type: DuctType): Bending {
  if (type.kind === 'semi-rigid') return { kind: 'free', radiusMm: type.minBendRadiusMm }
  // where two fittings turn alike a waypoint gets the first of them
  return { kind: 'fittings', fittings: type.fittings.filter(({ angleDeg }, i, all) => all.findIndex((other) => other.angleDeg === angleDeg) === i) }
}

function gateWords({ assembly }: CheckContext, gate: Gate): string {
  if (gate.kind === 'point') return 'such place'
  if (gate.kind === 'hole') return `hole ${gate.holeId}`
  return `opening ${gate.opening} in ${assembly.joists.find(({ id }) => id === gate.joistId)?.name ?? `joist ${gate.joistId}`}`
}

function wordsOf(end: RunEnd): string {
  return 'sleeve' in end ? `sleeve ${end.sleeve}` : `spigot ${end.spigot} on ${end.equipment}`
}

function nothing(why: string): Threaded {
  return { waypoints: [], placed: null, ok: false, complaints: [], explanation: [why], notes: [], takenOnTheWay: [] }
}
