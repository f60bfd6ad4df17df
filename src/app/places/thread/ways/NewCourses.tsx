import { useMemo } from 'react'
import { NewRuns } from '#scene/NewRuns.tsx'
import { GhostRun } from '#scene/GhostRun.tsx'
import { TAPE } from '#scene/palette.ts'
import { useBench } from '../../../editing/useBench.ts'
import { placedOf } from './placedOf.ts'
import { useWays } from './ways.ts'

/** The courses that were found, in full; the one that is looked at stands out. */
export function NewCourses() {
  const assembly = useBench((now) => now.assembly)
  const laid = useWays((now) => now.stage === 'found' ? now.found.laid : null)
  const shownId = useWays((now) => now.stage === 'found' ? now.shownId : null)
  const placed = useMemo(() => assembly === null || laid === null ? [] : placedOf(assembly, laid), [assembly, laid])
  if (assembly === null || placed.length === 0) return null
  const shown = placed.find(({ run }) => run.id === shownId)
  return (
    <>
      <NewRuns assembly={assembly} runs={placed} />
      {shown !== undefined && <GhostRun placed={shown} isGood colour={TAPE} />}
    </>
  )
}
