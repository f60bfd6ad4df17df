/** The whole question at each size, ours beside the peers in turns; building the indexes; and what the product adds to it. */
import { checkJob, contextFor } from '#checks/index.ts'
import type { Bench } from './bench.ts'
import { emptyPairs, everything, indexed } from './everything.ts'
import { HOUSES, instanceOf, type Instance } from './instance.ts'
import { sideBySide, type Contestant, type Timed } from './measure.ts'
import { askEngine, endEngine, engineScene, initEngine } from './peers/engine.ts'
import { askMesh, meshScene } from './peers/meshTree.ts'
import { askModeller, initModeller, modelledScene } from './peers/modeller.ts'
import { piecesOf } from './peers/pieces.ts'
import type { Cell, Table } from './table.ts'

const OURS = 'ours, geometry alone'

export const fullCheck: Bench = {
  name: 'full-check',
  async run({ sizes }) {
    await initEngine()
    await initModeller()
    const tables: Table[] = []
    for (const density of ['blind', 'threaded'] as const) {
      const rows: Cell[][] = [], counts: Cell[][] = []
      for (const size of sizes) {
        const instance = instanceOf(size, density)
        const { timed, candidates, solidPairs, runPairs } = await sameQuestion(instance)
        rows.push(...rowsOf(size, timed))
        const ours = timed.find(({ name }) => name === OURS)!
        counts.push([size, instance.solids.count, instance.curves.length, instance.elementCount, candidates, solidPairs, runPairs, 1e6 * ours.medianMs / candidates, 1e6 * ours.leastMs / candidates])
      }
      tables.push({
        title: `Every pair below 25 mm, runs ${density}: ms`,
        head: ['size', 'program', 'median', 'least', 'times ours (medians)', 'turns', ''], rows,
        notes: ['mesh volumes: run-solid only, no overlap depth. solid modeller: told by our index which pairs to ask about; 0 for any overlap.'],
      }, {
        title: `What was asked and found, runs ${density}`,
        head: ['size', 'boxes', 'runs', 'legs and bends', 'element-box pairs measured', 'run-solid below 25', 'run-run below 25', 'median ns a pair measured', 'least'], rows: counts,
      })
    }
    tables.push(building(sizes.map((size) => instanceOf(size, 'blind'))))
    return tables
  },
}

async function sameQuestion({ size, solids, curves, assembly }: Instance) {
  const index = indexed(solids, curves), out = emptyPairs(curves.length)
  const pieces = piecesOf(curves)
  const context = contextFor(assembly)
  const scene = engineScene(solids, pieces, curves.length), mesh = meshScene(solids, pieces)
  const contestants: Contestant[] = [
    { name: OURS, work: () => everything(index, out) },
    { name: 'ours, with findings (checkJob)', work: () => checkJob(assembly, context) },
    { name: 'physics engine, found by shape', work: () => askEngine(scene, 'shape') },
    { name: 'physics engine, found by bounds', work: () => askEngine(scene, 'bounds') },
    { name: 'mesh volumes', work: () => askMesh(mesh) },
  ]
  if (size === 'S') {
    const modelled = modelledScene(solids, curves, index.grid)
    contestants.push({ name: 'solid modeller', work: () => askModeller(modelled) })
  }
  const timed = sideBySide(contestants)
  endEngine(scene)
  return { timed, candidates: out.candidates, solidPairs: out.solids.count, runPairs: out.second.count }
}

function rowsOf(size: string, timed: readonly Timed[]): Cell[][] {
  const ours = timed[0].medianMs
  return timed.map(({ name, medianMs, leastMs, turns, failed }) => [size, name, medianMs, leastMs, medianMs / ours, turns, failed ?? ''])
}

function building(instances: readonly Instance[]): Table {
  const rows: Cell[][] = []
  for (const { size, solids, curves } of instances) {
    const pieces = piecesOf(curves)
    const timed = sideBySide([
      { name: 'ours', work: () => indexed(solids, curves) },
      { name: 'physics engine', work: () => endEngine(engineScene(solids, pieces, curves.length)) },
      { name: 'mesh volumes', work: () => meshScene(solids, pieces) },
    ], HOUSES[size] > 10 ? 3 : 7)
    rows.push(...rowsOf(size, timed))
  }
  return { title: 'Building the index over solids and runs: ms', head: ['size', 'program', 'median', 'least', 'times ours (medians)', 'turns', ''], rows }
}
