/**
 * Flows and pressures in a network of ducts: at every node what comes in goes out, along every link pressure falls by what
 * its flow costs. Newton's method on links and nodes together (E. Todini, S. Pilati, A gradient algorithm for the analysis of
 * pipe networks, 1988). After the first turn the mass balance holds in every turn, so a turn is a step down a convex function
 * and is shortened where a whole one would go past its lowest point.
 */

/** Litres a second and pascals. */
export interface Link {
  readonly from: number
  readonly to: number
  /** pressure lost from `from` to `to` at a flow, negative flow the other way; must rise with flow */
  dropPa(lps: number): number
}

export interface Network {
  readonly nodeCount: number
  readonly links: readonly Link[]
  /** nodes whose pressure is known, Pa: at least one in every connected part */
  readonly fixedPa: ReadonlyMap<number, number>
  /** what is taken out at each node, l/s; not looked at where the pressure is fixed; 0 where left out */
  readonly drawLps: readonly number[]
}

export interface NetworkFlow {
  readonly lps: Float64Array
  readonly nodePa: Float64Array
  readonly turns: number
  /** false when it did not settle within MOST_TURNS */
  readonly settled: boolean
}

const MOST_TURNS = 200
/** A link is never taken to be flatter than this, Pa per l/s: a plain opening has no slope at rest. */
const LEAST_SLOPE = 1e-6
/** Settled when no flow changes by more than this share of the largest flow, */
const SETTLED = 1e-12
/** or by less than this and no less than a turn before: rounding lets it go no further. */
const ROUNDING = 1e-8

/** @throws Error when a part of the network has no node of known pressure */
export function solveNetwork({ nodeCount, links, fixedPa, drawLps }: Network): NetworkFlow {
  const free = Array.from({ length: nodeCount }, (_, node) => node).filter((node) => !fixedPa.has(node))
  const elimination = planElimination(free, links)
  const lps = new Float64Array(links.length), nodePa = new Float64Array(nodeCount)
  for (const [node, pa] of fixedPa) nodePa[node] = pa
  const startLps = Math.max(1e-3, ...drawLps.map(Math.abs))
  lps.fill(startLps)
  const slopes = new Float64Array(links.length), next = new Float64Array(links.length)
  let changeBefore = Infinity
  for (let turn = 1; turn <= MOST_TURNS; turn++) {
    const right = new Float64Array(nodeCount)
    for (const node of free) right[node] = -(drawLps[node] ?? 0)
    links.forEach(({ from, to, dropPa }, i) => {
      slopes[i] = slopeAt(dropPa, lps[i])
      const moved = lps[i] - dropPa(lps[i]) / slopes[i]
      right[from] -= moved
      right[to] += moved
    })
    elimination.solve(slopes, right, fixedPa, nodePa)
    links.forEach(({ from, to, dropPa }, i) => {
      next[i] = lps[i] + (nodePa[from] - nodePa[to] - dropPa(lps[i])) / slopes[i]
    })
    let change = 0, largest = 1e-6
    for (let i = 0; i < lps.length; i++) {
      change = Math.max(change, Math.abs(next[i] - lps[i]))
      largest = Math.max(largest, Math.abs(next[i]))
    }
    // of the smallest steps nothing can be told but rounding
    const share = turn === 1 || change <= ROUNDING * largest ? 1 : stepShare(links, lps, next, nodePa)
    for (let i = 0; i < lps.length; i++) lps[i] += share * (next[i] - lps[i])
    if (change <= SETTLED * largest || change <= ROUNDING * largest && change >= changeBefore) return { lps, nodePa, turns: turn, settled: true }
    changeBefore = change
  }
  return { lps, nodePa, turns: MOST_TURNS, settled: false }
}

