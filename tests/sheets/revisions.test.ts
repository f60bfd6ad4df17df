import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import type { Job } from '#model/index.ts'
import { USUAL } from '#sheets/options.ts'
import { compareJobs, revisionTables } from '#sheets/revisions/compareJobs.ts'
import { farthestApart } from '#sheets/revisions/farthestApart.ts'
import { freeRun, jobOf, oneJoist, together, type Point } from '../checks/smallJob.ts'

const line = (...points: Point[]) => centrelineThrough(points.flat(), points.map(() => 100)).centreline
const compared = (before: Job, after: Job) => compareJobs(contextFor(assemble(before)), contextFor(assemble(after)), USUAL)

describe('how far a run moved', () => {
  test('a run shifted whole by 30 and 40 mm moved 50 mm', () => {
    expect(farthestApart(line([0, 0, 0], [5000, 0, 0]), line([0, 30, 40], [5000, 30, 40])).mm).toBeCloseTo(50, 9)
  })
  test('a run with its middle pulled out by 200 mm moved by what its bend leaves of that, and says where', () => {
    const { mm, at } = farthestApart(line([0, 0, 0], [2000, 0, 0]), line([0, 0, 0], [1000, 200, 0], [2000, 0, 0]))
    // radius 100, turned by twice atan 0.2: the bend cuts the corner by r (1 / cos half - 1)
    const cut = 100 * (1 / Math.cos(Math.atan(0.2)) - 1)
    expect(mm).toBeGreaterThan(200 - cut - 0.5)
    expect(mm).toBeLessThanOrEqual(200 - cut + 1e-9)
    expect(Math.abs(at[0] - 1000)).toBeLessThan(25)
  })
  test('a run that was longer moved by what it no longer reaches', () => {
    expect(farthestApart(line([0, 0, 0], [3000, 0, 0]), line([0, 0, 0], [2800, 0, 0])).mm).toBeCloseTo(200, 9)
  })
  test('agrees with a walk in steps of two millimetres', () => {
    const a = line([0, 0, 0], [900, 100, 50], [1300, 900, 0], [2500, 1000, 0]), b = line([0, 50, 0], [800, 300, 50], [1500, 700, 20], [2500, 1000, 60])
    const walk = (from: typeof a, to: typeof a): number => {
      let most = 0
      const points = (curve: typeof a): Point[] => Array.from({ length: Math.ceil(curve.lengthMm / 2) }, (_, n) => {
        const s = 2 * n
        let e = 0
        while (e + 20 < curve.count * 20 && curve.elements[e + 28] <= s) e += 20
        const along = s - curve.elements[e + 8], t = curve.elements[e] === 1 ? along / curve.elements[e + 18] : 0
        return [0, 1, 2].map((k) => curve.elements[e] === 1
          ? curve.elements[e + 9 + k] + curve.elements[e + 18] * (Math.cos(t) * curve.elements[e + 12 + k] + Math.sin(t) * curve.elements[e + 15 + k])
          : curve.elements[e + 1 + k] + along * curve.elements[e + 12 + k]) as Point
      })
      const others = points(to)
      for (const [x, y, z] of points(from)) most = Math.max(most, Math.min(...others.map(([p, q, r]) => Math.hypot(x - p, y - q, z - r))))
      return most
    }
    expect(Math.abs(farthestApart(a, b).mm - Math.max(walk(a, b), walk(b, a)))).toBeLessThan(1.2)
  })
})

describe('two versions of a job', () => {
  const A = freeRun('A', [[900, -400, 110], [900, 400, 110]]), B = freeRun('B', [[1500, -400, 110], [1500, 400, 110]])
  const before = jobOf(together(oneJoist(undefined, { joists: [{ id: 'J1' }, { id: 'J2', positionMm: 400 }] }), A, B))
  test('that are the same have nothing to tell and nothing to print', () => {
    expect(compared(before, structuredClone(before))).toEqual({ runs: [], things: [], reprint: [] })
  })
  test('one run lowered by 12 mm: that run, 12 mm, the elevation of the joist it crosses, the lists it is on; not the other run', () => {
    const after = structuredClone(before)
    for (const waypoint of after.runs[0].waypoints) waypoint.at[2] -= 12
    for (const sleeve of after.sleeves.filter(({ id }) => id.startsWith('A-'))) sleeve.at[2] -= 12
    const { runs, things, reprint } = compared(before, after)
    expect(runs).toEqual([{ id: 'A', name: 'Run A', what: 'changed', moved: { mm: expect.closeTo(12, 9), at: expect.any(Array), from: expect.any(Array) }, longerMm: 0, words: [] }])
    expect(things.map(({ kind, id }) => `${kind} ${id}`)).toEqual(['sleeve A-a', 'sleeve A-b'])
    const ids = reprint.map(({ id }) => id)
    expect(ids).toEqual(expect.arrayContaining(['joist-J1', 'crossings', 'holes']))
    // in plan nothing moved, and no length changed
    for (const id of ['plan', 'cut-lengths', 'positions']) expect(ids).not.toContain(id)
  })
  test('a run moved to another joist takes its elevation along: one to print anew and one to throw away', () => {
    const single = jobOf(together(oneJoist(undefined, { joists: [{ id: 'J1' }, { id: 'J2', positionMm: 2000 }] }), A))
    const after = structuredClone(single)
    for (const waypoint of after.runs[0].waypoints) waypoint.at[1] += 2000
    for (const sleeve of after.sleeves) sleeve.at[1] += 2000
    expect(compared(single, after).reprint.filter(({ id }) => id.startsWith('joist-')).map(({ id, what }) => [id, what])).toEqual([['joist-J2', 'new'], ['joist-J1', 'gone']])
  })
  test('tells new and gone runs, other duct, other ends, and joists whose section changed', () => {
    const after = structuredClone(before)
    after.runs = [{ ...after.runs[0], type: 'r125' as never, to: { sleeve: 'B-b' as never } }, { ...after.runs[1], id: 'C' as never, name: 'Run C' }]
    after.sections[0].depthMm += 10
    const { runs, things } = compared(before, after)
    expect(runs.map(({ id, what, words }) => [id, what, ...words])).toEqual([
      ['A', 'changed', 'duct is 125 mm rigid duct, was 90 mm duct', 'goes to sleeve B-b, was sleeve A-b'], ['C', 'new'], ['B', 'gone'],
    ])
    expect(things.map(({ kind, id, what }) => [kind, id, what])).toEqual([['joist', 'J1', 'changed'], ['joist', 'J2', 'changed']])
    const tables = revisionTables(compared(before, after))
    expect(tables.map(({ id, rows }) => [id, rows.length > 0])).toEqual([['moved-runs', true], ['other-things', true], ['print-again', true]])
  })
})
