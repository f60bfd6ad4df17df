/**
 * The work that everything here is timed on: a house is 30 open-web joists 10 m long at 400 mm, 304 mm deep, chords 97 x 47 mm, a
 * diagonal every 300 mm on both faces (plates 2 x 40 mm), each joist's webs offset at random: about 2,000 boxes; and 20 runs of
 * 90 mm duct bent at 180 mm, up to six legs. Ten and a hundred such houses stand side by side. Millimetres; the same for the same seed.
 *
 * 'blind': runs laid without looking, so that nearly every one clashes. 'threaded': 18 of 20 runs pass clear of every solid and of
 * each other, as a laid job does; the other two are blind.
 */
import { assemble } from '#assembly/assemble.ts'
import { SolidGrid } from '#geometry/broad/solidGrid.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE, PAIR_ANSWER_SIZE, elementDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { ELEMENT_STRIDE, type Centreline } from '#geometry/curve/centreline.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { formatProblems, readJobValue, type Job, type JobInput } from '#model/index.ts'
import { between, seeded, type Draw } from '../oracle/drawnElements.ts'

export type Density = 'blind' | 'threaded'
type Point = [number, number, number]

export const OUTER_RADIUS_MM = 45
export const BEND_MM = 180
export const RUNS_PER_HOUSE = 20
const JOISTS = 30, CENTRES = 400, LENGTH = 10_000, DEPTH = 304, CHORD = 47, PITCH = 600
/** houses stand in rows of ten */
const HOUSE_X = LENGTH + 1_000, HOUSE_Y = JOISTS * CENTRES + 1_000
/** after this many different houses they repeat, so that a hundred do not take long to lay */
const DIFFERENT_HOUSES = 10
/** a threaded run clears everything by at least this, mm */
const THREADED_MM = 2

export function houseJob({ seed, houses = 1, density }: { seed: number, houses?: number, density: Density }): Job {
  const read = readJobValue(houseJobInput({ seed, houses, density }))
  if (!read.ok) throw new Error(formatProblems(read))
  return read.job
}

export function houseJobInput({ seed, houses = 1, density }: { seed: number, houses?: number, density: Density }): JobInput {
  const laid = Array.from({ length: Math.min(houses, DIFFERENT_HOUSES) }, (_, i) => layHouse(seed + i, density))
  const runs: NonNullable<JobInput['runs']> = [], equipment: NonNullable<JobInput['equipment']> = []
  const joistFields: NonNullable<JobInput['joistFields']> = []
  for (let h = 0; h < houses; h++) {
    const { nodesMm, waypoints } = laid[h % laid.length]
    const x0 = h % 10 * HOUSE_X, y0 = Math.floor(h / 10) * HOUSE_Y
    joistFields.push(fieldOf(`H${h + 1}`, [x0, y0, 0], nodesMm))
    // one body off to the side that every end of the house's runs is on: the runs are what is asked about
    const centre: Point = [x0 + LENGTH + 500, y0 - 500, 0]
    const body = { id: `H${h + 1}-m`, name: `manifold ${h + 1}`, kind: 'manifold' as const, centre, sizeMm: [300, 300, 150] as Point }
    equipment.push({ ...body, spigots: waypoints.flatMap((points, r) => [points[0], points[points.length - 1]].map((at, end) => ({
      id: `${r}-${end}`, at: [x0 + at[0] - centre[0], y0 + at[1] - centre[1], at[2] - centre[2]] as Point,
      axis: axisAt(points, end), diameterMm: 90, lengthMm: 0,
    }))) })
    waypoints.forEach((points, r) => runs.push({
      id: `H${h + 1}-R${r + 1}`, name: `run ${r + 1} of house ${h + 1}`, type: 'd90',
      from: { equipment: body.id, spigot: `${r}-0` }, to: { equipment: body.id, spigot: `${r}-1` },
      waypoints: points.map(([x, y, z]) => ({ at: [x0 + x, y0 + y, z] as Point })),
    }))
  }
  return {
    format: 'joistway-job', version: 1, name: `${houses} houses, ${density}`, settings: { clearanceMm: 25 },
    sections: [{ kind: 'open-web', id: 'S', name: 'open-web 304', depthMm: DEPTH, chordWidthMm: 97, chordHeightMm: CHORD, webPitchMm: PITCH, webWidthMm: 40, webThicknessMm: 2 }],
    ductTypes: [{ kind: 'semi-rigid', id: 'd90', name: '90 mm duct', innerDiameterMm: 76, outerDiameterMm: 90, minBendRadiusMm: BEND_MM }],
    joistFields, equipment, runs,
  }
}

function fieldOf(id: string, origin: Point, nodesMm: readonly number[]): NonNullable<JobInput['joistFields']>[number] {
  return {
    id, name: `joists of ${id}`, section: 'S', origin, directionDeg: 0, centresMm: CENTRES, lengthMm: LENGTH,
    joists: nodesMm.map((firstNodeMm, j) => ({ id: `${id}-J${j + 1}`, firstNodeMm })),
  }
}

/** The way out of the body, which is against the run at its end. */
function axisAt(points: readonly Point[], end: number): Point {
  const [a, b] = end === 0 ? [points[0], points[1]] : [points[points.length - 1], points[points.length - 2]]
  const size = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2])
  return [(b[0] - a[0]) / size, (b[1] - a[1]) / size, (b[2] - a[2]) / size]
}

