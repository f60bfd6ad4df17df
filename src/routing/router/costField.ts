/**
 * How far it still is from anywhere in a group of bays to a run's end, on a coarse grid: stretches of bays at a few heights, joined along
 * the bays where nothing stands, and across the joists where an opening comes near to letting the duct by. It steers the search
 * (`findWay`) and proves nothing.
 */
import { ELEMENT_STRIDE, LENGTH, type Centreline } from '#geometry/curve/centreline.ts'
import { pointOfElement } from '#geometry/curve/measure.ts'
import type { DuctRoom } from './ductRoom.ts'
import { bayAt, bayMiddleMm, baySideMm, passesLine, type BayGroup } from './routeSpace.ts'
import { WayBuckets } from './wayBuckets.ts'

export interface CostField {
  costAt(u: number, v: number, z: number): number
  /** the same where the bay is known */
  costIn(bay: number, u: number, z: number): number
  /** by the grid's cells */
  readonly least: Float32Array
}

const CELL_MM = 100
/** A duct is let by where so much more is missing than in the search itself: the grid is coarse. */
const COARSE_SLACK_MM = 16
/** cells along for one joist across, either way */
const MOST_ASIDE = 5
const LEVEL_CELLS = 3
/** a change of height while crossing is had by tilting a leg: seldom a bend of its own */
const LEVEL_SHARE = 0.3
/** The field reaches so much further than its starts. */
const MOST_SHARE = 1.3, MOST_MORE_MM = 1500
/** stretches without anything in them are asked about as one */
const SPAN_CELLS = 10

export class CellGraph {
  readonly #group: BayGroup
  readonly #levels: readonly number[]
  readonly #bays: number
  readonly #cells: number
  readonly #u0: number
  /** [bay][level][cell]: nothing stands between this cell and the next */
  readonly #along: Uint8Array
  readonly #bendPriceMm: number
  /** steps from each state: their targets and what they cost, mm */
  #first = new Int32Array(0)
  #target = new Int32Array(0)
  #length = new Float32Array(0)
  /** for each cell how many before it in its row are barred */
  readonly #barredBefore: Uint16Array
  /** [line][level][level after: lower, same, higher][aside][cell]: a duct from this cell passes the line so much aside */
  readonly #through: Uint8Array

