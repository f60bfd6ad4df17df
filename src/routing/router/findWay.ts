/**
 * One run's way through the void: a search over corners in bays, joined by straight legs that pass any number of joists:
 * A* over length, a price for each bend and what it costs to come too near to other runs. A leg is only asked of
 * the exact kernels when its turn comes. What is found nearly fits: `settle` makes it fit exactly.
 */
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import type { Vec } from '../threadVector.ts'
import { writeBend } from './ductRoom.ts'
import type { OtherDucts } from './otherDucts.ts'
import { bayAt, bayMiddleMm, baySideMm, passesLine, type BayGroup } from './routeSpace.ts'
import { WayHeap } from './wayHeap.ts'
import { WayNodes } from './wayNodes.ts'
import type { WayPlan } from './wayPlan.ts'

export interface WayAsk {
  readonly others: OtherDucts
  /** what it costs to go right through another duct, mm of length */
  readonly throughMm: number
  readonly mostSteps: number
  /** more than 1: a little longer ways are found sooner */
  readonly haste: number
  /** so much clearance may be missing */
  readonly slackMm: number
}

export interface Way { readonly points: readonly Vec[], readonly cost: number }
/** 'none': every way there is on these corners was looked at. */
export type WayFound = { readonly kind: 'found', readonly way: Way, readonly steps: number } | { readonly kind: 'none' | 'out-of-budget', readonly steps: number }

/** Slants of legs across the joists, mm along for each mm across. */
const SLANTS: readonly number[] = Array.from({ length: 51 }, (_, i) => Math.tan((i - 25) * 2.4 * Math.PI / 180))
/** and up */
const TILTS = [0, 0.08, -0.08]
/** corners in a bay: from its middle, as a share of what the duct has to each side */
const LANES = [0, -0.8, 0.8]
/** Legs that end sooner than this are none, mm. */
const LEAST_LEG_MM = 60
const MOST_TURN_COS = Math.cos(125 * Math.PI / 180)
const STRAIGHT_ON_COS = Math.cos(1.5 * Math.PI / 180)

const nodes = new WayNodes()
const heap = new WayHeap(), goals = new WayHeap()
const element = new Float64Array(ELEMENT_STRIDE)