/** How much of a step to take: all of it unless the function rises again by then, else about to its lowest point. */
function stepShare(links: readonly Link[], lps: Float64Array, next: Float64Array, nodePa: Float64Array): number {
  const slope = (t: number): number => {
    let sum = 0
    links.forEach(({ from, to, dropPa }, i) => {
      const step = next[i] - lps[i]
      // a step keeps the mass, so any pressures may be taken off: with these, small numbers are added and not large ones
      sum += step * (dropPa(lps[i] + t * step) - (nodePa[from] - nodePa[to]))
    })
    return sum
  }
  const most = Math.abs(slope(0)) / 10
  if (slope(1) <= most) return 1
  // the law of friction has corners where flow turns turbulent: there whole steps could go to and fro for ever
  let low = 0, high = 1
  for (let halving = 0; halving < 50; halving++) {
    const share = (low + high) / 2, at = slope(share)
    if (Math.abs(at) <= most) return share
    if (at < 0) low = share
    else high = share
  }
  return low
}

/** Central difference over a millionth of the flow. */
function slopeAt(dropPa: (lps: number) => number, lps: number): number {
  const step = Math.max(1e-6 * Math.abs(lps), 1e-7)
  return Math.max((dropPa(lps + step) - dropPa(lps - step)) / (2 * step), LEAST_SLOPE)
}

interface Elimination {
  /** writes the pressures of the free nodes */
  solve(slopes: Float64Array, right: Float64Array, fixedPa: ReadonlyMap<number, number>, nodePa: Float64Array): void
}

/** Gaussian elimination of the nodes' equations, the node with the fewest neighbours first: a tree costs nothing beyond its nodes. */
function planElimination(free: readonly number[], links: readonly Link[]): Elimination {
  const isFree = new Set(free)
  const neighbours = new Map(free.map((node) => [node, new Set<number>()]))
  const reachesFixed = new Set<number>()
  for (const { from, to } of links) {
    if (isFree.has(from) && isFree.has(to) && from !== to) {
      neighbours.get(from)!.add(to)
      neighbours.get(to)!.add(from)
    } else if (isFree.has(from) !== isFree.has(to)) reachesFixed.add(isFree.has(from) ? from : to)
  }
  refuseAdrift(free, neighbours, reachesFixed)
  const order: { readonly node: number, readonly later: readonly number[] }[] = []
  const left = new Set(free)
  while (left.size > 0) {
    let best = -1, fewest = Infinity
    for (const node of left) {
      const count = neighbours.get(node)!.size
      if (count < fewest) {
        best = node
        fewest = count
        if (count <= 1) break
      }
    }
    const later = [...neighbours.get(best)!]
    for (const a of later) {
      neighbours.get(a)!.delete(best)
      for (const b of later) if (a !== b) neighbours.get(a)!.add(b)
    }
    left.delete(best)
    order.push({ node: best, later })
  }
  return {
    solve(slopes, right, fixedPa, nodePa) {
      const rows = new Map(free.map((node) => [node, new Map<number, number>([[node, 0]])]))
      const add = (row: number, column: number, value: number) => rows.get(row)!.set(column, (rows.get(row)!.get(column) ?? 0) + value)
      links.forEach(({ from, to }, i) => {
        const eased = 1 / slopes[i]
        for (const [a, b] of [[from, to], [to, from]]) {
          if (a === b || !isFree.has(a)) continue
          add(a, a, eased)
          if (isFree.has(b)) add(a, b, -eased)
          else right[a] += eased * fixedPa.get(b)!
        }
      })
      for (const { node, later } of order) {
        const pivot = rows.get(node)!.get(node)!
        for (const a of later) {
          const share = rows.get(a)!.get(node)! / pivot
          for (const b of later) add(a, b, -share * rows.get(node)!.get(b)!)
          right[a] -= share * right[node]
        }
      }
      for (const { node, later } of order.toReversed()) {
        let value = right[node]
        for (const a of later) value -= rows.get(node)!.get(a)! * nodePa[a]
        nodePa[node] = value / rows.get(node)!.get(node)!
      }
    },
  }
}

function refuseAdrift(free: readonly number[], neighbours: ReadonlyMap<number, ReadonlySet<number>>, reachesFixed: ReadonlySet<number>): void {
  const held = new Set<number>(), waiting = [...reachesFixed]
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    if (held.has(node)) continue
    held.add(node)
    waiting.push(...neighbours.get(node)!)
  }
  const adrift = free.find((node) => !held.has(node))
  if (adrift !== undefined) throw new Error(`solveNetwork: every node must be joined to one whose pressure is fixed, node ${adrift} is not`)
}
