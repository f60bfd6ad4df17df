/** An order in which everything comes before what must come after it, and where there is none, the order with least against it. */

export interface Ordered {
  /** indices, first to last */
  readonly order: readonly number[]
  /** rings of which each member must come before the next, and the last before the first; one for each wish that the order breaks */
  readonly rings: readonly (readonly number[])[]
  /** no order breaks fewer wishes; false where a knot of more than EXACT_MEMBERS was undone by hand-over-hand improvement */
  readonly isLeast: boolean
}

/** Knots up to this size are undone with proof: every subset is looked at once. */
export const EXACT_MEMBERS = 14

/** For each member, the members that should come after it, and how much speaks for that (> 0). */
export type Wishes = readonly ReadonlyMap<number, number>[]

/** @param rank which of two comes first where nothing speaks for either; lower first */
export function orderRuns(wishes: Wishes, rank: readonly number[]): Ordered {
  const knots = knotsOf(wishes)
  const knotOf = new Int32Array(wishes.length), waitsFor = new Int32Array(knots.length)
  knots.forEach((members, k) => members.forEach((member) => { knotOf[member] = k }))
  const after = knots.map((members, k) => [...new Set(members.flatMap((a) => [...wishes[a].keys()].map((b) => knotOf[b])))].filter((other) => other !== k))
  for (const others of after) for (const other of others) waitsFor[other]++
  const rankOf = knots.map((members) => Math.min(...members.map((member) => rank[member])))
  const ready = knots.flatMap((_, k) => waitsFor[k] === 0 ? [k] : [])
  const order: number[] = []
  while (ready.length > 0) {
    const next = ready.reduce((best, k) => rankOf[k] < rankOf[best] ? k : best)
    ready.splice(ready.indexOf(next), 1)
    order.push(...untied(knots[next], wishes, rank))
    for (const other of after[next]) if (--waitsFor[other] === 0) ready.push(other)
  }
  const place = new Map(order.map((member, k) => [member, k]))
  const rings: number[][] = []
  wishes.forEach((row, a) => row.forEach((_, b) => {
    // a should come before b and does not: they are of one knot, so a chain of wishes leads from b back to a
    if (place.get(a)! > place.get(b)!) rings.push(wayFrom(b, a, wishes))
  }))
  return { order, rings, isLeast: knots.every((members) => members.length <= EXACT_MEMBERS) }
}

/** Strongly connected sets of more than one member, and every other member by itself: Tarjan, SIAM J. Comput. 1, 1972. */
function knotsOf(wishes: Wishes): number[][] {
  const found = new Map<number, number>(), lowest = new Map<number, number>()
  const stack: number[] = [], isOpen = new Set<number>(), knots: number[][] = []
  const visit = (a: number): void => {
    found.set(a, found.size)
    lowest.set(a, found.get(a)!)
    stack.push(a)
    isOpen.add(a)
    wishes[a].forEach((_, b) => {
      if (!found.has(b)) visit(b)
      if (isOpen.has(b)) lowest.set(a, Math.min(lowest.get(a)!, lowest.get(b)!))
    })
    if (lowest.get(a) !== found.get(a)) return
    const members = stack.splice(stack.indexOf(a)).sort((x, y) => x - y)
    for (const member of members) isOpen.delete(member)
    knots.push(members)
  }
  wishes.forEach((_, a) => { if (!found.has(a)) visit(a) })
  return knots
}

function untied(members: readonly number[], wishes: Wishes, rank: readonly number[]): number[] {
  const byRank = [...members].sort((a, b) => rank[a] - rank[b])
  if (members.length < 3) {
    const [a, b] = byRank
    return b !== undefined && (wishes[b].get(a) ?? 0) > (wishes[a].get(b) ?? 0) ? [b, a] : byRank
  }
  return members.length <= EXACT_MEMBERS ? exactly(byRank, wishes) : byImproving(byRank, wishes)
}

/** Least broken wishes for every set that could stand first: Lawler's recurrence (A comment on minimum feedback arc sets, IEEE Trans. Circuit Theory 11, 1964). */
function exactly(members: readonly number[], wishes: Wishes): number[] {
  const n = members.length, full = 2 ** n - 1
  const table = tableOf(members, wishes)
  const broken = new Float64Array(full + 1).fill(Infinity), last = new Int8Array(full + 1)
  broken[0] = 0
  for (let set = 0; set < full; set++) {
    for (let k = 0; k < n; k++) {
      if ((set & (1 << k)) !== 0) continue
      // k comes after all of the set: whoever of the rest wished to come before k is passed over
      let more = 0
      for (let m = 0; m < n; m++) if (m !== k && (set & (1 << m)) === 0) more += table[m][k]
      const next = set | (1 << k)
      if (broken[set] + more < broken[next]) {
        broken[next] = broken[set] + more
        last[next] = k
      }
    }
  }
  const order: number[] = []
  for (let set = full; set !== 0; set &= ~(1 << last[set])) order.unshift(members[last[set]])
  return order
}

/** One member at a time goes where it breaks least, until none can better its place. */
function byImproving(members: readonly number[], wishes: Wishes): number[] {
  const table = tableOf(members, wishes)
  let order = members.map((_, k) => k)
  for (let improved = true; improved;) {
    improved = false
    for (let member = 0; member < members.length; member++) {
      const rest = order.filter((other) => other !== member)
      const before = (at: number): number => rest.reduce((sum, other, k) => sum + (k < at ? table[member][other] : table[other][member]), 0)
      const here = order.indexOf(member)
      let best = here
      for (let at = 0; at <= rest.length; at++) if (before(at) < before(best)) best = at
      if (best === here) continue
      order = [...rest.slice(0, best), member, ...rest.slice(best)]
      improved = true
    }
  }
  return order.map((k) => members[k])
}

/** What speaks for each of some members before each other of them. */
function tableOf(members: readonly number[], wishes: Wishes): number[][] {
  return members.map((a) => members.map((b) => wishes[a].get(b) ?? 0))
}

/** The shortest chain of wishes from one member to another, both ends included. */
function wayFrom(from: number, to: number, wishes: Wishes): number[] {
  const before = new Map<number, number>([[from, from]])
  const queue = [from]
  for (let a = queue.shift(); a !== undefined && !before.has(to); a = queue.shift()) {
    wishes[a].forEach((_, b) => {
      if (before.has(b)) return
      before.set(b, a!)
      queue.push(b)
    })
  }
  const way = [to]
  while (way[0] !== from) way.unshift(before.get(way[0])!)
  return way
}
