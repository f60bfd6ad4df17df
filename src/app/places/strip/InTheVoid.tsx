import { useMemo } from 'react'
import { GapLine } from '#scene/GapLine.tsx'
import { Spots } from '#scene/Spots.tsx'
import { useBench } from '../../editing/useBench.ts'
import { pointSpots } from '../thread/InTheVoid.tsx'
import { useThreading } from '../thread/threading.ts'
import { useShownRunId } from './unrolled.ts'

/** The points of the run that is unrolled, numbered as on its strip; and what the one in hand is nearest to. */
export default function InTheVoid() {
  const runs = useBench((now) => now.assembly?.runs)
  const runId = useShownRunId()
  const point = useThreading((now) => now.point)
  const least = useThreading((now) => now.least)
  const run = (runs?.find((placed) => placed.run.id === runId) ?? runs?.at(0))?.run
  const held = run !== undefined && point?.runId === run.id ? point.index : null
  const spots = useMemo(() => run === undefined ? [] : pointSpots(run.waypoints, held), [run, held])
  const at = held === null ? undefined : run?.waypoints[held]?.at
  return (
    <>
      <Spots spots={spots} />
      {at !== undefined && least !== null && <GapLine from={least.onRun} to={least.onOther} at={at} isGood={least.clearanceMm >= least.requiredMm} />}
    </>
  )
}
