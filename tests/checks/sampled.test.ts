import { describe, expect, it } from 'vitest'
import { checkRun, contextFor, withRun } from '#checks/index.ts'
import { placeRun } from '#assembly/runs.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import type { Job } from '#model/index.ts'
import { between, pick, seeded, type Draw } from '../oracle/drawnElements.ts'
import { assemblyOf, box, freeRun, together, type Point } from './smallJob.ts'

const CLASSES = ['beam', 'pipe', 'cable', 'steel'] as const
const REQUIRED_MM = { beam: 0, pipe: 25, cable: 50, steel: 8 }
const RADIUS_MM = 45
const STEP_MM = 0.5
const SEEDS = [11, 12, 13, 14, 15, 16]

type Boxes = { id: string, className: (typeof CLASSES)[number], centre: Point, size: Point }[]

/** Boxes square to the axes among winding runs. */
function drawn(draw: Draw): { boxes: Boxes, fields: Parameters<typeof assemblyOf>[0] } {
  const point = (): Point => [between(draw, 0, 3000), between(draw, 0, 2000), between(draw, 0, 400)]
  const boxes: Boxes = Array.from({ length: 40 }, (_, i) => ({
    id: `B${i}`, className: pick(draw, CLASSES), centre: point(), size: [between(draw, 2, 900), between(draw, 2, 300), between(draw, 2, 200)],
  }))
  const runs = Array.from({ length: 3 }, (_, i) => freeRun(`R${i}`, Array.from({ length: 5 }, point)))
  const clearances = CLASSES.map((className) => ({ between: ['duct', className] as ['duct', typeof className], mm: REQUIRED_MM[className] }))
  return { boxes, fields: together(...runs, ...boxes.map(({ id, className, centre, size }) => box(id, className, centre, size)), { settings: { clearances } }) }
}

/** Signed distance from a point to a box square to the axes. */
function toBox(p: readonly number[], { centre, size }: Boxes[number]): number {
  const over = p.map((x, k) => Math.abs(x - centre[k]) - size[k] / 2)
  const outside = Math.hypot(...over.map((x) => Math.max(x, 0)))
  return outside > 0 ? outside : Math.max(...over)
}

describe.each(SEEDS)('a void drawn from seed %d', (seed) => {
  const { boxes, fields } = drawn(seeded(seed))
  const assembly = assemblyOf(fields), context = contextFor(assembly)

  it('has the clashes and tight places that points along every run find', () => {
    let places = 0
    assembly.runs.forEach(({ run, centreline }, runIndex) => {
      const found = checkRun(context, runIndex)
      const samples = Array.from({ length: Math.ceil(centreline.lengthMm / STEP_MM) + 1 }, (_, i) => {
        const point = [0, 0, 0]
        pointAt(centreline, i * STEP_MM, point) // the last is brought back to the run's end
        return point
      })
      for (const solid of boxes) {
        const own = found.filter((finding) => (finding.code === 'clash' || finding.code === 'tight') && finding.parts[0].id === run.id && finding.parts[1].id === solid.id)
        const clear = samples.map((point) => toBox(point, solid) - RADIUS_MM)
        const least = Math.min(...clear), required = REQUIRED_MM[solid.className]
        // between two points the distance changes by at most half the step
        if (least < required - 0.01) expect(own.length, `${run.id} ${solid.id}`).toBeGreaterThan(0)
        if (least > required + STEP_MM) expect(own, `${run.id} ${solid.id}`).toEqual([])
        if (own.length === 0) continue
        places += own.length
        const worst = Math.min(...own.map((finding) => finding.measured))
        expect(worst).toBeLessThanOrEqual(least + 1e-3)
        expect(worst).toBeGreaterThanOrEqual(least - STEP_MM / 2 - 1e-3)
        for (const { measured, code, stationMm = NaN, at, onOther } of own) {
          expect(code).toBe(measured < 0 ? 'clash' : 'tight')
          const point = [0, 0, 0]
          pointAt(centreline, stationMm, point)
          expect([at.x, at.y, at.z]).toEqual(point.map((x) => expect.closeTo(x, 3)))
          expect(toBox(point, solid) - RADIUS_MM).toBeCloseTo(measured, 3)
          if (onOther !== undefined) expect(toBox([onOther.x, onOther.y, onOther.z], solid)).toBeCloseTo(0, 3)
        }
        // places a duct's diameter apart or nearer are one, twice that or further are two; between them it may be either
        const groups = (gapMm: number) => clear.reduce(({ count, last }, c, i) => c >= required ? { count, last } : { count: count + (i - last > gapMm / STEP_MM ? 1 : 0), last: i }, { count: 0, last: -Infinity }).count
        expect(own.length).toBeGreaterThanOrEqual(groups(4 * RADIUS_MM + 2))
        expect(own.length).toBeLessThanOrEqual(Math.max(1, groups(2 * RADIUS_MM - 2)))
      }
    })
    expect(places).toBeGreaterThan(5)
  })

  it('one run moved and looked at alone gives what a fresh check of the whole gives', () => {
    const draw = seeded(seed + 1000)
    const runIndex = Math.floor(draw() * assembly.runs.length)
    const { run, type, from, to } = assembly.runs[runIndex]
    const moved = { ...run, waypoints: run.waypoints.map((waypoint, i) => i === 2 ? { ...waypoint, at: [between(draw, 0, 3000), between(draw, 0, 2000), between(draw, 0, 400)] as Point } : waypoint) }
    const after = withRun(context, runIndex, placeRun(moved, type, from, to))
    const job: Job = { ...assembly.job, runs: assembly.job.runs.with(runIndex, moved) }
    const fresh = contextFor(assemblyOf(JSON.parse(JSON.stringify(job)) as Parameters<typeof assemblyOf>[0]))
    for (let i = 0; i < assembly.runs.length; i++) expect(checkRun(after, i)).toEqual(checkRun(fresh, i))
  })
})
