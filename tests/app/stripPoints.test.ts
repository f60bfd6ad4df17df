import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { movedOnStrip, newPointAt, stepOnStrip, stripPointsOf } from '#app/places/strip/stripPoints.ts'
import { shiftedScale, stripScale } from '#app/places/strip/stripScale.ts'
import { contextFor } from '#checks/context.ts'
import { stripOf } from '#checks/strip.ts'
import { clashing } from '../browser/jobs.ts'
import { smallVoidJob } from '../scene/smallVoid.ts'
import { loftInput, openLoft } from './threadBench.ts'

type Place = [number, number, number]

/** Along x, down a riser, then along y at a slope of 3 in 5. */
const POINTS: readonly Place[] = [[0, 0, 2_500], [1_000, 0, 2_500], [1_000, 0, 2_000], [1_000, 800, 2_600]]

describe('a point pulled on the strip of its run', () => {
  test('each point stands over the middle of its bend, at its own height; the ends over the ends', () => {
    const placed = assemble(smallVoidJob(clashing())).runs[1]
    const points = stripPointsOf(placed)
    expect(points.map(({ stationMm }) => stationMm).every((mm, i, all) => i === 0 || mm > all[i - 1])).toBe(true)
    expect(points[0].stationMm).toBe(0)
    expect(points.at(-1)!.stationMm).toBe(placed.centreline.lengthMm)
    for (const { index, stationMm, heightMm } of points) {
      const at = [0, 0, 0], corner = placed.run.waypoints[index].at
      pointAt(placed.centreline, stationMm, at)
      expect(heightMm).toBe(corner[2])
      // the middle of a bend of radius r and turn t passes its corner at r (1 / cos(t / 2) - 1)
      const bend = placed.bends.find(({ waypointIndex }) => waypointIndex === index)
      expect(Math.hypot(at[0] - corner[0], at[1] - corner[1], at[2] - corner[2])).toBeCloseTo(bend === undefined ? 0 : bend.radiusMm * (1 / Math.cos(bend.turnRad / 2) - 1), 6)
    }
  })

  test('on goes along the leg after it, back along the leg before it, and neither past the next point', () => {
    expect(movedOnStrip(POINTS, 1, -300, 2_450)).toEqual([700, 0, 2_450])
    expect(movedOnStrip(POINTS, 1, -5_000, 2_500)).toEqual([1, 0, 2_500])
    // 3 in 5: 500 mm along the slope are 400 mm in plan
    expect(movedOnStrip(POINTS, 2, 500, 2_000)[1]).toBeCloseTo(400, 9)
    // a riser has no way in plan
    expect(movedOnStrip(POINTS, 1, 300, 2_400)).toEqual([1_000, 0, 2_400])
  })

  test('an end pulled outwards goes straight on', () => {
    expect(movedOnStrip(POINTS, 0, -120, 2_510)).toEqual([-120, 0, 2_510])
    expect(movedOnStrip(POINTS, 3, 100, 2_600)[1]).toBeCloseTo(880, 9)
    expect(movedOnStrip(POINTS, 0, 250, 2_500)).toEqual([250, 0, 2_500])
  })

  test('arrow keys step 5 mm, with Shift 50 mm', () => {
    expect(stepOnStrip('ArrowUp', false)).toEqual({ alongMm: 0, upMm: 5 })
    expect(stepOnStrip('ArrowLeft', true)).toEqual({ alongMm: -50, upMm: 0 })
    expect(stepOnStrip('a', false)).toBeNull()
  })

  test('a point added at the pointer comes between the two that it lies between', () => {
    const points = stripPointsOf(assemble(smallVoidJob(clashing())).runs[1])
    expect(newPointAt(points, 1)).toBe(1)
    expect(newPointAt(points, (points[1].stationMm + points[2].stationMm) / 2)).toBe(2)
    expect(newPointAt(points, points.at(-1)!.stationMm)).toBe(points.length - 1)
  })

  test('when the start is pulled in by 100 mm, what follows stays where it is on the paper', () => {
    const scale = stripScale(stripOf(contextFor(assemble(smallVoidJob(clashing()))), 1), 1_000, 240, false)
    const shifted = shiftedScale(scale, 100)
    expect(shifted.x(400)).toBeCloseTo(scale.x(500), 9)
    expect(shifted.stationAt(scale.x(500))).toBeCloseTo(400, 9)
  })

  test('a whole pull is one step, tells what is near all the while, and undo puts it back', async () => {
    const { bench, now, steps, threading } = await openLoft(loftInput())
    const { beginPull, endPull, pullTo } = await import('#app/places/thread/points.ts')
    const before = now(), run = before.runs[0], points = run.waypoints.map(({ at }): Place => [...at])
    beginPull(run.id, 1)
    for (let up = 10; up <= 60; up += 10) {
      pullTo(movedOnStrip(points, 1, 0, points[1][2] + up))
      expect(threading.getState().least).not.toBeNull()
    }
    // 60 mm up takes a duct of 90 mm out of openings that end below the top chord: said before the point is let go
    expect(bench.store.getState().verdict!.findings.some(({ parts }) => parts[0].id === run.id)).toBe(true)
    endPull()
    expect(steps()).toEqual([`Move point 2 of ${run.name}`])
    expect(now().runs[0].waypoints[1].at[2]).toBe(points[1][2] + 60)
    bench.undo()
    expect(now()).toBe(before)
  })
})
