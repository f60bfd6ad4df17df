import { beforeEach, describe, expect, test } from 'vitest'
import { pointAt } from '#geometry/curve/measure.ts'
import type { Touch } from '#scene/hand.ts'
import { frame, loftInput, openLoft } from './threadBench.ts'
import { leastBeside } from '#app/places/thread/leastBeside.ts'
import { addPoint, removePoint, setRadius, stepPoint } from '#app/places/thread/points.ts'
import { stepOf, threadHand } from '#app/places/thread/threadHand.ts'
import { makeMove } from '#app/places/thread/FindingWork.tsx'

let loft: Awaited<ReturnType<typeof openLoft>>
beforeEach(async () => {
  const input = loftInput()
  // Run 1 with two corners, each straight on
  const waypoints = [[975, -60, 2_500], [975, 500, 2_500], [975, 1_500, 2_500], [975, 2_160, 2_500]].map((at) => ({ at: at as [number, number, number] }))
  loft = await openLoft({ ...input, runs: [{ ...input.runs![0], waypoints }] })
  loft.desk.setState({ selection: { kind: 'run', runId: 'R1' } })
})

/** Looking straight down from 10 m: a pixel is a millimetre. */
function touchAt(x: number, y: number): Touch {
  return {
    x, y: -y, canHover: true, reachPx: 20, ray: { from: [x, y, 10_000], direction: [0, 0, -1] },
    toPx: ([px, py]) => [px, -py], pick: () => ({ kind: 'run', runId: 'R1' }),
  }
}

describe('points pulled in the view', () => {
  test('a pull from press to lift is one step, whatever number of times the pointer moved', () => {
    expect(threadHand.press!(touchAt(980, 505))).toBe(true)
    for (let i = 1; i <= 12; i++) {
      threadHand.drag!(touchAt(980 + 5 * i, 505))
      if (i % 3 === 0) frame()
    }
    expect(loft.now().runs[0].waypoints[1].at).toEqual([1_035, 500, 2_500])
    expect(loft.threading.getState().isPulling).toBe(true)
    threadHand.drop!()
    expect(loft.steps()).toEqual(['Move point 2 of Run 1'])
    loft.bench.undo()
    expect(loft.now()).toBe(loft.job)
  })

  test('given up in the middle, everything is where it was and no step is left', () => {
    threadHand.press!(touchAt(975, 500))
    threadHand.drag!(touchAt(1_275, 700))
    frame()
    expect(loft.now()).not.toBe(loft.job)
    threadHand.cancel!()
    expect(loft.now()).toBe(loft.job)
    expect(loft.steps()).toEqual([])
    threadHand.drag!(touchAt(1_300, 700))
    frame()
    expect(loft.now()).toBe(loft.job)
  })

  test('while it is pulled, the findings and the least clearance follow', () => {
    threadHand.press!(touchAt(975, 1_500))
    threadHand.drag!(touchAt(1_275, 1_500))
    frame()
    const { verdict } = loft.bench.store.getState()
    expect(verdict!.findings.some(({ code }) => code === 'clash')).toBe(true)
    const { least } = loft.threading.getState()
    expect(least!.clearanceMm).toBeLessThan(0)
    expect(least!.name).toMatch(/joist J\d, web/)
    threadHand.cancel!()
  })

  test('where an end and a corner lie at one place in the picture, the corner is taken hold of', () => {
    threadHand.press!({ ...touchAt(975, -58), toPx: ([px, py]) => [px, -Math.max(py, 495)], y: -497 })
    expect(loft.threading.getState().point).toEqual({ runId: 'R1', index: 1 })
    threadHand.cancel!()
    threadHand.press!(touchAt(975, -58))
    expect(loft.threading.getState().point).toEqual({ runId: 'R1', index: 0 })
    threadHand.cancel!()
  })

  test('a press that is near no point leaves the camera its own way', () => {
    expect(threadHand.press!(touchAt(1_400, 900))).toBe(false)
  })

  test('a tap on the run in hand puts a point on its leg there', () => {
    expect(threadHand.tap!(touchAt(1_000, 1_000))).toBe(true)
    expect(loft.now().runs[0].waypoints.map(({ at }) => at)[2]).toEqual([975, 1_000, 2_500])
    expect(loft.steps()).toEqual(['Add a point to Run 1'])
  })

  test('arrow keys held are one step of 10 mm each, with Alt 1 mm', () => {
    for (let i = 0; i < 4; i++) stepPoint('R1', 1, stepOf('ArrowRight', false, 'level', [1, 0, 0])!, i > 0)
    stepPoint('R1', 1, stepOf('ArrowUp', true, 'upright', [1, 0, 0])!, false)
    expect(loft.now().runs[0].waypoints[1].at).toEqual([1_015, 500, 2_501])
    expect(loft.steps()).toHaveLength(2)
    // seen from the other side, right in the picture is the other way on site
    expect(stepOf('ArrowRight', false, 'level', [-0.9, 0.1, 0])).toEqual([-10, 0, 0])
    expect(stepOf('ArrowUp', false, 'level', [0.1, 0.9, 0])).toEqual([-10, 0, 0])
  })

  test('a locked run stays, and says why', () => {
    loft.bench.perform({ do: 'lock-run', id: 'R1', locked: true })
    const locked = loft.now()
    threadHand.press!(touchAt(975, 500))
    threadHand.drag!(touchAt(1_275, 500))
    frame()
    expect(loft.threading.getState().said).toMatch(/locked/)
    threadHand.drop!()
    expect(loft.now()).toBe(locked)
  })

  test('points come and go, and a bend takes a radius', () => {
    addPoint('R1', 2, [1_100, 1_000, 2_500])
    expect(setRadius('R1', 2, 240).ok).toBe(true)
    expect(loft.now().runs[0].waypoints[2]).toEqual({ at: [1_100, 1_000, 2_500], radiusMm: 240 })
    removePoint('R1', 2)
    expect(loft.now().runs[0]).toEqual(loft.job.runs[0])
    removePoint('R1', 0)
    expect(loft.threading.getState().said).toMatch(/must keep its two ends/)
  })
})

