/**
 * Lays a job's open rigid runs, each by the cheapest course of listed fittings beside the others. Those whose cheapest courses get in
 * each other's way are laid one after another, in several orders; of those the one that lays most, and then costs least, is taken.
 */
import { placeRun } from '#assembly/runs.ts'
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import { withOneMore } from '#checks/context.ts'
import { checkRun, contextFor, crossingsOf, type CheckContext } from '#checks/index.ts'
import { SAME_SIZE_MM } from '#checks/connections.ts'
import { isSpigot } from '#assembly/runs.ts'
import { straightRun } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE, END_X, START_X } from '#geometry/curve/centreline.ts'
import { dot, minus, plus, unit, type Vec } from '../threadVector.ts'
import { RouteSpace, type Prices } from './laying.ts'
import type { Work } from './negotiate.ts'
import { planCrossings } from './planCrossings.ts'
import { waypointsOf, type RigidCourse } from './rigidCourse.ts'
import { RigidPlanes } from './rigidPlanes.ts'
import { RigidRoom, type StandingDuct } from './rigidRoom.ts'
import { withoutDetours } from './rigidShortcut.ts'
import { tightened } from './rigidTighten.ts'
import { rigidWay, SPELL, type RigidAsk, type RigidBudget } from './rigidWay.ts'
import { elbowsOf, rigidWays, type RigidType } from './rigidWays.ts'
import { bayGroups, type BayGroup } from './routeSpace.ts'
import { outerRadiusMm, wayEnd } from './wayEnds.ts'
import type { WayEnd } from './wayPlan.ts'

/** In haste until something is found, then for a cheaper one. */
const TRIES: readonly (readonly [haste: number, steps: number])[] = [[1.5, 800], [1.2, 2500]]
/** where they find none */
const HARD_TRIES: readonly (readonly [haste: number, steps: number])[] = [[1.6, 5000], [2.5, 5000], [1.6, 40_000]]
/** no order is begun after so many steps */
const MOST_ORDER_STEPS = 60_000
const USUAL_ORDERS = 4, MOST_ORDERS = 12
/** so many corners looked at here take as long as one elsewhere */
const STEPS_OF_ONE = 3

interface Laid { readonly placed: PlacedRun, readonly cost: number }

/** @param asked every run that is to be laid, of all kinds; @param standing what stays as it is */
export function layRigid(assembly: Assembly, asked: readonly PlacedRun[], standing: readonly PlacedRun[], prices: Prices, work: Work): PlacedRun[] {
  const rigid = asked.filter(({ type, from, to }) => type.kind === 'rigid' && [from, to].every((end) => !isSpigot(end) || Math.abs(end.spigot.diameterMm - type.outerDiameterMm) <= SAME_SIZE_MM))
  if (rigid.length === 0) return []
  const bare = contextFor({ ...assembly, runs: standing })
  let own: RouteSpace | null = null
  const space = (): RouteSpace => own ??= new RouteSpace(bare, prices)
  const lay = (placed: PlacedRun, beside: CheckContext): Laid | null => layOne(placed, beside, asked.filter((other) => other.run.id !== placed.run.id && beside.assembly.runs.every(({ run }) => run.id !== other.run.id)), prices, work, space)
  const alone = rigid.map((placed) => lay(placed, bare))
  const isTogether = alone.map((one, i) => one !== null && alone.every((other, j) => i === j || other === null || checkRun(withOneMore(withOneMore(bare, other.placed), one.placed), bare.runs.length + 1).every(({ severity }) => severity === 'advice')))
  let best = new Map(rigid.flatMap((placed, i) => isTogether[i] ? [[placed, alone[i]!] as const] : []))
  const possible = alone.filter((one) => one !== null).length
  if (best.size === possible) return [...best.values()].map(({ placed }) => placed)
  // the longest first; then those that went short in front
  let order = rigid.map((_, i) => i).filter((i) => alone[i] !== null).sort((a, b) => alone[b]!.cost - alone[a]!.cost || a - b)
  const seen = new Set<string>()
  for (let k = 0; k < (best.size < possible ? MOST_ORDERS : USUAL_ORDERS) && !seen.has(order.join()) && !work.isOver && work.done < MOST_ORDER_STEPS; k++) {
    seen.add(order.join())
    const laid = new Map<PlacedRun, Laid>()
    let context = bare, shortest = order[0], mostMm = -1
    for (const i of order) {
      const one = lay(rigid[i], context), lackMm = one === null ? Infinity : one.cost - alone[i]!.cost
      if (lackMm > mostMm) [shortest, mostMm] = [i, lackMm]
      if (one === null) continue
      laid.set(rigid[i], one)
      context = withOneMore(context, one.placed)
    }
    if (laid.size > best.size || laid.size === best.size && costOf(laid) < costOf(best)) best = laid
    if (mostMm < 1) break
    order = [shortest, ...order.filter((i) => i !== shortest)]
  }
  // once more, each beside all the others
  for (const placed of rigid) {
    const one = best.get(placed)
    if (one === undefined || work.isOver) continue
    const context = [...best.values()].reduce((beside, other) => other === one ? beside : withOneMore(beside, other.placed), bare)
    best.set(placed, lay(one.placed, context) ?? one)
  }
  return [...best.values()].map(({ placed }) => placed)
}

