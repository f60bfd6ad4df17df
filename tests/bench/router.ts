/**
 * Whole floors routed from nothing (fixtures/generate/routerFloors.ts), per family of webs and number of runs. Clean is by the checks of
 * the command line; on floors of up to 19 runs a slow judge that shares no distance with them (oracle/laidRuns.ts) looks as well. Lengths are
 * summed over a floor, over the least free length of its runs (oracle/leastLength.ts) and over the same runs routed alone. Times are of
 * the wall and of the processor given to this process. Seeds from 1001 on are for these tables only: nothing is tuned on them;
 * --seed takes others, --floors fewer.
 */
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import type { Job } from '#model/index.ts'
import { routeJob, type Routed, type RouteOptions } from '#routing/router/routeJob.ts'
import { WEB_FAMILIES, openRuns, routerFloor, type RouterFloorOptions } from '../../fixtures/generate/routerFloors.ts'
import { missesOf } from '../oracle/laidRuns.ts'
import { leastLengthOf } from '../oracle/leastLength.ts'
import type { Bench } from './bench.ts'
import { oneWays } from './oneWays.ts'
import type { Cell, Table } from './table.ts'

const FIRST_SEED = 1001, FLOORS = 20
/** joists beside the floor's own 28, for the growth with joists */
const MORE_JOISTS = [0, 28, 84]
const ALONE_TO = 19, USUAL_BENDS = 4
/** less than this long semi-rigid duct is eased aside by hand */
const EASED_DEG = 5

export const router: Bench = {
  name: 'router',
  run({ isQuick, floors = isQuick ? 2 : FLOORS, firstSeed = FIRST_SEED }) {
    // what is run for the first time is slower
    routeJob(routerFloor({ family: 'offset', runs: 5, seed: 1 }), ASK)
    const share = (of: number): number => Math.max(1, Math.round(floors * of))
    const sizes: readonly (readonly [runs: number, floors: number])[] = isQuick ? [[5, 1], [19, floors]] : [[5, share(0.5)], [19, floors], [40, share(0.25)], [80, share(0.1)]]
    const kinds: Omit<RouterFloorOptions, 'runs' | 'seed'>[] = [...WEB_FAMILIES.map((family) => ({ family })), { family: 'staggered', isCrowded: true }]
    const all = kinds.flatMap((kind) => sizes.flatMap(([runs, count]) => kind.isCrowded === true && runs > ALONE_TO ? [] : [measured({ ...kind, runs }, firstSeed, count)]))
    const wide = MORE_JOISTS.map((moreJoists) => measured({ family: 'staggered', runs: 19, moreJoists }, firstSeed, share(0.2), true))
    return [laidTable(all, firstSeed), timeTable(all), growthTable(all, wide), oneWays(firstSeed, share(0.1)), faultTable([...all, ...wide])]
  },
}

interface Floor {
  readonly seed: number
  readonly isClean: boolean
  readonly routed: Routed
  /** bends of each run that was laid */
  readonly bends: readonly number[]
  /** bends in all that turn more than EASED_DEG */
  readonly sharper: number
  readonly overFree: number
  /** NaN where it was not asked */
  readonly overAlone: number
  /** what the slow judge found; NaN where it did not look */
  readonly misses: number
  readonly time: Time
  readonly again: Time | null
}
interface Time { readonly wallS: number, readonly cpuS: number }
interface Kind { readonly name: string, readonly runs: number, readonly joists: number, readonly floors: readonly Floor[] }

function timed<T>(work: () => T): [T, Time] {
  const wall = performance.now(), cpu = process.cpuUsage(), value = work(), { user, system } = process.cpuUsage(cpu)
  return [value, { wallS: (performance.now() - wall) / 1000, cpuS: (user + system) / 1e6 }]
}