interface LaidHouse { readonly nodesMm: readonly number[], readonly waypoints: readonly Point[][] }

function layHouse(seed: number, density: Density): LaidHouse {
  const draw = seeded(seed)
  const nodesMm = Array.from({ length: JOISTS }, () => Math.round(between(draw, 0, PITCH)))
  const blind = Array.from({ length: RUNS_PER_HOUSE }, () => blindRun(draw))
  if (density === 'blind') return { nodesMm, waypoints: blind }
  const bare = houseOfJoists(nodesMm)
  const threadedCount = Math.round(0.9 * RUNS_PER_HOUSE)
  const clear: Centreline[] = [], waypoints = blind.slice(threadedCount)
  for (let tries = 0; clear.length < threadedCount; tries++) {
    if (tries > 2_000) throw new Error(`layHouse: seed ${seed} does not thread`)
    const run = threadedRun(draw, bare, clear)
    if (run === null) continue
    clear.push(centrelineOf(run))
    waypoints.push(run)
  }
  return { nodesMm, waypoints }
}

export function centrelineOf(points: readonly Point[]): Centreline {
  return centrelineThrough(points.flat(), points.map(() => BEND_MM)).centreline
}

/** Two to six legs across the house at any heading, turning by up to 110 degrees, with room for every bend. */
function blindRun(draw: Draw): Point[] {
  const legs = 2 + Math.floor(draw() * 5)
  for (;;) {
    const points: Point[] = [[between(draw, 0, LENGTH), between(draw, 0, JOISTS * CENTRES), between(draw, 60, DEPTH - 60)]]
    let heading = between(draw, 0, 2 * Math.PI)
    for (let i = 0; i < legs; i++) {
      const length = between(draw, 700, 4_000), [x, y] = points[i]
      points.push([x + length * Math.cos(heading), y + length * Math.sin(heading), between(draw, 60, DEPTH - 60)])
      heading += between(draw, -1.9, 1.9)
    }
    if (points.every(([x, y]) => x >= 0 && x <= LENGTH && y >= 0 && y <= JOISTS * CENTRES)) return points
  }
}

interface Bare { readonly solids: SolidSet, readonly grid: SolidGrid }

function houseOfJoists(nodesMm: readonly number[]): Bare {
  const { runs: _, equipment: __, joistFields: ___, ...rest } = houseJobInputOfNone()
  const read = readJobValue({ ...rest, joistFields: [fieldOf('H', [0, 0, 0], nodesMm)] })
  if (!read.ok) throw new Error(formatProblems(read))
  const { solids } = assemble(read.job)
  return { solids, grid: new SolidGrid(solids) }
}

function houseJobInputOfNone(): JobInput {
  return houseJobInput({ seed: 0, houses: 0, density: 'blind' })
}

/** Along a bay, across one to three joists, along a bay and so on: each next leg is drawn until one is clear. Null when it is stuck. */
function threadedRun(draw: Draw, bare: Bare, others: readonly Centreline[]): Point[] | null {
  const legs = 2 + Math.floor(draw() * 5), z = between(draw, 115, DEPTH - 115)
  const bay = Math.floor(draw() * (JOISTS - 1))
  let points: Point[] = [[between(draw, 300, LENGTH - 300), (bay + 0.5) * CENTRES + between(draw, -60, 60), z]]
  let isAlong = true
  for (let leg = 0; leg < legs; leg++) {
    let longer: Point[] | null = null
    for (let tries = 0; tries < 150 && longer === null; tries++) {
      const [x, y] = points[leg]
      const side = draw() < 0.5 ? -1 : 1
      const next: Point = isAlong
        ? [x + side * between(draw, 400, 3_000), y, z + between(draw, -5, 5)]
        : [x, (Math.floor(y / CENTRES) + 0.5 + side * (1 + Math.floor(draw() * 3))) * CENTRES + between(draw, -60, 60), z + between(draw, -5, 5)]
      if (next[0] < 100 || next[0] > LENGTH - 100 || next[1] < 200 || next[1] > (JOISTS - 1) * CENTRES - 200) continue
      const { centreline, bends } = centrelineThrough([...points, next].flat(), [...points, next].map(() => BEND_MM))
      if (bends.every(({ radiusMm }) => radiusMm === BEND_MM) && isClear(centreline, bare, others)) longer = [...points, next]
    }
    if (longer === null) return points.length > 3 ? points : null
    points = longer
    isAlong = !isAlong
  }
  return points
}

const found = new IndexList()
const answer = new Float64Array(ANSWER_SIZE), pairAnswer = new Float64Array(PAIR_ANSWER_SIZE)

/** Only the last leg, the bend before it and the leg that this bend shortened are asked about. */
function isClear({ elements, count }: Centreline, { solids, grid }: Bare, others: readonly Centreline[]): boolean {
  const least = OUTER_RADIUS_MM + THREADED_MM
  for (let i = count - 1; i >= Math.max(0, count - 3); i--) {
    const e = i * ELEMENT_STRIDE
    const near = grid.nearElement(elements, e, least, found)
    for (let j = 0; j < near; j++) if (elementDistance(elements, e, solids, found.items[j], least, answer) < least) return false
    for (const other of others) for (let o = 0; o < other.count; o++) {
      if (elementsDistance(elements, e, other.elements, o * ELEMENT_STRIDE, least + OUTER_RADIUS_MM, pairAnswer) < least + OUTER_RADIUS_MM) return false
    }
  }
  return true
}
