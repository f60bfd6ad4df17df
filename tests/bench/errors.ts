/** How far off each program's clearances are, against dense sampling closed in on by golden section, on one house of blind runs. */
import { IndexList } from '#geometry/broad/indexList.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH } from '#geometry/curve/centreline.ts'
import { boxDistance, elementPoint, type SignedDistance } from '../oracle/solidDistance.ts'
import type { Bench } from './bench.ts'
import { emptyPairs, everything, indexed } from './everything.ts'
import { NEAR_MM, OUTER_RADIUS_MM, instanceOf } from './instance.ts'
import { askEngine, endEngine, engineScene, initEngine } from './peers/engine.ts'
import { askMesh, meshScene } from './peers/meshTree.ts'
import { askModeller, initModeller, modelledScene } from './peers/modeller.ts'
import { piecesOf } from './peers/pieces.ts'
import type { Cell } from './table.ts'

/** samples along a bend are no further apart, mm */
const SAMPLE_MM = 1
/** pairs this near to the limit may be told either way, mm */
const EITHER_WAY_MM = 1e-6

interface Truth { readonly clearanceMm: number, readonly onLeg: boolean }

export const errors: Bench = {
  name: 'errors',
  async run() {
    await initEngine()
    await initModeller()
    const { solids, curves } = instanceOf('S', 'blind')
    const index = indexed(solids, curves), out = emptyPairs(curves.length), pieces = piecesOf(curves)
    const truth = truthOf()
    everything(index, out)
    const ours = new Map<number, number>()
    for (let i = 0; i < out.solids.count; i++) ours.set(out.runs.items[i] * solids.count + out.solids.items[i], out.solidMm[i])
    const scene = engineScene(solids, pieces, curves.length)
    const rows: Cell[][] = [
      row('ours, geometry alone', ours), row('physics engine', askEngine(scene, 'bounds').solids),
      row('mesh volumes', askMesh(meshScene(solids, pieces)).solids), row('solid modeller', askModeller(modelledScene(solids, curves, index.grid)).solids),
    ]
    endEngine(scene)
    return [{
      title: `Errors of run-solid clearances below ${NEAR_MM} mm, ${truth.size} pairs looked at, mm`,
      head: ['program', 'on legs, most', 'on bends, most', 'where they overlap, most', 'apart, most', 'missed', 'made up'], rows,
      notes: ['where a program tells more or less than the lowest point found by sampling'],
    }]

    function truthOf(): Map<number, Truth> {
      const found = new IndexList(), all = new Map<number, Truth>()
      for (const [run, { elements, count }] of curves.entries()) for (let i = 0; i < count; i++) {
        const e = i * ELEMENT_STRIDE, near = index.grid.nearElement(elements, e, OUTER_RADIUS_MM + NEAR_MM + 10, found)
        for (let j = 0; j < near; j++) {
          const solid = found.items[j], key = run * solids.count + solid
          const clearanceMm = sampledLeast(elements, e, boxDistance(solids.data, solids.offset[solid])) - OUTER_RADIUS_MM
          const before = all.get(key)
          if (before === undefined || clearanceMm < before.clearanceMm) all.set(key, { clearanceMm, onLeg: elements[e + KIND] !== ARC })
        }
      }
      return all
    }

    function row(program: string, told: Map<number, number>): Cell[] {
      let leg = 0, bend = 0, overlap = 0, apart = 0, missed = 0, madeUp = 0
      for (const [key, { clearanceMm, onLeg }] of truth) {
        const said = told.get(key)
        if (said === undefined) {
          if (clearanceMm < NEAR_MM - EITHER_WAY_MM) missed++
          continue
        }
        const off = Math.abs(said - clearanceMm)
        if (onLeg) leg = Math.max(leg, off)
        else bend = Math.max(bend, off)
        if (clearanceMm < 0) overlap = Math.max(overlap, off)
        else apart = Math.max(apart, off)
        if (clearanceMm >= NEAR_MM + EITHER_WAY_MM) madeUp++
      }
      for (const key of told.keys()) if (!truth.has(key)) madeUp++
      return [program, leg, bend, overlap, apart, missed, madeUp]
    }
  },
}

/** Along a leg the distance to a box is convex: one valley. Along a bend every valley among the samples is closed in on. */
function sampledLeast(elements: Float64Array, e: number, distance: SignedDistance): number {
  const value = (part: number): number => distance(elementPoint(elements, e, part))
  if (elements[e + KIND] !== ARC) return Math.min(value(0), value(1), lowest(value, 0, 1))
  const count = Math.ceil(elements[e + LENGTH] / SAMPLE_MM)
  const values = Array.from({ length: count + 1 }, (_, i) => value(i / count))
  let least = Math.min(...values)
  for (let i = 0; i <= count; i++) {
    const a = Math.max(0, i - 1), b = Math.min(count, i + 1)
    if (values[i] <= values[a] && values[i] <= values[b] && values[i] < least + SAMPLE_MM) least = Math.min(least, lowest(value, a / count, b / count))
  }
  return least
}

/** The least of a function with one valley, by golden section (Kiefer 1953). */
function lowest(value: (part: number) => number, from: number, to: number): number {
  const share = (Math.sqrt(5) - 1) / 2
  let a = from, b = to, left = b - share * (b - a), right = a + share * (b - a)
  let atLeft = value(left), atRight = value(right)
  for (let step = 0; step < 90; step++) {
    if (atLeft < atRight) {
      b = right
      right = left
      atRight = atLeft
      left = b - share * (b - a)
      atLeft = value(left)
    } else {
      a = left
      left = right
      atLeft = atRight
      right = a + share * (b - a)
      atRight = value(right)
    }
  }
  return Math.min(atLeft, atRight)
}
