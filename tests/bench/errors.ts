/** How far off each program's clearances are, against a slow bracketing of the truth (tests/oracle), on one house of blind runs. */
import { IndexList } from '#geometry/broad/indexList.ts'
import { ARC, ELEMENT_STRIDE, KIND } from '#geometry/curve/centreline.ts'
import { boxDistance, bracketLeast } from '../oracle/solidDistance.ts'
import type { Bench } from './bench.ts'
import { emptyPairs, everything, indexed } from './everything.ts'
import { NEAR_MM, OUTER_RADIUS_MM, instanceOf } from './instance.ts'
import { askEngine, endEngine, engineScene, initEngine } from './peers/engine.ts'
import { askMesh, meshScene } from './peers/meshTree.ts'
import { askModeller, initModeller, modelledScene } from './peers/modeller.ts'
import { piecesOf } from './peers/pieces.ts'
import type { Cell } from './table.ts'

/** The reference is good to about this, mm. */
const BRACKET_MM = 1e-9
/** pairs this near to the limit may be told either way, mm */
const EITHER_WAY_MM = 1e-6

/** the true clearance lies between these, mm */
interface Truth { readonly low: number, readonly high: number, readonly onLeg: boolean }

export const errors: Bench = {
  name: 'errors',
  async run() {
    await initEngine()
    await initModeller()
    const { solids, curves } = instanceOf('S', 'blind')
    const index = indexed(solids, curves), out = emptyPairs(curves.length), pieces = piecesOf(curves)
    let widest = 0
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
      notes: [`what is told is how far outside the reference's bracket of the truth; the widest bracket is ${widest.toExponential(1)} mm`],
    }]

    function truthOf(): Map<number, Truth> {
      const found = new IndexList(), all = new Map<number, Truth>()
      for (const [run, { elements, count }] of curves.entries()) for (let i = 0; i < count; i++) {
        const e = i * ELEMENT_STRIDE, near = index.grid.nearElement(elements, e, OUTER_RADIUS_MM + NEAR_MM + 10, found)
        for (let j = 0; j < near; j++) {
          const solid = found.items[j], key = run * solids.count + solid
          const { low, high } = bracketLeast(elements, e, boxDistance(solids.data, solids.offset[solid]), BRACKET_MM, 6_000)
          const before = all.get(key), isLower = before === undefined || high - OUTER_RADIUS_MM < before.high
          all.set(key, {
            low: Math.min(low - OUTER_RADIUS_MM, before?.low ?? Infinity), high: Math.min(high - OUTER_RADIUS_MM, before?.high ?? Infinity),
            onLeg: isLower ? elements[e + KIND] !== ARC : before.onLeg,
          })
          widest = Math.max(widest, high - low)
        }
      }
      return all
    }

    function row(program: string, told: Map<number, number>): Cell[] {
      let leg = 0, bend = 0, overlap = 0, apart = 0, missed = 0, madeUp = 0
      for (const [key, { low, high, onLeg }] of truth) {
        const said = told.get(key)
        if (said === undefined) {
          if (high < NEAR_MM - EITHER_WAY_MM) missed++
          continue
        }
        const off = Math.max(said - high, low - said, 0)
        if (onLeg) leg = Math.max(leg, off)
        else bend = Math.max(bend, off)
        if (high < 0) overlap = Math.max(overlap, off)
        else apart = Math.max(apart, off)
        if (low >= NEAR_MM + EITHER_WAY_MM) madeUp++
      }
      for (const key of told.keys()) if (!truth.has(key)) madeUp++
      return [program, leg, bend, overlap, apart, missed, madeUp]
    }
  },
}
