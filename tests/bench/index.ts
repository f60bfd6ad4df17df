/**
 * npm run bench [-- --only NAME] [--quick] [--floors N] [--seed N]
 * Every figure is taken beside its peers in the same process, in turns; absolute times move with the machine, ratios and counts do not.
 * Prints tables and writes results/<name>.json beside this file.
 */
import { mkdirSync, writeFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { parseArgs } from 'node:util'
import type { Bench } from './bench.ts'
import { errors } from './errors.ts'
import { fullCheck } from './fullCheck.ts'
import { jobs } from './jobs.ts'
import { memory } from './memory.ts'
import { openings } from './openings.ts'
import { recheck } from './recheck.ts'
import { router } from './router.ts'
import { printed } from './table.ts'
import { view } from './view.ts'

const BENCHES: readonly Bench[] = [fullCheck, errors, recheck, memory, openings, jobs, view, router]

const { values } = parseArgs({ options: { only: { type: 'string', multiple: true }, quick: { type: 'boolean', default: false }, floors: { type: 'string' }, seed: { type: 'string' } } })
const whole = (text: string | undefined): number | undefined => text === undefined ? undefined : Math.max(1, Math.round(Number(text)))
const unknown = (values.only ?? []).filter((name) => BENCHES.every((bench) => bench.name !== name))
if (unknown.length > 0) {
  console.error(`No bench is called ${unknown.join(', ')}. There are: ${BENCHES.map(({ name }) => name).join(', ')}`)
  process.exit(2)
}

const results = new URL('results/', import.meta.url)
mkdirSync(results, { recursive: true })
const machine = () => `Node ${process.version}, ${cpus().length} cores, load ${loadavg()[0].toFixed(1)}`
console.log(`${machine()}\n`)
for (const bench of BENCHES) {
  if (values.only !== undefined && !values.only.includes(bench.name)) continue
  const tables = await bench.run({ sizes: values.quick ? ['S'] : ['S', 'M', 'L'], isQuick: values.quick, floors: whole(values.floors), firstSeed: whole(values.seed) })
  for (const table of tables) console.log(printed(table))
  writeFileSync(new URL(`${bench.name}.json`, results), `${JSON.stringify({ machine: machine(), isQuick: values.quick, tables }, null, 1)}\n`)
}
