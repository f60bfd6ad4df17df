/** What a system costs at given flows: every run's share, the way to every terminal, and the index: the costliest way of all. */
import type { BendMethod, Equipment } from '#model/index.ts'
import type { Air } from './density.ts'
import { UNKNOWN_TERMINAL, partDropPa } from './losses.ts'
import { solveNetwork, type Link } from './network.ts'
import { runDrop, type RunDrop } from './runDrop.ts'
import type { AirSystem, SystemNode, SystemRun } from './systems.ts'
import { valveDropPa, valveOf } from './valve.ts'

export interface RunPressure extends RunDrop {
  readonly run: SystemRun
  readonly lps: number
}

export interface TerminalPressure {
  readonly equipment: Equipment | null
  readonly name: string
  readonly lps: number
  /** of the ducts from the start to here */
  readonly ductsPa: number
  /** of the terminal itself, fully open */
  readonly openPa: number
  readonly totalPa: number
  /** its drop was entered rather than assumed */
  readonly isEntered: boolean
  /** runs on its way, from the start; of several ducts side by side the one that carries most */
  readonly way: readonly SystemRun[]
}

export interface SystemPressure {
  readonly system: AirSystem
  readonly totalLps: number
  readonly runs: readonly RunPressure[]
  /** costliest first */
  readonly terminals: readonly TerminalPressure[]
  /** null when the system has no terminal with air */
  readonly index: TerminalPressure | null
  /** what the fan must give for it, Pa */
  readonly neededPa: number
  /** largest difference between what comes in and goes out at any place, l/s */
  readonly imbalanceLps: number
  readonly settled: boolean
}

/**
 * @param lpsOf air wanted at each terminal by its equipment's id (for intake and exhaust not looked at)
 * @param throughLps what an intake or exhaust carries in all
 */
export function systemPressure(system: AirSystem, lpsOf: (equipmentId: string) => number, throughLps: number, air: Air, method: BendMethod): SystemPressure {
  const { nodes, root } = system
  const isOutdoors = system.stream === 'intake' || system.stream === 'exhaust'
  const links: Link[] = system.runs.map(({ near, far, way }) => ({ from: near, to: far, dropPa: odd((lps) => runDrop(way, lps, air, method).totalPa) }))
  // a manifold with an entered drop is two places with that drop between them: the runs away from the root leave from the second
  let nodeCount = nodes.length
  for (const [node, losses] of system.manifoldLosses) {
    const outlet = nodeCount++
    links.forEach((link, i) => {
      if (link.from === node && i < system.runs.length) links[i] = { ...link, from: outlet }
    })
    links.push({ from: node, to: outlet, dropPa: odd((lps) => losses.reduce((sum, part) => sum + partDropPa(part, lps, air.density), 0)) })
  }
  const ends = nodes.flatMap((node, i) => isEnd(system, node, i) ? [i] : [])
  const drawLps = Array.from({ length: nodeCount }, () => 0)
  const fixedPa = new Map<number, number>()
  const openDropOf = (node: SystemNode) => odd((lps: number) => terminalDropPa(node, lps, air.density))
  if (isOutdoors) {
    const outside = nodeCount++
    drawLps.push(0)
    fixedPa.set(outside, 0)
    drawLps[root] = -throughLps
    for (const end of ends) links.push({ from: end, to: outside, dropPa: openDropOf(nodes[end]) })
    if (ends.length === 0) fixedPa.set(root, 0)
  } else {
    fixedPa.set(root, 0)
    for (const end of ends) drawLps[end] = lpsOf(nodes[end].equipment?.id ?? '')
  }
  const flow = solveNetwork({ nodeCount, links, fixedPa, drawLps })
  const runs = system.runs.map((run, i): RunPressure => ({ run, lps: flow.lps[i], ...runDrop(run.way, Math.abs(flow.lps[i]), air, method) }))
  const terminals = ends.map((end): TerminalPressure => {
    const outwards = links.findIndex((link, i) => i >= system.runs.length && link.from === end && isOutdoors)
    const lps = isOutdoors ? flow.lps[outwards] : drawLps[end]
    const openPa = terminalDropPa(nodes[end], lps, air.density)
    const ductsPa = flow.nodePa[root] - flow.nodePa[end]
    return {
      equipment: nodes[end].equipment, name: nodes[end].name, lps, ductsPa, openPa, totalPa: ductsPa + openPa,
      isEntered: isEntered(nodes[end].equipment), way: wayTo(end, system, flow.lps),
    }
  }).sort((a, b) => b.totalPa - a.totalPa)
  const index = terminals.find((terminal) => terminal.lps > 0) ?? null
  return {
    system, runs, terminals, index, neededPa: index?.totalPa ?? 0,
    totalLps: isOutdoors ? throughLps : drawLps.reduce((sum, lps) => sum + lps, 0),
    imbalanceLps: imbalance(nodeCount, links, flow.lps, drawLps, fixedPa), settled: flow.settled,
  }
}

/** A terminal of the system's own air, or an open end. */
export function isEnd(system: AirSystem, { equipment }: SystemNode, index: number): boolean {
  if (index === system.root) return false
  if (equipment === null) return system.runs.filter(({ near, far }) => near === index || far === index).length === 1
  return system.stream === 'intake' || system.stream === 'exhaust' ? equipment.kind === 'outdoor-terminal' : equipment.kind === 'plenum'
}

/** Fully open; the same law whichever way the air goes. */
export function terminalDropPa({ equipment, boreMm2 }: SystemNode, lps: number, density: number): number {
  // an open end has its loss in the run's own end
  if (equipment === null) return 0
  const valve = valveOf(equipment)
  if (valve !== null) return valveDropPa(valve.rows[0].k, lps, density)
  const losses = equipment.airflow?.losses
  if (losses !== undefined && losses.length > 0) return losses.reduce((sum, part) => sum + partDropPa(part, lps, density), 0)
  const velocityMps = lps / 1000 / (boreMm2 / 1e6)
  return UNKNOWN_TERMINAL.zeta * density * velocityMps * velocityMps / 2
}

function isEntered(equipment: Equipment | null): boolean {
  return equipment === null || equipment.airflow?.settings !== undefined || (equipment.airflow?.losses?.length ?? 0) > 0
}

function odd(drop: (lps: number) => number): (lps: number) => number {
  return (lps) => lps < 0 ? -drop(-lps) : lps > 0 ? drop(lps) : 0
}

function wayTo(end: number, { root, runs }: AirSystem, lps: Float64Array): SystemRun[] {
  const way: SystemRun[] = [], seen = new Set([end])
  for (let at = end; at !== root;) {
    let best = -1
    runs.forEach(({ far, near }, i) => {
      if (far === at && !seen.has(near) && (best < 0 || lps[i] > lps[best])) best = i
    })
    if (best < 0) break
    way.push(runs[best])
    at = runs[best].near
    seen.add(at)
  }
  return way.reverse()
}

function imbalance(nodeCount: number, links: readonly Link[], lps: Float64Array, drawLps: readonly number[], fixedPa: ReadonlyMap<number, number>): number {
  const sums = Array.from({ length: nodeCount }, (_, node) => -(drawLps[node] ?? 0))
  links.forEach(({ from, to }, i) => {
    sums[from] -= lps[i]
    sums[to] += lps[i]
  })
  return sums.reduce((worst, sum, node) => fixedPa.has(node) ? worst : Math.max(worst, Math.abs(sum)), 0)
}
