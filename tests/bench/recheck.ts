/**
 * One waypoint moved: everything about the job up to date again. Only the moved run's own pairs change, so that is all that is
 * asked: by the geometry alone, by the product with findings in words, and by the peers (their capsules left where they are, which favours them).
 */
import { placeRun } from '#assembly/runs.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import { checkRun, contextFor, withRun } from '#checks/index.ts'
import { sentenceOf, titleOf } from '#checks/wording.ts'
import { between, seeded } from '../oracle/drawnElements.ts'
import type { Bench } from './bench.ts'
import { emptyPairs, everythingOfRun, indexed } from './everything.ts'
import { instanceOf, type Instance, type Size } from './instance.ts'
import { at } from './measure.ts'
import { askEngineAgain, endEngine, engineScene, initEngine } from './peers/engine.ts'
import { askMesh, meshScene } from './peers/meshTree.ts'
import { piecesOf } from './peers/pieces.ts'
import type { Cell, Table } from './table.ts'

const SEED = 71, MOVES = 400, WARM_MS = 400
/** moves in which garbage is weighed, too few for it to be collected meanwhile as a rule, and how often: the median counts */
const WEIGHED = 12, WEIGHINGS = 5

interface Moved { readonly runIndex: number, readonly run: PlacedRun['run'] }

export const recheck: Bench = {
  name: 'recheck',
  async run({ sizes, isQuick }) {
    await initEngine()
    const rows: Cell[][] = [], garbage: Cell[][] = []
    for (const density of ['blind', 'threaded'] as const) for (const size of sizes) {
      measureOne(instanceOf(size, density), isQuick || size === 'L' ? MOVES / 4 : MOVES, rows, garbage)
    }
    const tables: Table[] = [{
      title: 'One waypoint moved by up to 20 mm: microseconds until everything is up to date',
      head: ['size', 'runs', 'program', 'median', '99th of 100', 'times ours (medians)'], rows,
      notes: ['product: the run placed again, its findings, their titles and sentences; every other run keeps its own.'],
    }, {
      title: 'Garbage of one re-check', head: ['size', 'runs', 'program', 'bytes made', 'bytes kept'], rows: garbage,
    }]
    return tables
  },
}

function measureOne({ size, density, solids, curves, assembly }: Instance, moveCount: number, rows: Cell[][], garbage: Cell[][]): void {
  const index = indexed(solids, curves), out = emptyPairs(curves.length)
  const context = contextFor(assembly)
  const moves = movesOf(assembly.runs, moveCount)
  const centrelines = moves.map(({ runIndex, run }) => placedAgain(assembly.runs[runIndex], run))
  const kernel = (i: number): void => everythingOfRun(index, moves[i].runIndex, centrelines[i].centreline, out)
  const geometry = (i: number): void => {
    const { runIndex, run } = moves[i]
    everythingOfRun(index, runIndex, placedAgain(assembly.runs[runIndex], run).centreline, out)
  }
  const product = (i: number): number => {
    const { runIndex, run } = moves[i]
    const findings = checkRun(withRun(context, runIndex, placedAgain(assembly.runs[runIndex], run)), runIndex)
    return findings.reduce((sum, finding) => sum + titleOf(finding).length + sentenceOf(finding).length, 0)
  }
  const pieces = piecesOf(curves)
  const mesh = meshScene(solids, pieces)
  const add = (program: string, work: (i: number) => unknown, count = moves.length): void => {
    const sorted = microseconds(work, count)
    const median = at(sorted, 0.5)
    if (program === OURS) own = median
    rows.push([size, density, program, median, at(sorted, 0.99), median / own])
  }
  let own = NaN
  add(OURS, kernel)
  add('ours, waypoints to centreline as well', geometry)
  add('product, findings and words', product)
  addEngine(size, () => {
    const scene = engineScene(solids, pieces, curves.length)
    add('physics engine', (i) => askEngineAgain(scene, moves[i].runIndex), 20)
    endEngine(scene)
  })
  const piecesOfRun = Array.from(curves, (_, run) => pieces.filter((piece) => piece.run === run))
  add('mesh volumes', (i) => askMesh({ ...mesh, pieces: piecesOfRun[moves[i].runIndex] }), Math.min(100, moves.length))
  for (const [program, work] of [[OURS, kernel], ['product, findings and words', product]] as const) {
    const { made, kept } = bytes(work)
    garbage.push([size, density, program, made, kept])
  }
}

const OURS = 'ours, geometry alone'

/** The engine's step at a hundred houses takes seconds; it is left out there. */
function addEngine(size: Size, measure: () => void): void {
  if (size !== 'L') measure()
}

function placedAgain({ type, from, to }: PlacedRun, run: PlacedRun['run']): PlacedRun {
  return placeRun(run, type, from, to)
}

function movesOf(runs: readonly PlacedRun[], count: number): Moved[] {
  const draw = seeded(SEED)
  return Array.from({ length: count }, () => {
    const runIndex = Math.floor(draw() * runs.length), { run } = runs[runIndex]
    const moved = Math.floor(draw() * run.waypoints.length)
    const shifted = (c: number): number => c + between(draw, -20, 20)
    return { runIndex, run: { ...run, waypoints: run.waypoints.map((w, i) => i === moved ? { ...w, at: [shifted(w.at[0]), shifted(w.at[1]), shifted(w.at[2])] as const as [number, number, number] } : w) } }
  })
}

/** Processor time of each of `count` goes, ascending, after some to warm up. */
function microseconds(work: (i: number) => unknown, count: number): number[] {
  const until = performance.now() + WARM_MS
  for (let i = 0; i < count || performance.now() < until; i++) work(i % count)
  return Array.from({ length: count }, (_, i) => {
    const start = process.cpuUsage()
    work(i)
    const { user, system } = process.cpuUsage(start)
    return user + system
  }).sort((a, b) => a - b)
}

function bytes(work: (i: number) => unknown): { made: number, kept: number } {
  const collect = (globalThis as { gc?: () => void }).gc
  if (collect === undefined) throw new Error('recheck: start with --expose-gc')
  const made: number[] = [], kept: number[] = []
  for (let k = 0; k < WEIGHINGS; k++) {
    collect()
    collect()
    const before = inUse()
    for (let i = 0; i < WEIGHED; i++) work(i)
    made.push((inUse() - before) / WEIGHED)
    collect()
    collect()
    kept.push((inUse() - before) / WEIGHED)
  }
  return { made: Math.round(middleOf(made)), kept: Math.max(0, Math.round(middleOf(kept))) }
}

function inUse(): number {
  const { heapUsed, arrayBuffers } = process.memoryUsage()
  return heapUsed + arrayBuffers
}

function middleOf(values: readonly number[]): number {
  return at([...values].sort((a, b) => a - b), 0.5)
}