export function findWay(plan: WayPlan, { others, throughMm, mostSteps, haste, slackMm }: WayAsk): WayFound {
  const { group, levels, from, to, bendRadiusMm, room, bendPriceMm, openingPriceMm, startStops, goalStops, cells, field } = plan
  const { lines, along, across, origin } = group
  const r = room.radiusMm
  const toFrame = ([x, y, z]: Vec): Vec => [(x - origin[0]) * along[0] + (y - origin[1]) * along[1], (x - origin[0]) * across[0] + (y - origin[1]) * across[1], z]
  const turnFrame = ([x, y, z]: Vec): Vec => [x * along[0] + y * along[1], x * across[0] + y * across[1], z]
  const siteX = (u: number, v: number): number => origin[0] + u * along[0] + v * across[0]
  const siteY = (u: number, v: number): number => origin[1] + u * along[1] + v * across[1]
  const start = toFrame(from.at), startAxis = turnFrame(from.axis), goal = toFrame(to.at), goalAxis = turnFrame(to.axis)
  const depth = depthOf(group), bothExempt = new Set([...from.exempt, ...to.exempt])
  let steps = 0
  if (startStops.length === 0 || goalStops.length === 0) return { kind: 'none', steps }
  const stopU = goalStops.map((t) => goal[0] + t * goalAxis[0]), stopV = goalStops.map((t) => goal[1] + t * goalAxis[1]), stopZ = goalStops.map((t) => goal[2] + t * goalAxis[2])
  const stopCost = new Float64Array(goalStops.length).fill(-1)
  const restMm = goalStops[0] + bendPriceMm
  const guessIn = (bay: number, u: number, v: number, z: number): number => {
    const crowMm = Math.sqrt((u - stopU[0]) ** 2 + (v - stopV[0]) ** 2 + (z - stopZ[0]) ** 2) + restMm
    return field === null ? crowMm : Math.max(crowMm, field.costIn(bay, u, z) - FIELD_ERROR_MM)
  }
  const guess = (u: number, v: number, z: number): number => guessIn(bayAt(group, v), u, v, z)

  // what is so much dearer than the cheapest beginning is no way
  let most = Infinity
  nodes.clear()
  heap.clear()
  goals.clear()
  const closed = new Map<number, number>()
  for (const t of startStops) {
    const u = start[0] + t * startAxis[0], v = start[1] + t * startAxis[1], z = start[2] + t * startAxis[2]
    const i = nodes.add(u, v, z, t + bendPriceMm, 0, -1, -1)
    heap.push(nodes.g[i] + haste * guess(u, v, z), i)
  }
  most = MOST_SHARE * heap.leastRank + 2 * throughMm + MOST_MORE_MM

  for (;;) {
    const isSpent = steps >= mostSteps
    if (isSpent && (goals.count === 0 || steps >= mostSteps + MOST_LAST_STEPS)) return { kind: heap.count === 0 && goals.count === 0 ? 'none' : 'out-of-budget', steps }
    // with nothing left to spend, what has come to the goal already must do
    const i = isSpent || goals.leastRank <= heap.leastRank ? goals.pop() : heap.pop()
    if (i < 0) return { kind: 'none', steps }
    steps++
    const isGoal = nodes.stop[i] >= 0
    if (nodes.isProved[i] === 0) {
      const extra = proveLeg(i)
      if (extra < 0) continue
      nodes.isProved[i] = 1
      if (extra > 0) {
        nodes.g[i] += extra
        if (isGoal) goals.push(nodes.g[i], i)
        else heap.push(nodes.g[i] + haste * guess(nodes.u[i], nodes.v[i], nodes.z[i]), i)
        continue
      }
    }
    if (isGoal) return { kind: 'found', way: { points: pointsTo(i), cost: nodes.g[i] }, steps }
    const key = keyOf(i), known = closed.get(key)
    if (known !== undefined && known <= nodes.g[i]) continue
    closed.set(key, nodes.g[i])
    expand(i)
  }

  /** What other ducts make the last leg to here cost, and the bend before it; below 0 where it does not pass. */
  function proveLeg(i: number): number {
    const p = nodes.before[i]
    const u = nodes.u[i], v = nodes.v[i], z = nodes.z[i]
    if (p < 0) {
      writeLeg(element, 0, from.at[0], from.at[1], from.at[2], siteX(u, v), siteY(u, v), z, 0)
      return others.costOf(element, 0, r, throughMm)
    }
    const pu = nodes.u[p], pv = nodes.v[p], pz = nodes.z[p], pp = nodes.before[p]
    let bu = u - pu, bv = v - pv, bz = z - pz
    const size = Math.sqrt(bu * bu + bv * bv + bz * bz), tangent = nodes.tangent[i]
    bu /= size
    bv /= size
    bz /= size
    let au = startAxis[0], av = startAxis[1], az = startAxis[2]
    if (pp >= 0) {
      au = pu - nodes.u[pp]
      av = pv - nodes.v[pp]
      az = pz - nodes.z[pp]
      const before = Math.sqrt(au * au + av * av + az * az)
      au /= before
      av /= before
      az /= before
    }
    const stop = nodes.stop[i]
    const exempt = pp >= 0 ? stop >= 0 ? to.exempt : null : stop >= 0 ? bothExempt : from.exempt
    const su = pu + tangent * bu, sv = pv + tangent * bv, endTangent = stop >= 0 ? tangentAt(bu, bv, bz, -goalAxis[0], -goalAxis[1], -goalAxis[2]) : 0
    const eu = u - endTangent * bu, ev = v - endTangent * bv, ez = z - endTangent * bz
    writeLeg(element, 0, siteX(su, sv), siteY(su, sv), pz + tangent * bz, siteX(eu, ev), siteY(eu, ev), ez, 0)
    if (!room.elementIsClear(element, 0, slackMm, exempt)) return -1
    let cost = others.costOf(element, 0, r, throughMm)
    if (writeBendAt(pu, pv, pz, au, av, az, bu, bv, bz, tangent)) {
      if (!room.elementIsClear(element, 0, slackMm, exempt)) return -1
      cost = Math.max(cost, others.costOf(element, 0, r, throughMm))
    }
    if (stop < 0) return cost
    if (writeBendAt(u, v, z, bu, bv, bz, -goalAxis[0], -goalAxis[1], -goalAxis[2], endTangent)) {
      if (!room.elementIsClear(element, 0, slackMm, exempt)) return -1
      cost = Math.max(cost, others.costOf(element, 0, r, throughMm))
    }
    if (stopCost[stop] < 0) {
      writeLeg(element, 0, siteX(u, v), siteY(u, v), z, to.at[0], to.at[1], to.at[2], 0)
      stopCost[stop] = others.costOf(element, 0, r, throughMm)
    }
    return cost + stopCost[stop]
  }

  function writeBendAt(u: number, v: number, z: number, au: number, av: number, az: number, bu: number, bv: number, bz: number, tangent: number): boolean {
    return writeBend(element, 0, siteX(u, v), siteY(u, v), z, au * along[0] + av * across[0], au * along[1] + av * across[1], az, bu * along[0] + bv * across[0], bu * along[1] + bv * across[1], bz, bendRadiusMm, tangent)
  }

  function tangentAt(au: number, av: number, az: number, bu: number, bv: number, bz: number): number {
    const k = Math.min(1, Math.max(-1, au * bu + av * bv + az * bz))
    return bendRadiusMm * Math.sqrt((1 - k) / (1 + k))
  }

  function expand(i: number): void {
    const u = nodes.u[i], v = nodes.v[i], z = nodes.z[i], g = nodes.g[i], p = nodes.before[i]
    let au = startAxis[0], av = startAxis[1], az = startAxis[2], freeMm: number
    if (p < 0) freeMm = Math.sqrt((u - start[0]) ** 2 + (v - start[1]) ** 2 + (z - start[2]) ** 2) - from.straightMm
    else {
      au = u - nodes.u[p]
      av = v - nodes.v[p]
      az = z - nodes.z[p]
      const size = Math.sqrt(au * au + av * av + az * az)
      au /= size
      av /= size
      az /= size
      freeMm = size - nodes.tangent[i]
    }
    const bay = bayAt(group, v)
    toStops(i, u, v, z, g, au, av, az, freeMm, bay)
    alongBay(i, u, v, z, g, au, av, az, freeMm, bay)
    throughJoists(i, u, v, z, g, au, av, az, freeMm, bay, 1)
    throughJoists(i, u, v, z, g, au, av, az, freeMm, bay, -1)
  }

  /** Adds a corner after corner i where the bend at i has room on both its legs. */
  function offer(i: number, g: number, u: number, v: number, z: number, tu: number, tv: number, tz: number, au: number, av: number, az: number, freeMm: number, openings: number, stop: number): void {
    let bu = tu - u, bv = tv - v, bz = tz - z
    const size = Math.sqrt(bu * bu + bv * bv + bz * bz)
    if (size < LEAST_LEG_MM) return
    bu /= size
    bv /= size
    bz /= size
    const k = au * bu + av * bv + az * bz
    if (k < MOST_TURN_COS || k > STRAIGHT_ON_COS) return
    // below or above the joists the void may not go on
    if (stop < 0 && (tz < depth[0] || tz > depth[1]) && !room.isInVoid(siteX(tu, tv), siteY(tu, tv), tz)) return
    const half = Math.sqrt((1 - k) / (1 + k)), tangent = bendRadiusMm * half
    if (tangent > freeMm || tangent > size) return
    let cost = g + size + 2 * bendRadiusMm * (Math.atan(half) - half) + openingPriceMm * openings + bendPriceMm
    if (stop >= 0) {
      const ek = -(bu * goalAxis[0] + bv * goalAxis[1] + bz * goalAxis[2])
      if (ek < MOST_TURN_COS) return
      const endHalf = Math.sqrt(Math.max(0, 1 - ek) / (1 + ek)), endTangent = bendRadiusMm * endHalf
      if (tangent + endTangent > size || endTangent > goalStops[stop] - to.straightMm) return
      cost += goalStops[stop] + 2 * bendRadiusMm * (Math.atan(endHalf) - endHalf)
      goals.push(cost, nodes.add(tu, tv, tz, cost, tangent, i, stop))
      return
    }
    const rank = cost + haste * guess(tu, tv, tz)
    if (rank <= most) heap.push(rank, nodes.add(tu, tv, tz, cost, tangent, i, stop))
  }

  function toStops(i: number, u: number, v: number, z: number, g: number, au: number, av: number, az: number, freeMm: number, bay: number): void {
    for (let j = 0; j < goalStops.length; j++) {
      const openings = passesAll(u, v, z, stopU[j], stopV[j], stopZ[j], bay)
      if (openings >= 0) offer(i, g, u, v, z, stopU[j], stopV[j], stopZ[j], au, av, az, freeMm, openings, j)
    }
  }

  /** How many lines of joists a straight leg passes; below 0 where one bars it. */
  function passesAll(u: number, v: number, z: number, tu: number, tv: number, tz: number, bay: number): number {
    const way = tv > v ? 1 : -1, last = bayAt(group, tv), dv = tv - v
    const su = (tu - u) / dv, sz = (tz - z) / dv
    let count = 0
    for (let b = bay; b !== last; b += way) {
      const line = lines[way > 0 ? b : b - 1], over = line.v - v
      if (!passesLine(line, u + su * over, z + sz * over, su, sz, r, slackMm)) return -1
      count++
    }
    return count
  }

  function alongBay(i: number, u: number, v: number, z: number, g: number, au: number, av: number, az: number, freeMm: number, bay: number): void {
    const middle = bayMiddleMm(group, bay), sideMm = Math.max(0, baySideMm(group, bay) - r - 3)
    for (const way of [1, -1]) {
      if (au * way < MOST_TURN_COS) continue
      const clearMm = clearAlong(u, v, z, way)
      let isBarred = false
      for (let far = 100, k = 0; far < FARTHEST_ALONG_MM; far += far < 1000 ? 50 : far < 3000 ? 100 : 200, k++) {
        const tu = Math.round((u + way * far) / 50) * 50
        if (tu < group.u0 - 400 || tu > group.u1 + 400) break
        const isClear = Math.abs(tu - u) <= clearMm
        if (isClear) offer(i, g, u, v, z, tu, v, z, au, av, az, freeMm, 0, -1)
        if (far < 250 || k % 3 !== 0 || !isClear && isBarred) continue
        if (cells === null || !cells.isBarred(bay, tu, tu, z)) {
          for (const lane of LANES) {
            const tv = middle + lane * sideMm
            if (Math.abs(tv - v) > 5) offer(i, g, u, v, z, tu, tv, z, au, av, az, freeMm, 0, -1)
          }
        } else isBarred = true
        for (const level of levels) {
          if (Math.abs(level - z) > 5 && Math.abs(level - z) < far && (cells === null || !cells.isBarred(bay, tu, tu, level))) offer(i, g, u, v, z, tu, v, level, au, av, az, freeMm, 0, -1)
        }
      }
    }
  }

  /** How far a duct may go along its bay as it lies, mm: to within a little. */
  function clearAlong(u: number, v: number, z: number, way: number): number {
    const isClear = (fromMm: number, toMm: number): boolean => room.legIsClear(siteX(u + way * fromMm, v), siteY(u + way * fromMm, v), z, siteX(u + way * toMm, v), siteY(u + way * toMm, v), z, slackMm, from.exempt)
    let low = 0
    for (let step = 1600; low < FARTHEST_ALONG_MM;) {
      if (isClear(low, low + step)) low += step
      else if (step <= 50) return low
      else step /= 2
    }
    return low
  }

  function throughJoists(i: number, u: number, v: number, z: number, g: number, au: number, av: number, az: number, freeMm: number, bay: number, way: 1 | -1): void {
    if (bay + way < 0 || bay + way > lines.length || guess(u, bayMiddleMm(group, bay + way), z) - guess(u, v, z) > FURTHER_MM + throughMm) return
    for (const slant of SLANTS) {
      const su = slant * way
      for (const tilt of TILTS) {
        const sz = tilt * way
        // the bend here is the same wherever the leg ends
        const stretch = Math.sqrt(1 + su * su + sz * sz), k = (au * su + av + az * sz) * way / stretch
        if (k < MOST_TURN_COS || k > STRAIGHT_ON_COS) continue
        const half = Math.sqrt((1 - k) / (1 + k)), tangent = bendRadiusMm * half, savedMm = 2 * bendRadiusMm * (Math.atan(half) - half)
        if (tangent > freeMm) continue
        for (let b = bay, count = 0; ; count++) {
          const lineIndex = way > 0 ? b : b - 1
          if (lineIndex < 0 || lineIndex >= lines.length) break
          const line = lines[lineIndex], over = line.v - v, lu = u + su * over, lz = z + sz * over
          if (lu < group.u0 - 400 || lu > group.u1 + 400 || lz < levels[0] - 1 || lz > levels[levels.length - 1] + 1) break
          if (!passesLine(line, lu, lz, su, sz, r, slackMm) || cells !== null && cells.isBarredBeyond(lineIndex, lu, lz)) break
          b += way
          const middle = bayMiddleMm(group, b), sideMm = Math.max(0, baySideMm(group, b) - r - 3), dm = middle - v
          if (cells !== null && (cells.isBarred(b - way, lu - su * way * OUTER_BAY_MM / 2, lu, lz) || cells.isBarred(b, lu, u + su * dm, z + sz * dm))) break
          for (const lane of LANES) {
            const dv = middle + lane * sideMm - v, sizeMm = Math.abs(dv) * stretch
            if (sizeMm < LEAST_LEG_MM || sizeMm < tangent) continue
            const tu = u + su * dv, tz = z + sz * dv, cost = g + sizeMm + savedMm + openingPriceMm * (count + 1) + bendPriceMm
            if ((tz < depth[0] || tz > depth[1]) && !room.isInVoid(siteX(tu, v + dv), siteY(tu, v + dv), tz)) continue
            const rank = cost + haste * guessIn(b, tu, v + dv, tz)
            if (rank <= most) heap.push(rank, nodes.add(tu, v + dv, tz, cost, tangent, i, -1))
          }
        }
      }
    }
  }

  function keyOf(i: number): number {
    const u = nodes.u[i], v = nodes.v[i], z = nodes.z[i], p = nodes.before[i]
    let way = 0
    if (p >= 0) {
      const du = u - nodes.u[p], dv = v - nodes.v[p], most = Math.max(Math.abs(du), Math.abs(dv))
      way = most > 0 ? 1 + Math.round(2 + 2 * du / most) * 5 + Math.round(2 + 2 * dv / most) : 0
    }
    return ((Math.round(u / 40) + 8192) * 4096 + Math.round(v / 40) + 1024) * 4096 + (Math.round(z / 30) & 127) * 32 + way
  }

  function pointsTo(i: number): Vec[] {
    const points: Vec[] = [to.at]
    for (let k = i; k >= 0; k = nodes.before[k]) points.push([siteX(nodes.u[k], nodes.v[k]), siteY(nodes.u[k], nodes.v[k]), nodes.z[k]])
    points.push(from.at)
    return points.reverse()
  }
}

const FARTHEST_ALONG_MM = 16_000
/** Going across the joists the wrong way is not tried where it leads so much further off, mm. */
const FURTHER_MM = 700
const OUTER_BAY_MM = 400
/** steps that may still be spent on ways that have come to the goal when the others are given up */
const MOST_LAST_STEPS = 400
/** Dearer than this share of the cheapest beginning, and more: no way. */
const MOST_SHARE = 1.5, MOST_MORE_MM = 3000
/** What the coarse grid may tell too much, mm. */
const FIELD_ERROR_MM = 60

/** From the lowest underside of the group's joists to their highest top. */
function depthOf({ lines }: BayGroup): [number, number] {
  let low = Infinity, high = -Infinity
  for (const { joists } of lines) {
    for (const { lowZ, highZ } of joists) {
      low = Math.min(low, lowZ)
      high = Math.max(high, highZ)
    }
  }
  return low < high ? [low, high] : [-Infinity, Infinity]
}