function costOf(laid: ReadonlyMap<PlacedRun, Laid>): number {
  return [...laid.values()].reduce((sum, { cost }) => sum + cost, 0)
}

/** @param later runs that are laid after it: the straight out of their spigots is left to them where that can be */
function layOne(placed: PlacedRun, context: CheckContext, later: readonly PlacedRun[], prices: Prices, work: Work, space: () => RouteSpace): Laid | null {
  const cost = judgedAs(context, placed, prices), present: Laid = { placed, cost }
  const standing = context.runs.map(({ placed: { centreline, outerRadiusMm: radiusMm } }): StandingDuct => ({ curve: centreline, radiusMm }))
  const kept = later.flatMap((run) => stubsOf(context, run))
  let best = cost === Infinity ? null : present
  for (const ducts of kept.length > 0 ? [[...standing, ...kept], standing] : [standing]) {
    for (const asks of rigidAsks(context, placed, ducts, prices)) {
      for (const [i, { asRun, ...ask }] of asks.entries()) {
        const found = cheapest(ask, best?.cost ?? Infinity, work, ducts === standing ? HARD_TRIES : HARD_TRIES.slice(0, 1), () => guessFor(space(), i, ask))
        if (found === null) continue
        const course = tightened(withoutDetours(found, ask), ask.room, ask.from, ask.to, ask.judged), worth = ask.judged(course)
        if (best === null || worth < best.cost) best = { placed: asRun(course), cost: worth }
      }
      if (best !== null && best !== present) break
    }
    if (best !== null) break
  }
  return best
}

/** Length and prices of a run beside the others, mm; Infinity where the checks find something to put right. */
function judgedAs(context: CheckContext, placed: PlacedRun, { bendMm, openingMm, crossingMm }: Prices): number {
  const tried = withOneMore(context, placed), index = context.runs.length
  if (checkRun(tried, index).some(({ severity }) => severity !== 'advice')) return Infinity
  const openings = crossingsOf(tried, index).filter(({ opening, hole }) => opening !== null || hole !== null).length
  return placed.centreline.lengthMm + bendMm * placed.bends.length + openingMm * openings + crossingMm * planCrossings([placed], context.assembly.runs).length
}

/** What is searched for one run: for each pair of ways out of its ends, in each group of bays. */
export function rigidAsks(context: CheckContext, placed: PlacedRun, ducts: readonly StandingDuct[], prices: Prices): (RigidAsk & { readonly asRun: (course: RigidCourse) => PlacedRun })[][] {
  const type = placed.type as RigidType, radiusMm = outerRadiusMm(type), { offDeg } = context.assembly.job.settings.connection
  return endsOf(context, placed).map((ends) => {
    // an upright end is met from more sides: it is searched for, not from
    const isReversed = Math.abs(ends[0].axis[2]) > Math.abs(ends[1].axis[2]) + 0.1, [from, to] = isReversed ? [ends[1], ends[0]] : ends
    const asRun = ({ points, elbows }: RigidCourse): PlacedRun => placeRun({
      ...placed.run, waypoints: waypointsOf(isReversed ? { points: points.toReversed(), elbows: elbows.toReversed() } : { points, elbows }),
    }, type, placed.from, placed.to)
    return groupsOf(context, from, to).map((group) => ({
      from, to, prices, offDeg, asRun, judged: (course) => judgedAs(context, asRun(course), prices),
      room: new RigidRoom(context, radiusMm, from, to, ducts), crossed: crossedBy(context),
      ways: rigidWays(type, [group.along, group.across, [0, 0, 1]], from.axis, [-to.axis[0], -to.axis[1], -to.axis[2]]),
      planes: new RigidPlanes({ from, to, context, group, radiusMm, elbows: elbowsOf(type), ducts }),
    }))
  })
}

