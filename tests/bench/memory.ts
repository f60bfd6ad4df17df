/** What a job of each size takes in memory, and how time and memory grow from one house to a hundred. */
import { assemble } from '#assembly/assemble.ts'
import { SolidGrid } from '#geometry/broad/solidGrid.ts'
import { checkJob, contextFor } from '#checks/index.ts'
import { formatJob, parseJob } from '#model/index.ts'
import type { Bench } from './bench.ts'
import { emptyPairs, everything, indexed } from './everything.ts'
import { HOUSES, instanceOf, type Size } from './instance.ts'
import { heapBytes, sideBySide } from './measure.ts'
import type { Cell, Table } from './table.ts'

export const memory: Bench = {
  name: 'memory',
  run({ sizes }) {
    const rows: Cell[][] = []
    const figures = new Map<string, Map<Size, number>>()
    const note = (what: string, size: Size, value: number): void => {
      figures.set(what, (figures.get(what) ?? new Map<Size, number>()).set(size, value))
    }
    for (const size of sizes) {
      const { job, solids, curves, assembly } = instanceOf(size, 'threaded')
      const packed = [solids.data, solids.offset, solids.kind, solids.bounds].reduce((sum, array) => sum + array.byteLength, 0)
      const times = Math.ceil(30 / HOUSES[size])
      const grid = kept(times, () => new SolidGrid(solids)), whole = kept(times, () => assemble(job)), checks = kept(times, () => contextFor(assembly))
      const text = formatJob(job)
      const read = kept(times, () => parseJob(text))
      rows.push([size, text.length / 1e6, read / 1e6, packed / 1e6, packed / solids.count, grid / 1e6, whole / 1e6, checks / 1e6])
      note('memory: solids and index', size, packed + grid)
      note('memory: job, assembly and checks', size, read + whole + checks)
      const index = indexed(solids, curves), out = emptyPairs(curves.length), context = contextFor(assembly)
      const [pairs, building, findings] = sideBySide([
        { name: 'pairs', work: () => everything(index, out) },
        { name: 'building', work: () => indexed(solids, curves) },
        { name: 'findings', work: () => checkJob(assembly, context) },
      ], 5)
      note('time: every pair below 25 mm', size, pairs.medianMs)
      note('time: building the index', size, building.medianMs)
      note('time: findings (checkJob)', size, findings.medianMs)
    }
    const tables: Table[] = [{
      title: 'Memory, MB (runs threaded)',
      head: ['size', 'file', 'job as read', 'solids packed', 'bytes a solid', 'their index', 'whole assembly', 'what the checks keep'], rows,
    }]
    if (sizes.length > 2) tables.push(growth(figures))
    return tables
  },
}

/** Exponent of growth: 1 is in step with the number of houses. One house lies whole in the processor's caches, ten do not. */
function growth(figures: Map<string, Map<Size, number>>): Table {
  return {
    title: 'Growth with the number of houses: exponent', head: ['what', 'L over S', 'exponent', 'L over M', 'exponent'],
    rows: [...figures].map(([what, by]) => [what, ...(['S', 'M'] as const).flatMap((from) => {
      const times = by.get('L')! / by.get(from)!
      return [times, Math.log(times) / Math.log(HOUSES.L / HOUSES[from])]
    })]),
  }
}

/** Bytes that stay in use while what was made is held; small things are made many times over. */
function kept(times: number, make: () => unknown): number {
  make()
  const before = heapBytes()
  const held = Array.from({ length: times }, make)
  return (heapBytes() - before) / held.length
}
