import { useMemo } from 'react'
import { mm } from '#checks/wording.ts'
import { EndRings } from '#scene/EndRings.tsx'
import { GapLine } from '#scene/GapLine.tsx'
import { GhostRun } from '#scene/GhostRun.tsx'
import { OpeningFace } from '#scene/OpeningFace.tsx'
import { Spots } from '#scene/Spots.tsx'
import type { Spot } from '#scene/Spots.tsx'
import type { Xyz } from '#scene/frame.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { useDesk } from '../../useDesk.ts'
import { endPlacesOf, keyOfEnd, type EndPlace } from './ends.ts'
import { gatesNow } from './laying.ts'
import { endsToTake, freeEnds } from './threadHand.ts'
import { leastWords, useThreading } from './threading.ts'
import { NewCourses } from './ways/NewCourses.tsx'
import { useWays } from './ways/ways.ts'

/** The points of a run, numbered as on its strip. */
export function pointSpots(waypoints: readonly { readonly at: Xyz }[], held: number | null): Spot[] {
  return waypoints.map(({ at }, i): Spot => ({ at, shape: i === held ? 'held' : 'point', words: i < MOST_NUMBERED ? String(i + 1) : undefined }))
}

/** with more points than this on a run the later ones are drawn without their numbers */
const MOST_NUMBERED = 50

/** What threading draws in the void: spigots to start and end at, the run as it grows, the opening pointed at, the points in hand and the gap beside them. */
export default function InTheVoid() {
  const assembly = useBench((now) => now.assembly)
  const selection = useDesk((now) => now.selection)
  const laying = useThreading((now) => now.laying)
  const aim = useThreading((now) => now.aim)
  const point = useThreading((now) => now.point)
  const least = useThreading((now) => now.least)
  const runId = selection?.kind === 'run' && laying === null ? selection.runId : null
  const waypoints = runId === null ? undefined : assembly?.runs.find(({ run }) => run.id === runId)?.run.waypoints

  const from = laying === null ? null : keyOfEnd(laying.from), isAnew = laying?.anewId !== undefined
  const ends = useMemo((): readonly EndPlace[] => assembly === null || waypoints !== undefined || isAnew ? []
    : from === null ? freeEnds(assembly) : [...endsToTake(assembly), ...endPlacesOf(assembly).filter(({ key }) => key === from)], [assembly, waypoints, from, isAnew])
  const spots = useMemo((): Spot[] => {
    const points = runId === null || waypoints === undefined ? [] : pointSpots(waypoints, point?.runId === runId ? point.index : null)
    const context = bench.context()
    const old = context === null || laying?.anewId === undefined ? [] : gatesNow(context, laying.anewId).map(({ at }): Spot => ({ at, shape: 'gate' }))
    const faults = (laying?.laid?.complaints ?? []).filter(({ severity }) => severity !== 'advice').map(({ mark: { x, y, z } }): Spot => ({ at: [x, y, z], shape: 'fault' }))
    return [...points, ...old, ...faults]
  }, [laying, waypoints, point, runId])

  const isFound = useWays(({ stage }) => stage === 'found')
  if (assembly === null) return null
  // nothing is begun while an answer is waited for
  if (isFound) return <NewCourses />
  const joist = aim?.kind === 'opening' ? assembly.joists.find(({ id }) => id === aim.gate.joistId) : undefined
  const inHand: Xyz | undefined = waypoints !== undefined && point?.runId === runId ? waypoints[point?.index ?? -1]?.at : undefined
  return (
    <>
      <EndRings ends={ends} heldKey={from} aimedKey={aim?.kind === 'end' ? keyOfEnd(aim.end) : laying?.to == null ? null : keyOfEnd(laying.to)} />
      <Spots spots={spots} />
      {laying?.laid?.placed != null && <GhostRun placed={laying.laid.placed} isGood={laying.laid.ok} />}
      {aim?.kind === 'opening' && joist !== undefined && (
        <OpeningFace joist={joist} number={aim.preview.opening} fits={aim.preview.spareMm >= 0} ductAt={aim.preview.at} ductDiameterMm={aim.preview.ductDiameterMm}
          words={`takes ${mm(aim.preview.largestMm)}; ${aim.preview.spareMm >= 0 ? `${mm(aim.preview.spareMm)} to spare` : `${mm(-aim.preview.spareMm)} too little`}`} />
      )}
      {inHand !== undefined && least !== null && (
        <GapLine from={least.onRun} to={least.onOther} at={inHand} isGood={least.clearanceMm >= least.requiredMm} words={leastWords(least)} />
      )}
    </>
  )
}