  constructor(group: BayGroup, levels: readonly number[], room: DuctRoom, slackMm: number, bendPriceMm: number) {
    this.#group = group
    this.#levels = levels
    this.#bays = group.lines.length + 1
    this.#u0 = group.u0 - 2 * CELL_MM
    this.#cells = Math.ceil((group.u1 - group.u0) / CELL_MM) + 5
    this.#along = new Uint8Array(this.#bays * levels.length * this.#cells)
    this.#through = new Uint8Array(group.lines.length * levels.length * 3 * (2 * MOST_ASIDE + 1) * this.#cells)
    this.#askAlong(room, slackMm)
    this.#barredBefore = new Uint16Array(this.#along.length)
    for (let row = 0; row < this.#along.length; row += this.#cells) {
      for (let cell = 1; cell < this.#cells; cell++) this.#barredBefore[row + cell] = this.#barredBefore[row + cell - 1] + 1 - this.#along[row + cell - 1]
    }
    this.#askThrough(room, slackMm)
    this.#bendPriceMm = bendPriceMm
    this.#joinCells(bendPriceMm)
  }

  #askAlong(room: DuctRoom, slackMm: number): void {
    const { along, across, origin } = this.#group, cells = this.#cells, levels = this.#levels
    for (let bay = 0; bay < this.#bays; bay++) {
      const sideMm = Math.max(0, baySideMm(this.#group, bay) - room.radiusMm - 4)
      for (let level = 0; level < levels.length; level++) {
        const at = (bay * levels.length + level) * cells
        for (const lane of [0, -1, 1]) {
          const v = bayMiddleMm(this.#group, bay) + lane * sideMm, z = levels[level]
          const isClear = (from: number, to: number): boolean => {
            const u = this.#u0 + from * CELL_MM, w = this.#u0 + to * CELL_MM
            return room.isInVoid(origin[0] + u * along[0] + v * across[0], origin[1] + u * along[1] + v * across[1], z) && room.legIsClear(origin[0] + u * along[0] + v * across[0], origin[1] + u * along[1] + v * across[1], z,
              origin[0] + w * along[0] + v * across[0], origin[1] + w * along[1] + v * across[1], z, slackMm, null)
          }
          let isWhole = true
          for (let from = 0; from + 1 < cells; from += SPAN_CELLS) {
            const to = Math.min(cells - 1, from + SPAN_CELLS)
            if (isClear(from, to)) this.#along.fill(1, at + from, at + to)
            else {
              for (let cell = from; cell < to; cell++) {
                if (this.#along[at + cell] === 0 && isClear(cell, cell + 1)) this.#along[at + cell] = 1
                if (this.#along[at + cell] === 0) isWhole = false
              }
            }
          }
          if (isWhole) break
        }
      }
    }
  }

  #askThrough(room: DuctRoom, slackMm: number): void {
    const { lines, origin, along, across } = this.#group, levels = this.#levels
    let at = 0
    lines.forEach((line, l) => {
      const v0 = bayMiddleMm(this.#group, l), v1 = bayMiddleMm(this.#group, l + 1), wide = v1 - v0
      for (let level = 0; level < levels.length; level++) for (let up = -1; up <= 1; up++) {
        const z = levels[level], next = levels[level + up], sz = next === undefined ? NaN : (next - z) / wide
        for (let aside = -MOST_ASIDE; aside <= MOST_ASIDE; aside++, at += this.#cells) {
          if (Number.isNaN(sz)) continue
          const su = aside * CELL_MM / wide, share = (line.v - v0) / wide
          for (let cell = 0; cell < this.#cells; cell++) {
            const u = this.#u0 + (cell + aside * share) * CELL_MM
            if (!this.#isFree(l, level, cell, cell + aside / 2) || !this.#isFree(l + 1, level + up, cell + aside / 2, cell + aside)) continue
            if (!passesLine(line, u, z + sz * share * wide, su, sz, room.radiusMm, slackMm + COARSE_SLACK_MM)) continue
            // under or over the joists other things may stand across the way
            if (this.#isBeyond(line, z)) {
              const ua = this.#u0 + cell * CELL_MM, ub = ua + aside * CELL_MM, zb = z + sz * wide
              if (!room.legIsClear(origin[0] + ua * along[0] + v0 * across[0], origin[1] + ua * along[1] + v0 * across[1], z, origin[0] + ub * along[0] + v1 * across[0], origin[1] + ub * along[1] + v1 * across[1], zb, slackMm, null)) continue
            }
            this.#through[at + cell] = 1
          }
        }
      }
    })
  }

  #isBeyond({ joists }: BayGroup['lines'][number], z: number): boolean {
    return joists.every(({ lowZ, highZ }) => z < lowZ || z > highZ)
  }

  /** Whether something stands across the way under or over a line of joists; false where the way goes through them. */
  isBarredBeyond(lineIndex: number, u: number, z: number): boolean {
    const level = nearestLevel(this.#levels, z), cell = Math.round((u - this.#u0) / CELL_MM), asides = 2 * MOST_ASIDE + 1
    if (!this.#isBeyond(this.#group.lines[lineIndex], this.#levels[level]) || cell < 0 || cell >= this.#cells) return false
    return this.#through[(((lineIndex * this.#levels.length + level) * 3 + 1) * asides + MOST_ASIDE) * this.#cells + cell] === 0
  }

  /** Nothing but joists between two cells of a bay. */
  #isFree(bay: number, level: number, from: number, to: number): boolean {
    const row = (bay * this.#levels.length + level) * this.#cells
    const a = Math.max(0, Math.floor(Math.min(from, to))), b = Math.min(this.#cells - 1, Math.ceil(Math.max(from, to)))
    return this.#barredBefore[row + b] === this.#barredBefore[row + a]
  }

  /** Whether something other than joists fills the bay somewhere between two places, at that height. */
  isBarred(bay: number, u: number, to: number, z: number): boolean {
    const row = (bay * this.#levels.length + nearestLevel(this.#levels, z)) * this.#cells
    const a = Math.floor((Math.min(u, to) - this.#u0) / CELL_MM), b = Math.floor((Math.max(u, to) - this.#u0) / CELL_MM) + 1
    return a < 0 || b >= this.#cells || this.#barredBefore[row + b] > this.#barredBefore[row + a]
  }

  /** Every step from cell to cell: going along first, then going across. Steps cost the same both ways. */
  #joinCells(bendPriceMm: number): void {
    const levels = this.#levels, cells = this.#cells, bays = this.#bays, size = bays * levels.length * cells
    const first = new Int32Array(2 * size + 1)
    let target = new Int32Array(8 * size), length = new Float32Array(8 * size), count = 0
    const join = (to: number, mm: number): void => {
      if (count === target.length) {
        const moreTargets = new Int32Array(2 * count), moreLengths = new Float32Array(2 * count)
        moreTargets.set(target)
        moreLengths.set(length)
        target = moreTargets
        length = moreLengths
      }
      target[count] = to
      length[count++] = mm
    }
    for (let index = 0; index < size; index++) {
      first[index] = count
      this.#joinAlong(index, bendPriceMm, join)
    }
    for (let index = 0; index < size; index++) {
      first[size + index] = count
      this.#joinAcross(index, size, bendPriceMm, join)
    }
    first[2 * size] = count
    this.#first = first
    this.#target = target.slice(0, count)
    this.#length = length.slice(0, count)
  }

  #joinAlong(index: number, bendPriceMm: number, join: (to: number, mm: number) => void): void {
    const levels = this.#levels, cells = this.#cells, along = this.#along
    const row = Math.floor(index / cells), cell = index - row * cells, level = row % levels.length
    if (along[index] === 1) join(index + 1, CELL_MM)
    if (cell > 0 && along[index - 1] === 1) join(index - 1, CELL_MM)
    for (let up = -1; up <= 1; up += 2) {
      if (levels[level + up] === undefined) continue
      const mm = bendPriceMm + Math.sqrt((LEVEL_CELLS * CELL_MM) ** 2 + (levels[level + up] - levels[level]) ** 2)
      for (let way = 1; way >= -1; way -= 2) {
        let isOpen = cell + way * LEVEL_CELLS >= 0 && cell + way * LEVEL_CELLS < cells
        for (let k = 0; isOpen && k < LEVEL_CELLS; k++) {
          const here = index + (way > 0 ? k : -k - 1)
          if (along[here] === 0 && along[here + up * cells] === 0) isOpen = false
        }
        if (isOpen) join(index + way * LEVEL_CELLS + up * cells, mm)
      }
    }
  }

  #joinAcross(index: number, size: number, bendPriceMm: number, join: (to: number, mm: number) => void): void {
    const levels = this.#levels, cells = this.#cells, bays = this.#bays, through = this.#through, asides = 2 * MOST_ASIDE + 1
    const row = Math.floor(index / cells), cell = index - row * cells, level = row % levels.length, bay = Math.floor(row / levels.length)
    for (let up = -1; up <= 1; up++) {
      if (levels[level + up] === undefined) continue
      const dz = levels[level + up] - levels[level], bendMm = up === 0 ? 0 : LEVEL_SHARE * bendPriceMm
      for (let way = 1; way >= -1; way -= 2) {
        const next = bay + way
        if (next < 0 || next >= bays) continue
        const wide = bayMiddleMm(this.#group, next) - bayMiddleMm(this.#group, bay), line = way > 0 ? bay : next
        for (let aside = -MOST_ASIDE; aside <= MOST_ASIDE; aside++) {
          const other = cell + aside
          if (other < 0 || other >= cells) continue
          // kept from the lower bay to the higher
          const at = way > 0 ? (((line * levels.length + level) * 3 + up + 1) * asides + aside + MOST_ASIDE) * cells + cell
            : (((line * levels.length + level + up) * 3 - up + 1) * asides - aside + MOST_ASIDE) * cells + other
          if (through[at] === 1) join(size + (next * levels.length + level + up) * cells + other, bendMm + Math.sqrt(wide * wide + (aside * CELL_MM) ** 2 + dz * dz))
        }
      }
    }
  }

  get stateCount(): number {
    return 2 * this.#bays * this.#levels.length * this.#cells
  }

  /**
   * Adds a price to the cells that another duct lies in, for whoever goes there: all of it to go across one that lies along or along one that
   * lies across, and where both go the same way to lie in the same place; beside one that lies along a bay there is room.
   * @param traffic `stateCount` numbers
   */
  addTraffic({ elements, count }: Centreline, reachMm: number, priceMm: number, traffic: Float32Array): void {
    const { origin, along, across } = this.#group, cells = this.#cells, levels = this.#levels, size = this.stateCount / 2
    const point = [0, 0, 0], next = [0, 0, 0]
    let lastAt = -1
    for (let e = 0; e < count * ELEMENT_STRIDE; e += ELEMENT_STRIDE) {
      const length = elements[e + LENGTH], steps = Math.max(1, Math.ceil(length / TRAFFIC_STEP_MM))
      for (let k = 0; k < steps; k++) {
        pointOfElement(elements, e, length * (k + 0.5) / steps, point)
        pointOfElement(elements, e, Math.min(length, length * (k + 0.5) / steps + 1), next)
        const u = (point[0] - origin[0]) * along[0] + (point[1] - origin[1]) * along[1], v = (point[0] - origin[0]) * across[0] + (point[1] - origin[1]) * across[1]
        const du = Math.abs((next[0] - point[0]) * along[0] + (next[1] - point[1]) * along[1]), dv = Math.abs((next[0] - point[0]) * across[0] + (next[1] - point[1]) * across[1])
        const dz = Math.abs(next[2] - point[2]), cell = Math.round((u - this.#u0) / CELL_MM)
        if (cell < 1 || cell + 1 >= cells) continue
        const bay = bayAt(this.#group, v), isUpright = dz > du && dz > dv
        for (let level = 0; level < levels.length; level++) {
          if (Math.abs(levels[level] - point[2]) > reachMm) continue
          const at = (bay * levels.length + level) * cells + cell
          if (at === lastAt) continue
          lastAt = at
          if (du > dv || isUpright) {
            traffic[at] += (isUpright ? 0.5 : BESIDE_SHARE) * priceMm
            traffic[size + at] += 0.5 * priceMm
          } else {
            traffic[at] += priceMm / 2
            traffic[at + 1] += priceMm / 4
            traffic[at - 1] += priceMm / 4
            traffic[size + at] += priceMm / 2
          }
        }
      }
    }
  }

  /**
   * Cost from every cell to the nearest of some places, mm; Infinity where the grid joins them not. To change between going along a bay and
   * going across the joists, or to another height, costs a bend.
   * @param places u, v, z and the cost there
   * @param starts where it will be asked from first: places much dearer than these are left at Infinity
   * @param traffic what it costs besides to go to each cell: along, then across; null for nothing
   * @param back cost from the starts without traffic: what lies much out of the way is left at Infinity; null where that is not known
   */
  fieldTo(places: readonly (readonly [number, number, number, number])[], starts: readonly (readonly [number, number, number])[], traffic: Float32Array | null, back: CostField | null): CostField {
    const levels = this.#levels, cells = this.#cells, u0 = this.#u0, group = this.#group, first = this.#first, target = this.#target, length = this.#length
    const size = this.stateCount / 2, bendPriceMm = this.#bendPriceMm
    const cost = new Float64Array(2 * size).fill(Infinity)
    const cellIn = (bay: number, u: number, z: number): number => {
      const cell = Math.min(cells - 1, Math.max(0, Math.round((u - u0) / CELL_MM)))
      return (bay * levels.length + nearestLevel(levels, z)) * cells + cell
    }
    const cellOf = (u: number, v: number, z: number): number => cellIn(bayAt(group, v), u, z)
    const rest = (index: number): number => back === null ? 0 : back.least[index]
    buckets.clear()
    for (const [u, v, z, value] of places) {
      const index = cellOf(u, v, z)
      for (const state of [index, size + index]) {
        if (value >= cost[state]) continue
        cost[state] = value
        buckets.push(value + rest(index), state)
      }
    }
    const startCells = starts.map(([u, v, z]) => cellOf(u, v, z))
    let most = Infinity
    for (let state = buckets.pop(); state >= 0; state = buckets.pop()) {
      const index = state >= size ? state - size : state, turned = state >= size ? index : size + index, rank = buckets.rank, value = cost[state]
      if (rank > value + rest(index) + 1e-6) continue
      if (rank > most) break
      if (most === Infinity && startCells.includes(index)) most = rank * MOST_SHARE + MOST_MORE_MM
      if (value + bendPriceMm < cost[turned]) {
        cost[turned] = value + bendPriceMm
        buckets.push(cost[turned] + rest(index), turned)
      }
      for (let k = first[state], end = first[state + 1]; k < end; k++) {
        const to = target[k]
        let next = value + length[k]
        if (next >= cost[to]) continue
        if (traffic !== null && (next += traffic[to]) >= cost[to]) continue
        cost[to] = next
        buckets.push(next + rest(to >= size ? to - size : to), to)
      }
    }
    // both ways in one, small enough to be kept for every run
    const least = new Float32Array(size)
    for (let i = 0; i < size; i++) least[i] = Math.min(cost[i], cost[size + i])
    return { least, costAt: (u, v, z) => least[cellOf(u, v, z)], costIn: (bay, u, z) => least[cellIn(bay, u, z)] }
  }
}

const buckets = new WayBuckets()

const TRAFFIC_STEP_MM = 50
/** share of the price for going along a bay beside a duct that lies along it: there may be room in another lane */
const BESIDE_SHARE = 0.05

function nearestLevel(levels: readonly number[], z: number): number {
  let best = 0
  for (let k = 1; k < levels.length; k++) if (Math.abs(levels[k] - z) < Math.abs(levels[best] - z)) best = k
  return best
}