function measured(options: Omit<RouterFloorOptions, 'seed'>, firstSeed: number, count: number, isTimeOnly = false): Kind {
  const { family, runs, isCrowded = false, moreJoists = 0 } = options, name = `${family}${isCrowded ? ', crowded' : ''}`
  console.error(`router: ${name}, ${runs} runs, ${moreJoists} joists more, ${count} floors`)
  const floors = Array.from({ length: count }, (_, k) => floorOf(routerFloor({ ...options, seed: firstSeed + k }), firstSeed + k, !isTimeOnly && runs <= ALONE_TO, !isTimeOnly))
  return { name, runs, joists: routerFloor({ ...options, seed: firstSeed }).joistFields[0].joists.length, floors }
}

const ASK: RouteOptions = { runs: 'all', isExplained: false }

function takenUp(job: Job, ids: readonly string[]): Job {
  return { ...job, runs: job.runs.map((run) => ids.includes(run.id) ? { ...run, waypoints: [run.waypoints[0], run.waypoints.at(-1)!] } : run) }
}

function floorOf(job: Job, seed: number, isClose: boolean, isAgain: boolean): Floor {
  const ids = openRuns(job), [routed, time] = timed(() => routeJob(job, ASK))
  const assembly = assemble(routed.job), laid = new Set(routed.runs.flatMap(({ isRouted, runId }) => isRouted ? [runId] : []))
  const isClean = routed.ended === 'routed' && checkJob(assembly).every(({ severity }) => severity === 'advice')
  const freeMm = assembly.runs.reduce((sum, placed) => laid.has(placed.run.id) ? sum + leastLengthOf(placed).freeMm : sum, 0)
  const bare = takenUp(routed.job, ids), one = ids[seed % ids.length]
  const aloneMm = isClose && isClean ? ids.reduce((sum, id) => sum + routeJob({ ...bare, runs: bare.runs.filter((run) => run.id === id || !ids.includes(run.id)) }, { ...ASK, runs: [id], ports: 'kept' }).lengthMm, 0) : NaN
  return {
    seed, isClean, routed, time, overFree: routed.lengthMm / freeMm, overAlone: routed.lengthMm / aloneMm,
    bends: routed.runs.flatMap(({ isRouted, bendCount }) => isRouted ? [bendCount] : []),
    sharper: sum(assembly.runs.map(({ run, bends }) => laid.has(run.id) ? bends.filter(({ turnRad }) => turnRad > EASED_DEG * Math.PI / 180).length : 0)),
    misses: isClose ? missesOf(routed.job, [...laid]).length : NaN,
    again: isAgain && isClean ? timed(() => routeJob(takenUp(routed.job, [one]), { ...ASK, runs: [one] }))[1] : null,
  }
}

function sum(list: readonly number[]): number {
  return list.reduce((a, b) => a + b, 0)
}

function median(list: readonly number[]): number {
  const known = list.filter((value) => !Number.isNaN(value)).sort((a, b) => a - b), middle = known.length >> 1
  return known.length === 0 ? NaN : known.length % 2 === 1 ? known[middle] : (known[middle - 1] + known[middle]) / 2
}

function most(list: readonly number[]): number {
  const known = list.filter((value) => !Number.isNaN(value))
  return known.length === 0 ? NaN : Math.max(...known)
}

function laidTable(kinds: readonly Kind[], firstSeed: number): Table {
  return {
    title: `Floors routed, seeds from ${firstSeed}`,
    head: ['webs', 'runs', 'floors', 'clean', 'runs laid', 'slow judge finds', 'over free, median', 'worst', 'over alone, median', 'worst', 'bends a run', `over ${EASED_DEG} degrees`, 'most bends', 'over four', 'crossings a run'],
    rows: kinds.map(({ name, runs, floors }) => {
      const bends = floors.flatMap((floor) => floor.bends), overFree = floors.map((floor) => floor.overFree), overAlone = floors.map((floor) => floor.overAlone)
      const judged = floors.map(({ misses }) => misses).filter((count) => !Number.isNaN(count))
      return [
        name, runs, floors.length, floors.filter(({ isClean }) => isClean).length / floors.length, bends.length / (runs * floors.length), judged.length === 0 ? NaN : sum(judged),
        median(overFree), most(overFree), median(overAlone), most(overAlone), sum(bends) / bends.length, sum(floors.map(({ sharper }) => sharper)) / bends.length, most(bends), bends.filter((count) => count > USUAL_BENDS).length / bends.length,
        sum(floors.map(({ routed }) => routed.crossings.length)) / bends.length,
      ]
    }),
    notes: ['clean: share of floors with every run laid and nothing to put right; runs laid: share of all runs asked for', 'over free: length over a bound that looks at nothing but the two ends and the least bend radius; over alone: over the same runs routed one by one'],
  }
}

