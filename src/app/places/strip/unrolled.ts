/** Which run the strip shows, and where its pointer is. */
import { useMemo } from 'react'
import type { CheckContext } from '#checks/context.ts'
import { clearancesAt, stripOf } from '#checks/strip.ts'
import type { ClearancesAt, Strip } from '#checks/strip.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import type { Verdict } from '#routing/verdict.ts'
import type { Selection } from '#scene/selection.ts'
import { desk } from '../../desk.ts'
import type { OpenJob } from '../../desk.ts'
import { useBench } from '../../editing/useBench.ts'
import { useDesk } from '../../useDesk.ts'
import { useChecks } from '../looking/useChecks.ts'
import { useViewing, viewing } from '../looking/viewing.ts'
import { stationNear } from '#geometry/curve/stationNear.ts'

export interface Unrolled {
  readonly checks: CheckContext
  readonly runIndex: number
  readonly strip: Strip
}

/** finer than a pixel on any screen */
const SAMPLED_WITHIN_MM = 1
/** told when nearer than this; looking for other runs takes longer than a frame, so it waits for the end of a drag */
const NEAR_MM = 100

/** The run that is picked out, or that of the finding that is, or else the last one that was, or else the first. */
export function useUnrolled(): Unrolled | null {
  const checks = useChecks()
  const runId = useShownRunId()
  const isDragging = useBench((now) => now.drag !== null)
  return useMemo(() => {
    if (checks === null || checks.runs.length === 0) return null
    const runIndex = Math.max(0, checks.runs.findIndex(({ placed: { run } }) => run.id === runId))
    return { checks, runIndex, strip: stripOf(checks, runIndex, SAMPLED_WITHIN_MM, isDragging ? -Infinity : NEAR_MM) }
  }, [checks, runId, isDragging])
}

export function useShownRunId(): string | null {
  const picked = useDesk(({ selection, open, verdict }) => selection?.kind === 'run' ? selection.runId : runOfFinding(selection, open, verdict)?.run.id ?? null)
  const kept = useViewing((now) => now.stripRunId)
  return picked ?? kept
}

export function useClearances({ checks, runIndex }: Unrolled): ClearancesAt {
  const stationMm = useViewing((now) => now.stationMm)
  return useMemo(() => clearancesAt(checks, runIndex, stationMm), [checks, runIndex, stationMm])
}

function runOfFinding(selection: Selection | null, open: OpenJob | null, verdict: Verdict | null): PlacedRun | undefined {
  const finding = selection?.kind === 'finding' ? verdict?.findings.find(({ id }) => id === selection.id) : undefined
  return open?.assembly.runs.find(({ run }) => finding?.parts.some(({ id }) => id === run.id))
}

/** Moves the pointer; it stays on the run. */
export function pointAtStation(stationMm: number, lengthMm: number): void {
  viewing.setState({ stationMm: Math.min(Math.max(stationMm, 0), lengthMm) })
}

export function unroll(runId: string): void {
  viewing.setState((now) => ({ stripRunId: runId, stationMm: now.stripRunId === runId ? now.stationMm : 0 }))
}

/** A finding that is picked out: its run is unrolled, with the pointer at it. */
function unrollFinding(): void {
  const { selection, open, verdict } = desk.getState()
  const placed = runOfFinding(selection, open, verdict), mark = selection?.kind === 'finding' ? verdict?.findings.find(({ id }) => id === selection.id)?.mark : undefined
  if (placed === undefined || mark === undefined) return
  unroll(placed.run.id)
  pointAtStation(stationNear(placed.centreline, mark.x, mark.y, mark.z), placed.centreline.lengthMm)
}

/** A run that is touched in the view is unrolled, with the pointer where it was touched. @returns what ends it */
export function followTouches(): () => void {
  unrollFinding()
  return desk.subscribe(({ selection, open }, was) => {
    if (selection === was.selection) return
    if (selection?.kind === 'finding') unrollFinding()
    if (selection?.kind !== 'run') return
    unroll(selection.runId)
    const placed = open?.assembly.runs.find(({ run }) => run.id === selection.runId)
    if (placed !== undefined && selection.at !== undefined) pointAtStation(stationNear(placed.centreline, ...selection.at), placed.centreline.lengthMm)
  })
}
