/** The runs of a job joined into systems: each a connected part that carries one air, seen from the unit or, without one, from its largest manifold. */
import { isSpigot } from '#assembly/runs.ts'
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import type { AirStream, Equipment, PartLoss } from '#model/index.ts'
import { INTO_DUCT, OUT_OF_DUCT } from './losses.ts'
import { wayOf, type AirWay } from './runDrop.ts'

/** A place where runs meet: a spigot of a unit, any other piece of equipment, a sleeve. */
export interface SystemNode {
  readonly key: string
  readonly equipment: Equipment | null
  readonly name: string
  /** bore of all ducts that end here, mm² */
  readonly boreMm2: number
}

export interface SystemRun {
  readonly placed: PlacedRun
  /** node indexes: `near` is the one nearer the root, counted in runs */
  readonly near: number
  readonly far: number
  readonly way: AirWay
}

export interface AirSystem {
  readonly stream: AirStream
  readonly nodes: readonly SystemNode[]
  readonly runs: readonly SystemRun[]
  readonly root: number
  /** the unit that it starts from; null when it is reckoned from a manifold */
  readonly unit: Equipment | null
  /** entered drop of the manifolds, by node; their runs there have no ends' loss */
  readonly manifoldLosses: ReadonlyMap<number, readonly PartLoss[]>
}

export interface Systems {
  readonly systems: readonly AirSystem[]
  /** connected parts that were left out, each with its reason */
  readonly unused: readonly { readonly runs: readonly PlacedRun[], readonly why: 'mixed-air' | 'air-unknown' | 'no-start' }[]
}

const STREAM_NAMES: readonly AirStream[] = ['supply', 'extract', 'intake', 'exhaust']

export function systemsOf({ runs }: Pick<Assembly, 'runs'>): Systems {
  const keys = runs.map(({ from, to }) => [keyOf(from), keyOf(to)] as const)
  const groupOf = groupsOf(keys)
  const groups = new Map<string, number[]>()
  keys.forEach(([key], i) => {
    const group = groupOf(key)
    groups.set(group, [...groups.get(group) ?? [], i])
  })
  const systems: AirSystem[] = [], unused: Systems['unused'][number][] = []
  for (const indexes of groups.values()) {
    const members = indexes.map((i) => runs[i])
    const made = systemOf(members)
    if (typeof made === 'string') unused.push({ runs: members, why: made })
    else systems.push(made)
  }
  return { systems: systems.sort((a, b) => STREAM_NAMES.indexOf(a.stream) - STREAM_NAMES.indexOf(b.stream)), unused }
}

/** Ducts' bore at each piece of equipment, mm². */
export function boresAt({ runs }: Pick<Assembly, 'runs'>): Map<string, number> {
  const bores = new Map<string, number>()
  for (const { from, to, type } of runs) {
    for (const end of [from, to]) if (isSpigot(end)) bores.set(end.equipment.id, (bores.get(end.equipment.id) ?? 0) + boreMm2(type.innerDiameterMm))
  }
  return bores
}

function boreMm2(diameterMm: number): number {
  return Math.PI / 4 * diameterMm * diameterMm
}

function keyOf(end: PlacedRun['from']): string {
  if (!isSpigot(end)) return `sleeve ${end.sleeve.id}`
  return end.equipment.kind === 'unit' ? `${end.equipment.id} ${end.spigot.id}` : end.equipment.id
}

/** Union of what shares an end. */
function groupsOf(pairs: readonly (readonly [string, string])[]): (key: string) => string {
  const parent = new Map<string, string>()
  const top = (key: string): string => {
    let at = key
    for (let up = parent.get(at); up !== undefined; up = parent.get(at)) at = up
    for (let step = key; step !== at;) {
      const up = parent.get(step)!
      parent.set(step, at)
      step = up
    }
    return at
  }
  for (const [a, b] of pairs) {
    const topA = top(a), topB = top(b)
    if (topA !== topB) parent.set(topA, topB)
  }
  return top
}