function timeTable(kinds: readonly Kind[]): Table {
  return {
    title: 'Time to route, seconds', head: ['webs', 'runs', 'wall, median', 'wall, worst', 'processor, median', 'processor, worst', 'one again, wall', 'worst', 'one again, processor', 'worst', 'steps, median'],
    rows: kinds.map(({ name, runs, floors }) => {
      const times = floors.map(({ time }) => time), again = floors.flatMap((floor) => floor.again ?? [])
      return [name, runs, ...figures(times), ...figures(again), median(floors.map(({ routed }) => routed.steps))]
    }),
    notes: ['one again: one of the runs taken up and laid again beside the rest, the job assembled anew'],
  }
}

function figures(times: readonly Time[]): Cell[] {
  return [median(times.map(({ wallS }) => wallS)), most(times.map(({ wallS }) => wallS)), median(times.map(({ cpuS }) => cpuS)), most(times.map(({ cpuS }) => cpuS))]
}

/** Slope of the straight line through the logarithms, least squares. */
function exponentOf(points: readonly (readonly [x: number, y: number])[]): number {
  const logs = points.filter(([, y]) => y > 0).map(([x, y]) => [Math.log(x), Math.log(y)]), mean = [0, 1].map((k) => sum(logs.map((one) => one[k])) / logs.length)
  return logs.length < 2 ? NaN : sum(logs.map(([x, y]) => (x - mean[0]) * (y - mean[1]))) / sum(logs.map(([x]) => (x - mean[0]) ** 2))
}

function growthTable(kinds: readonly Kind[], wide: readonly Kind[]): Table {
  const cpuOf = ({ floors }: Kind): number => median(floors.map(({ time }) => time.cpuS))
  const names = [...new Set(kinds.map(({ name }) => name))]
  return {
    title: 'Growth: exponent of the processor time, by medians', head: ['of', 'webs', 'at', 'processor, s', 'exponent'],
    rows: [
      ...names.map((name): Cell[] => {
        const own = kinds.filter((kind) => kind.name === name)
        return ['runs', name, own.map(({ runs }) => runs).join(', '), own.map((kind) => cpuOf(kind).toFixed(2)).join(', '), exponentOf(own.map((kind) => [kind.runs, cpuOf(kind)]))]
      }),
      ['joists a field, 19 runs', wide[0].name, wide.map(({ joists }) => joists).join(', '), wide.map((kind) => cpuOf(kind).toFixed(2)).join(', '), exponentOf(wide.map((kind) => [kind.joists, cpuOf(kind)]))],
    ],
    notes: ['40 runs lie on two floors, 80 on four: joists grow with them. More joists lie beside the floor, where no run has to go'],
  }
}

function faultTable(kinds: readonly Kind[]): Table {
  return {
    title: 'Floors that were not laid clean', head: ['webs', 'runs', 'joists', 'seed', 'ended', 'not laid'],
    rows: kinds.flatMap(({ name, runs, joists, floors }) => floors.filter(({ isClean }) => !isClean).map(({ seed, routed }): Cell[] => [name, runs, joists, seed, routed.ended, routed.runs.filter(({ isRouted }) => !isRouted).map(({ runId }) => runId).join(' ')])),
  }
}