test('what a stretch comes nearest to is what the nearest of many samples along it says', () => {
  const { bench } = loft
  const context = bench.context()!
  const { placed } = context.runs[0]
  const least = leastBeside(context, 0, 300, 1_700)!
  // boxes of the joists alone are that near: distance from sampled points of the centreline to each box, worked out here
  const { solids, parts } = context.assembly
  let best = Infinity, name = ''
  const at = new Float64Array(3)
  for (let station = 300; station <= 1_700; station += 0.25) {
    pointAt(placed.centreline, station, at)
    for (let i = 0; i < solids.count; i++) {
      if (parts.kindOf(i) === 'body' || parts.kindOf(i) === 'spigot' || solids.kind[i] !== 0) continue
      const d = solids.data, s = solids.offset[i]
      let sum = 0
      for (let k = 0; k < 3; k++) {
        const a = s + 6 + 3 * k
        const along = (at[0] - d[s]) * d[a] + (at[1] - d[s + 1]) * d[a + 1] + (at[2] - d[s + 2]) * d[a + 2]
        sum += Math.max(0, Math.abs(along) - d[s + 3 + k]) ** 2
      }
      if (Math.sqrt(sum) < best) [best, name] = [Math.sqrt(sum), parts.describe(i).name]
    }
  }
  expect(least.clearanceMm).toBeLessThanOrEqual(best - placed.outerRadiusMm + 1e-6)
  expect(least.clearanceMm).toBeGreaterThan(best - placed.outerRadiusMm - 0.1)
  expect(least.name).toBe(name)
  const gap = Math.hypot(...[0, 1, 2].map((k) => least.onRun[k] - least.onOther[k]))
  expect(gap - placed.outerRadiusMm).toBeCloseTo(least.clearanceMm, 6)
})

test('a finding is cleared by its move in one step, and the next one is picked out', async () => {
  const { verdictOf } = await import('#routing/verdict.ts')
  loft.bench.perform({ do: 'move-waypoint', run: 'R1', point: 2, to: [1_060, 1_500, 2_500] })
  loft.bench.acceptVerdict(loft.now(), verdictOf(loft.now()))
  const broken = loft.now()
  const { findings } = loft.bench.store.getState().verdict!
  const finding = findings.find(({ move }) => move != null)!
  const steps = loft.steps().length
  makeMove(finding)
  expect(loft.steps()).toHaveLength(steps + 1)
  expect(loft.bench.store.getState().verdict!.findings.map(({ id }) => id)).not.toContain(finding.id)
  loft.bench.undo()
  expect(loft.now()).toBe(broken)
})

