import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airAt } from '#air/density.ts'
import { solveNetwork, type Link, type Network } from '#air/network.ts'
import { runDrop, type AirWay } from '#air/runDrop.ts'
import { seeded } from '../../fixtures/generate/seeded.ts'

const SEED = 77_001
const AIR = airAt(20, 0)

const wayOf = (boreMm: number, legsM: number, endsZeta = 1.5): AirWay => ({ boreMm, roughnessMm: 0.09, legsM, arcsM: 0, bends: [{ turnRad: Math.PI / 2, radiusMm: boreMm }], endsZeta, inLine: [] })
const dropOf = (way: AirWay) => (lps: number): number => lps === 0 ? 0 : Math.sign(lps) * runDrop(way, Math.abs(lps), AIR, 'smooth-elbow-table').totalPa

function bisect(rises: (x: number) => number, low: number, high: number): number {
  for (let i = 0; i < 56; i++) {
    const middle = (low + high) / 2
    if (rises(middle) < 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}

function imbalance({ links, drawLps, fixedPa, nodeCount }: Network, lps: ArrayLike<number>): number {
  const sums = Array.from({ length: nodeCount }, (_, node) => -(drawLps[node] ?? 0))
  links.forEach(({ from, to }, i) => {
    sums[from] -= lps[i]
    sums[to] += lps[i]
  })
  return Math.max(...sums.map((sum, node) => fixedPa.has(node) ? 0 : Math.abs(sum)))
}

describe('ducts side by side', () => {
  test('share as bisection of the same equations shares them: equal pressure over each', () => {
    const ways = [wayOf(63, 4), wayOf(76, 9), wayOf(63, 11)], totalLps = 20
    const flowAt = (way: AirWay, pa: number) => bisect((lps) => dropOf(way)(lps) - pa, 0, 100)
    const pa = bisect((p) => ways.reduce((sum, way) => sum + flowAt(way, p), 0) - totalLps, 0, 1_000)
    const links: Link[] = ways.map((way) => ({ from: 0, to: 1, dropPa: dropOf(way) }))
    const flow = solveNetwork({ nodeCount: 2, links, fixedPa: new Map([[0, 0]]), drawLps: [0, totalLps] })
    expect(flow.settled).toBe(true)
    ways.forEach((way, i) => expect(Math.abs(flow.lps[i] - flowAt(way, pa))).toBeLessThan(1e-9))
    expect(Math.abs(-flow.nodePa[1] - pa)).toBeLessThan(1e-9)
  })
  test('two manifolds in parallel behind a trunk, each with two rooms: as nested bisection finds them', () => {
    // 0 fan -> 1 branch -> 2, 3 manifolds -> rooms at 0 Pa (node 4), the fan at 60 Pa
    const trunk = wayOf(160, 2), toFirst = wayOf(125, 3), toSecond = wayOf(125, 8)
    const rooms = [[wayOf(63, 3, 6), wayOf(63, 9, 6)], [wayOf(76, 5, 6), wayOf(63, 2, 6)]]
    const fanPa = 60
    const roomsAt = (ways: readonly AirWay[], pa: number) => ways.reduce((sum, way) => sum + bisect((lps) => dropOf(way)(lps) - pa, 0, 200), 0)
    const branchAt = (way: AirWay, ways: readonly AirWay[], pa: number) => {
      const inner = bisect((p) => dropOf(way)(roomsAt(ways, p)) + p - pa, 0, pa)
      return roomsAt(ways, inner)
    }
    const branchPa = bisect((p) => dropOf(trunk)(branchAt(toFirst, rooms[0], p) + branchAt(toSecond, rooms[1], p)) + p - fanPa, 0, fanPa)
    const links: Link[] = [
      { from: 0, to: 1, dropPa: dropOf(trunk) }, { from: 1, to: 2, dropPa: dropOf(toFirst) }, { from: 1, to: 3, dropPa: dropOf(toSecond) },
      ...rooms.flatMap((ways, m) => ways.map((way): Link => ({ from: 2 + m, to: 4, dropPa: dropOf(way) }))),
    ]
    const flow = solveNetwork({ nodeCount: 5, links, fixedPa: new Map([[0, fanPa], [4, 0]]), drawLps: [] })
    // 56 halvings of a hundred leave 1e-15 of it
    expect(Math.abs(flow.nodePa[1] - branchPa)).toBeLessThan(1e-8)
    expect(Math.abs(flow.lps[1] - branchAt(toFirst, rooms[0], branchPa))).toBeLessThan(1e-8)
    expect(Math.abs(flow.lps[2] - branchAt(toSecond, rooms[1], branchPa))).toBeLessThan(1e-8)
  }, 60_000)
  test('plain square laws in parallel share by the roots of their conductances', () => {
    const links = [1, 4, 9].map((k): Link => ({ from: 0, to: 1, dropPa: (q) => k * q * Math.abs(q) }))
    const flow = solveNetwork({ nodeCount: 2, links, fixedPa: new Map([[0, 0]]), drawLps: [0, 11] })
    ;[6, 3, 2].forEach((lps, i) => expect(flow.lps[i]).toBeCloseTo(lps, 9))
  })
})

describe('any network', () => {
  const random = (seed: number) => {
    const pick = seeded(seed)
    const nodeCount = 2 + Math.floor(pick.next() * 25), links: Link[] = []
    for (let node = 1; node < nodeCount; node++) links.push({ from: Math.floor(pick.next() * node), to: node, dropPa: dropOf(wayOf(50 + pick.next() * 110, 0.5 + pick.next() * 12)) })
    for (let extra = 0; extra < nodeCount / 3; extra++) {
      const a = Math.floor(pick.next() * nodeCount), b = Math.floor(pick.next() * nodeCount)
      if (a !== b) links.push({ from: a, to: b, dropPa: dropOf(wayOf(50 + pick.next() * 110, 0.5 + pick.next() * 12)) })
    }
    return { nodeCount, links, fixedPa: new Map([[0, 0]]), drawLps: Array.from({ length: nodeCount }, (_, i) => i === 0 || pick.next() < 0.3 ? 0 : pick.next() * 10) }
  }
  test('keeps its mass to 1e-9 l/s, and along every link falls what the flow costs', () => {
    let worst = 0, worstPa = 0, mostTurns = 0
    for (let i = 0; i < 200; i++) {
      const network = random(SEED + i), flow = solveNetwork(network)
      expect(flow.settled, `seed ${SEED + i}`).toBe(true)
      worst = Math.max(worst, imbalance(network, flow.lps))
      mostTurns = Math.max(mostTurns, flow.turns)
      network.links.forEach(({ from, to, dropPa }, k) => { worstPa = Math.max(worstPa, Math.abs(flow.nodePa[from] - flow.nodePa[to] - dropPa(flow.lps[k]))) })
    }
    console.log(`200 networks from seed ${SEED}: worst imbalance ${worst.toExponential(1)} l/s, worst pressure gap ${worstPa.toExponential(1)} Pa, most turns ${mostTurns}`)
    expect(worst).toBeLessThan(1e-9)
    expect(worstPa).toBeLessThan(1e-6)
  })
  test('does not mind in which order or which way round its links are given', () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
      const network = random(seed), flow = solveNetwork(network)
      const other = solveNetwork({ ...network, links: network.links.map(({ from, to, dropPa }) => ({ from: to, to: from, dropPa })).reverse() })
      network.links.forEach((_, k) => expect(Math.abs(flow.lps[k] + other.lps[network.links.length - 1 - k])).toBeLessThan(1e-6))
    }), { seed: SEED, numRuns: 30 })
  })
  test('a part that hangs on nothing is refused by name', () => {
    expect(() => solveNetwork({ nodeCount: 3, links: [{ from: 0, to: 1, dropPa: (q) => q }], fixedPa: new Map([[0, 0]]), drawLps: [] })).toThrow(/node 2 is not/)
  })
  test('a thousand runs on one manifold are solved at once', () => {
    const links = Array.from({ length: 1_000 }, (_, i): Link => ({ from: 0, to: i + 1, dropPa: dropOf(wayOf(63, 1 + i % 12)) }))
    const flow = solveNetwork({ nodeCount: 1_001, links, fixedPa: new Map([[0, 0]]), drawLps: links.map(() => 2).toSpliced(0, 0, 0) })
    expect(flow.settled).toBe(true)
    expect(flow.lps.every((lps) => Math.abs(lps - 2) < 1e-9)).toBe(true)
  })
})
