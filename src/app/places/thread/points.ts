/** The points of a run pulled, stepped, added and taken away: each pull is one step, and shows what it does while it goes. */
import type { PlacedRun } from '#assembly/assembly.ts'
import type { Command } from '#commands/index.ts'
import type { Xyz } from '#scene/frame.ts'
import { tubeOf } from '#scene/meshSpans.ts'
import { bench } from '../../editing/theBench.ts'
import type { Done } from '../../editing/bench.ts'
import { leastBeside } from './leastBeside.ts'
import { say, threading } from './threading.ts'

/** in the browser's own list of measures: findings, clearance and tube of one step of a pull */
export const PULL_MEASURE = 'joistway-pull'

export function choosePoint(runId: string, index: number | null): void {
  threading.setState({ point: index === null ? null : { runId, index }, least: index === null ? null : leastAt(runId, index) })
}

export function beginPull(runId: string, index: number): void {
  bench.beginDrag()
  threading.setState({ point: { runId, index }, isPulling: true, least: leastAt(runId, index) })
}

/** The whole pull so far, to a whole millimetre. */
export function pullTo(at: Xyz): void {
  const { point, isPulling } = threading.getState()
  if (point === null || !isPulling) return
  const startMs = performance.now()
  const done = bench.updateDrag({ do: 'move-waypoint', run: point.runId, point: point.index, to: rounded(at) })
  const least = leastAt(point.runId, point.index)
  const placed = placedRun(point.runId)
  // the picture finds it made when it is drawn
  if (placed !== undefined) tubeOf(placed)
  const endMs = performance.now()
  performance.measure(PULL_MEASURE, { start: startMs, end: endMs })
  threading.setState({ least, pullMs: endMs - startMs, said: done.ok ? '' : `${done.why}.` })
}

export function endPull(): void {
  if (!threading.getState().isPulling) return
  bench.endDrag()
  threading.setState({ isPulling: false })
}

export function cancelPull(): void {
  const { isPulling, point } = threading.getState()
  if (!isPulling) return
  bench.cancelDrag()
  threading.setState({ isPulling: false, said: 'Put back where it was.', least: point === null ? null : leastAt(point.runId, point.index) })
}

export function movePoint(runId: string, index: number, to: Xyz, options?: { readonly held?: boolean }): Done {
  return pointStep(runId, index, { do: 'move-waypoint', run: runId, point: index, to: [...to] }, options)
}

/** By so much, from where it is. */
export function stepPoint(runId: string, index: number, by: Xyz, held: boolean): void {
  const at = placedRun(runId)?.run.waypoints[index]?.at
  if (at !== undefined) movePoint(runId, index, [at[0] + by[0], at[1] + by[1], at[2] + by[2]], { held })
}

export function addPoint(runId: string, index: number, at: Xyz): void {
  if (pointStep(runId, index, { do: 'insert-waypoint', run: runId, point: index, at: rounded(at) }).ok) say(`Point ${index + 1} added. Pull it to where the duct should turn.`)
}

/** Halfway to the point after it. */
export function addPointAfter(runId: string, index: number): void {
  const points = placedRun(runId)?.run.waypoints
  const a = points?.[index]?.at, b = points?.[index + 1]?.at
  if (a !== undefined && b !== undefined) addPoint(runId, index + 1, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2])
}

export function removePoint(runId: string, index: number): void {
  const done = bench.perform({ do: 'remove-waypoint', run: runId, point: index })
  choosePoint(runId, done.ok ? null : index)
  say(done.ok ? `Point ${index + 1} taken away.` : `${done.why}.`)
}

export function setRadius(runId: string, index: number, radiusMm: number | null): Done {
  return pointStep(runId, index, { do: 'set-bend-radius', run: runId, point: index, radiusMm })
}

function pointStep(runId: string, index: number, command: Command, options?: { readonly held?: boolean }): Done {
  const done = bench.perform(command, options)
  threading.setState({ said: done.ok ? '' : `${done.why}.` })
  if (done.ok) choosePoint(runId, index)
  return done
}

function placedRun(runId: string): PlacedRun | undefined {
  return bench.store.getState().assembly?.runs.find(({ run }) => run.id === runId)
}

/** Of the two legs at a point, from the bend before to the bend after. */
function leastAt(runId: string, index: number) {
  const context = bench.context()
  const runIndex = context?.runs.findIndex(({ placed }) => placed.run.id === runId) ?? -1
  if (context === null || runIndex < 0) return null
  const { bends, centreline } = context.runs[runIndex].placed
  const fromMm = bends.findLast(({ waypointIndex }) => waypointIndex < index)?.stationMm ?? 0
  const toMm = bends.find(({ waypointIndex }) => waypointIndex > index)?.stationMm ?? centreline.lengthMm
  return leastBeside(context, runIndex, fromMm, toMm)
}

function rounded([x, y, z]: Xyz): [number, number, number] {
  return [Math.round(x), Math.round(y), Math.round(z)]
}
