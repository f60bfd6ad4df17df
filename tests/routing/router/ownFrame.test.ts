import { readFileSync, readdirSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { elementDistance } from '#geometry/clearance/index.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { jobJsonSchema, parseJob, type Job, type JsonSchema } from '#model/index.ts'
import { readJobValue } from '#model/parse.ts'
import { movedJob } from '#routing/router/movedJob.ts'
import { inOwnFrame, ownFrameOf } from '#routing/router/ownFrame.ts'
import { IMPOSSIBLE_CAUSES, impossibleFloor } from '../../../fixtures/generate/impossibleFloors.ts'
import { routerFloor } from '../../../fixtures/generate/routerFloors.ts'
import { richJob } from '../../model/richJob.ts'
import { seeded } from '../../oracle/seeded.ts'
import { motion } from './motions.ts'

/** Numbers of the project file that can be below 0 and are places, heights or directions on site. */
const MOVED = [
  'rooms.outline', 'rooms.floorMm', 'rooms.ceilingMm', 'rooms.doors.at', 'zones.outline', 'zones.holes', 'zones.undersideMm', 'zones.topMm',
  'joistFields.origin', 'joistFields.directionDeg', 'solids.shape:box.centre', 'solids.shape:box.rotationDeg', 'solids.shape:prism.origin', 'solids.shape:prism.rotationDeg',
  'solids.shape:cylinder.from', 'solids.shape:cylinder.to', 'solids.shape:tube.points', 'sleeves.at', 'sleeves.axis', 'equipment.centre', 'equipment.rotationDeg',
  'runs.waypoints.at', 'views.eye', 'views.target', 'views.up', 'views.cut.at', 'views.cut.towards', 'underlay.marks.at', 'underlay.levelMm',
]
/** The others: told from a joist, a box, a prism's own origin or a picture, or no place at all. */
const STAYING = [
  'version', 'joistFields.firstNodeMm', 'joistFields.joists.positionMm', 'joistFields.joists.startMm', 'joistFields.joists.firstNodeMm',
  'solids.shape:prism.outline', 'solids.shape:prism.holes', 'solids.shape:prism.bottomMm', 'solids.shape:prism.topMm', 'equipment.spigots.at', 'equipment.spigots.axis',
  'equipment.airflow.settings.setting', 'underlay.marks.pixel', 'air.airC', 'air.altitudeM', 'air.commissioning.rounds.readings.setting',
]

function signedNumbers(node: JsonSchema, path: string, into: Set<string>): void {
  const list = (key: string): JsonSchema[] => node[key] as JsonSchema[] | undefined ?? []
  if (node['type'] === 'number' || node['type'] === 'integer') {
    if (!(node['minimum'] as number >= 0)) into.add(path)
    return
  }
  for (const one of [...list('oneOf'), ...list('anyOf')]) {
    const kind = (one['properties'] as Record<string, JsonSchema> | undefined)?.['kind']?.['const']
    signedNumbers(one, kind === undefined ? path : `${path}:${String(kind)}`, into)
  }
  for (const [key, inner] of Object.entries(node['properties'] as Record<string, JsonSchema> | undefined ?? {})) signedNumbers(inner, path === '' ? key : `${path}.${key}`, into)
  for (const inner of [...list('prefixItems'), ...node['items'] === undefined ? [] : [node['items'] as JsonSchema]]) signedNumbers(inner, path, into)
}

/** Paths of every value in which two jobs differ, as above. */
function changedPaths(a: unknown, b: unknown, path: string, into: Set<string>): void {
  if (typeof a !== 'object' || a === null) {
    if (!Object.is(a, b)) into.add(path)
    return
  }
  const kind = path.endsWith('shape') ? `:${(a as { kind: string }).kind}` : ''
  for (const [key, inner] of Object.entries(a)) changedPaths(inner, (b as Record<string, unknown>)[key], Array.isArray(a) ? path : path === '' ? key : `${path}${kind}.${key}`, into)
}

describe('a whole job moved', () => {
  test('every number of the project file that may be a place or a direction is known to move or to stay', () => {
    const all = new Set<string>()
    signedNumbers(jobJsonSchema(), '', all)
    expect([...all].sort()).toEqual([...MOVED, ...STAYING].sort())
  })

  test('all that have a place on site move with it, and nothing else changes', () => {
    const rich = richJob(), view = rich.views[0]
    const read = readJobValue({ ...rich, views: [{ ...view, up: [0.3, 0.1, 1] }] })
    if (!read.ok) throw new Error('the rich job cannot be read')
    const changed = new Set<string>()
    changedPaths(read.job, movedJob(read.job, motion(33, [7, -11, 13])), '', changed)
    expect([...changed].sort()).toEqual([...MOVED].sort())
  })
})

const folder = (name: string) => new URL(`../../../fixtures/${name}/`, import.meta.url)
const kept = ['good', 'bad'].flatMap((name) => readdirSync(folder(name)).filter((file) => file.endsWith('.json') && !file.includes('.expected.')).map((file): [string, () => Job] => [file, () => {
  const read = parseJob(readFileSync(new URL(file, folder(name)), 'utf8'))
  if (!read.ok) throw new Error(`${file} cannot be read`)
  return read.job
}]))
const rich = (): Job => {
  const job = richJob(), read = readJobValue({ ...job, equipment: job.equipment.map((one) => ({ ...one, rotationDeg: [20, -35, 70] })), solids: job.solids.map((one) => one.shape.kind === 'box' || one.shape.kind === 'prism' ? { ...one, shape: { ...one.shape, rotationDeg: [10, 40, -80] } } : one) })
  if (!read.ok) throw new Error('the rich job cannot be read')
  return read.job
}
const JOBS: [string, () => Job][] = [...kept, ['every part of the format, turned about all three axes', rich], ['a floor to route', () => routerFloor({ family: 'staggered', runs: 40, seed: 61 })], ...IMPOSSIBLE_CAUSES.map((cause): [string, () => Job] => [cause, () => impossibleFloor(cause).job])]

const point = new Float64Array(ELEMENT_STRIDE), answer = new Float64Array(8)
function distanceTo(set: SolidSet, i: number, [x, y, z]: readonly number[]): number {
  writeLeg(point, 0, x, y, z, x, y, z, 0)
  return elementDistance(point, 0, set, i, Infinity, answer)
}

describe('a moved job assembled is the assembled job moved', () => {
  test.each(JOBS)('%s', (_, jobOf) => {
    const job = jobOf(), move = motion(-117.3, [5432.1, -987.6, 654.3])
    const here = assemble(job), there = assemble(movedJob(job, move))
    const draw = seeded(5)
    for (const sets of [({ solids }: Assembly) => solids, ({ zones }: Assembly) => zones]) {
      const a = sets(here), b = sets(there)
      expect(b.count).toBe(a.count)
      for (let i = 0; i < a.count; i++) for (let k = 0; k < 2; k++) {
        const place = [0, 1, 2].map((axis) => a.bounds[6 * i + axis] - 50 + draw() * (a.bounds[6 * i + axis + 3] - a.bounds[6 * i + axis] + 100)) as [number, number, number]
        if (Math.abs(distanceTo(a, i, place) - distanceTo(b, i, move.at(place))) > 1e-6) expect.fail(`solid ${i} of ${a.count}: ${distanceTo(a, i, place)} mm there, ${distanceTo(b, i, move.at(place))} mm here`)
      }
    }
    const close = (a: readonly number[], b: readonly number[]): void => a.forEach((value, k) => expect(b[k]).toBeCloseTo(value, 6))
    for (const list of [(of: Assembly) => of.spigots, (of: Assembly) => of.sleeves, (of: Assembly) => of.holes]) list(here).forEach(({ at, axis }, i) => {
      close(move.at([...at]), list(there)[i].at)
      close(move.way([...axis]), list(there)[i].axis)
    })
    here.joists.forEach(({ origin, along, across }, i) => {
      close(move.at([...origin]), there.joists[i].origin)
      close(move.way([...along]), there.joists[i].along)
      close(move.way([...across]), there.joists[i].across)
    })
    here.runs.forEach(({ centreline: { lengthMm, elements } }, i) => {
      expect(there.runs[i].centreline.lengthMm).toBeCloseTo(lengthMm, 6)
      close(move.at([elements[1], elements[2], elements[3]]), there.runs[i].centreline.elements.subarray(1, 4) as unknown as number[])
    })
  })
})

describe('a job in its own frame', () => {
  test.each(JOBS)('%s: the same to the last digit wherever it is drawn, and its first joists along x from 0', (_, jobOf) => {
    const job = jobOf(), own = inOwnFrame(job, ownFrameOf(job))
    if (own.joistFields.length > 0) expect(own.joistFields[0]).toMatchObject({ origin: [0, 0, 0], directionDeg: 0 })
    for (const move of [motion(0, [1234.5678, -2, 3]), motion(90, [0, 0, 0]), motion(61.7, [-9e4, 4321.098, 2500]), motion(-179.99, [1, 1, 1])]) {
      const moved = movedJob(job, move)
      expect({ ...inOwnFrame(moved, ownFrameOf(moved)), views: [] }).toEqual({ ...own, views: [] })
    }
  })

  test('and back on site everything is within a millionth of a millimetre of where it was', () => {
    const job = movedJob(rich(), motion(12.3, [45.6, 78.9, 0.12])), { toOwn, toSite } = ownFrameOf(job)
    for (const place of [[0, 0, 0], [1234.56789012, -9876.54321, 2400.00001]] as const) toSite.at(toOwn.at([...place])).forEach((value, k) => expect(Math.abs(value - place[k])).toBeLessThan(1e-6))
    expect(Math.abs(toSite.angleDeg(toOwn.angleDeg(77.7)) - 77.7)).toBeLessThan(1e-9)
  })
})