function cheapest(ask: RigidAsk, mostCost: number, work: Work, hardTries: typeof HARD_TRIES, guessed: () => RigidBudget['guess']): RigidCourse | null {
  const straight: RigidCourse = { points: [ask.from.at, ask.to.at], elbows: [] }
  if (isStraightOn(ask) && ask.judged(straight) < mostCost) return straight
  let best: RigidCourse | null = null, cost = mostCost
  const search = (haste: number, mostSteps: number, guess?: RigidBudget['guess']): boolean => {
    const found = rigidWay(ask, {
      haste, mostSteps, mostCost: cost, guess,
      mayGoOn: (steps) => {
        work.add(steps / STEPS_OF_ONE)
        return !work.isOver
      },
    })
    work.add(Math.ceil(found.steps % SPELL / STEPS_OF_ONE))
    if (found.course !== null) [best, cost] = [found.course, found.cost]
    return found.isWhole || work.isOver
  }
  if (TRIES.some(([haste, steps]) => search(haste, steps)) || cost < Infinity) return best
  const guess = guessed()
  hardTries.some(([haste, steps]) => search(haste, steps, guess) || best !== null)
  return best
}

/** The coarse grid that steers semi-rigid runs through joists, for where the straight way tells too little. */
function guessFor(space: RouteSpace, groupIndex: number, { from, to, room, ways }: RigidAsk): RigidBudget['guess'] {
  const bendRadiusMm = Math.min(...ways.elbows.map(({ radiusMm }) => radiusMm))
  const { group, field } = space.plansFor({ from, to, radiusMm: room.radiusMm, bendRadiusMm }, false)[groupIndex]
  if (field === null) return undefined
  return (at) => {
    const [x, y] = minus(at, group.origin)
    return field.costAt(x * group.along[0] + y * group.along[1], x * group.across[0] + y * group.across[1], at[2])
  }
}

/** Two spigots that look at each other, as nearly as the job lets an end be askew. */
function isStraightOn({ from, to, offDeg }: RigidAsk): boolean {
  const way = unit(minus(to.at, from.at)), leastCos = Math.cos(offDeg * Math.PI / 180) - 1e-12
  return dot(way, from.axis) >= leastCos && -dot(way, to.axis) >= leastCos
}

/** A run may leave a sleeve either way: towards the other end first. */
function endsOf(context: CheckContext, { type, from, to }: PlacedRun): (readonly [WayEnd, WayEnd])[] {
  const both = (end: PlacedRun['from'], towards: Vec): WayEnd[] => {
    const first = wayEnd(context, type, end, towards)
    // rounds, not ends, say what may be touched in a sleeve
    return isSpigot(end) ? [first] : [1, -1].map((way) => ({ ...first, axis: [way * first.axis[0], way * first.axis[1], way * first.axis[2]], zoneMm: 0, exempt: new Set<number>() }))
  }
  return both(from, to.at).flatMap((a) => both(to, from.at).map((b) => [a, b] as const))
}

function groupsOf(context: CheckContext, from: WayEnd, to: WayEnd): BayGroup[] {
  const groups = bayGroups(context)
  if (groups.length > 0) return groups
  const level = [from.axis, to.axis, minus(to.at, from.at)].map(([x, y]) => unit([x, y, 0])).find((way) => Math.hypot(...way) > 0.5) ?? [1, 0, 0]
  return [{ along: level, across: [-level[1], level[0], 0], origin: from.at, lines: [], u0: -Infinity, u1: Infinity }]
}

/** The straight duct that a run has out of each of its spigots whatever its course. */
function stubsOf(context: CheckContext, { type, from, to }: PlacedRun): StandingDuct[] {
  return [wayEnd(context, type, from, to.at), wayEnd(context, type, to, from.at)].map(({ at, axis, straightMm }) => ({
    curve: straightRun(at, plus(at, axis, straightMm + (type.kind === 'rigid' ? Math.min(...type.fittings.map(({ insertionMm }) => insertionMm)) : type.minBendRadiusMm / 2))), radiusMm: outerRadiusMm(type),
  }))
}

function crossedBy({ runs }: CheckContext): RigidAsk['crossed'] {
  const pieces = runs.flatMap(({ placed: { centreline: { elements, count } } }) => Array.from({ length: count }, (_, i) => i * ELEMENT_STRIDE).map((e) => [elements[e + START_X], elements[e + START_X + 1], elements[e + END_X], elements[e + END_X + 1]]))
  return (a, b) => pieces.reduce((count, [px, py, qx, qy]) => {
    const ux = b[0] - a[0], uy = b[1] - a[1], wx = qx - px, wy = qy - py, sine = ux * wy - uy * wx
    if (Math.abs(sine) < 1e-9) return count
    const s = ((px - a[0]) * wy - (py - a[1]) * wx) / sine, t = ((px - a[0]) * uy - (py - a[1]) * ux) / sine
    return s >= 0 && s < 1 && t >= 0 && t < 1 ? count + 1 : count
  }, 0)
}