function systemOf(runs: readonly PlacedRun[]): AirSystem | 'mixed-air' | 'air-unknown' | 'no-start' {
  const nodes: SystemNode[] = [], indexOf = new Map<string, number>()
  const isUnit: boolean[] = [], degree: number[] = []
  const at = (end: PlacedRun['from'], diameterMm: number): number => {
    const key = keyOf(end)
    let index = indexOf.get(key)
    if (index === undefined) {
      index = nodes.length
      indexOf.set(key, index)
      nodes.push({ key, equipment: isSpigot(end) ? end.equipment : null, name: isSpigot(end) ? end.equipment.kind === 'unit' ? end.name : end.equipment.name : end.sleeve.name, boreMm2: 0 })
      isUnit.push(isSpigot(end) && end.equipment.kind === 'unit')
      degree.push(0)
    }
    nodes[index] = { ...nodes[index], boreMm2: nodes[index].boreMm2 + boreMm2(diameterMm) }
    degree[index]++
    return index
  }
  const ends = runs.map(({ from, to, type }) => [at(from, type.innerDiameterMm), at(to, type.innerDiameterMm)] as const)
  const stream = streamOf(runs, nodes)
  if (stream === 'mixed-air' || stream === 'air-unknown') return stream
  let root = isUnit.indexOf(true)
  if (root < 0) nodes.forEach((node, i) => { if (node.equipment?.kind === 'manifold' && (root < 0 || degree[i] > degree[root])) root = i })
  if (root < 0) return 'no-start'

  const depth = depthsFrom(root, nodes.length, ends)
  const manifoldLosses = new Map<number, readonly PartLoss[]>()
  nodes.forEach(({ equipment }, i) => {
    if (equipment?.kind === 'manifold' && equipment.airflow?.losses !== undefined) manifoldLosses.set(i, equipment.airflow.losses)
  })
  const isOutwards = stream === 'supply' || stream === 'exhaust'
  const made = runs.map((placed, i): SystemRun => {
    const [from, to] = ends[i]
    const [near, far] = depth[from] <= depth[to] ? [from, to] : [to, from]
    const zetaOf = (index: number, isEntry: boolean) => endZeta(nodes[index], degree[index], isEntry, manifoldLosses.has(index))
    return { placed, near, far, way: wayOf(placed, zetaOf(near, isOutwards) + zetaOf(far, !isOutwards)) }
  })
  return { stream, nodes, runs: made, root, unit: isUnit[root] ? nodes[root].equipment : null, manifoldLosses }
}

/** @param isEntry the air goes into the duct here */
function endZeta({ equipment }: SystemNode, degree: number, isEntry: boolean, isEntered: boolean): number {
  const box = isEntry ? INTO_DUCT.zeta : OUT_OF_DUCT.zeta
  if (equipment === null) return degree === 1 ? box : 0
  switch (equipment.kind) {
    // the fan's pressure is taken in the duct at the spigot; a hood has its own loss
    case 'unit': case 'outdoor-terminal': return 0
    case 'manifold': return isEntered ? 0 : box
    case 'plenum': return box
  }
}

function streamOf(runs: readonly PlacedRun[], nodes: readonly SystemNode[]): AirStream | 'mixed-air' | 'air-unknown' {
  const named = new Set(nodes.flatMap(({ equipment }) => equipment?.air ?? []))
  if (named.size > 1) return 'mixed-air'
  for (const air of named) return air
  // a unit's spigots may be named by the air they carry
  for (const { from, to } of runs) {
    for (const end of [from, to]) {
      const air = isSpigot(end) && end.equipment.kind === 'unit' ? STREAM_NAMES.find((name) => name === end.spigot.id.toLowerCase()) : undefined
      if (air !== undefined) return air
    }
  }
  return 'air-unknown'
}

function depthsFrom(root: number, count: number, ends: readonly (readonly [number, number])[]): number[] {
  const depth = Array.from({ length: count }, () => Infinity)
  const beside = Array.from({ length: count }, (): number[] => [])
  for (const [a, b] of ends) {
    beside[a].push(b)
    beside[b].push(a)
  }
  depth[root] = 0
  const waiting = [root]
  for (const node of waiting) {
    for (const next of beside[node]) {
      if (depth[next] < Infinity) continue
      depth[next] = depth[node] + 1
      waiting.push(next)
    }
  }
  return depth
}
