import { useMemo } from 'react'
import { goesInAt } from './goesInAt.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { labelOf } from '#routing/pullingWords.ts'
import { GhostRun } from '#scene/GhostRun.tsx'
import { Labels } from '#scene/Labels.tsx'
import { Spots } from '#scene/Spots.tsx'
import type { Spot } from '#scene/Spots.tsx'
import type { Label } from '#scene/extras.ts'
import type { Xyz } from '#scene/frame.ts'
import { TAPE } from '#scene/palette.ts'
import { useSceneFrame } from '#scene/sceneFrame.ts'
import { useCut } from '../looking/useLooking.ts'
import { passesOf } from './passWords.ts'
import { idOf, usePulling, type Plan } from './pulling.ts'

/** places along a run where its number may stand */
const ALONG = [0.5, 0.35, 0.65, 0.2, 0.8]

/** The ducts with their numbers; the one that goes in now, the end that it goes in from, and what it passes. */
export default function InTheVoid() {
  const plan = usePulling((now) => now.plan)
  const shownId = usePulling((now) => now.shownId)
  return plan === null ? null : <Drawn plan={plan} shownId={shownId} />
}

function Drawn({ plan, shownId }: { readonly plan: Plan, readonly shownId: string | null }) {
  const { frame, tags } = useSceneFrame()
  const cut = useCut()
  const at = plan.order.steps.findIndex(({ runIndex }) => idOf(plan, runIndex) === shownId)
  const step = at < 0 ? undefined : plan.order.steps[at]
  const placed = step === undefined ? undefined : plan.checks.runs[step.runIndex].placed
  const { labels, spots } = useMemo((): { labels: readonly Label[], spots: readonly Spot[] } => {
    // those that come later carry no number yet
    const numbers = plan.order.steps.filter((_, n) => at < 0 || n <= at).map((each, n): Label => {
      const { centreline } = plan.checks.runs[each.runIndex].placed, isNow = n === at
      return { id: `place-${each.place}`, words: isNow ? labelOf(plan.checks, each) : String(each.place), weight: isNow ? 30 : 10, look: isNow ? 'void-label-tape' : 'void-label-run', anchors: ALONG.map((share) => placeOn(centreline, share)) }
    })
    if (step === undefined) return { labels: numbers, spots: [] }
    const passes = passesOf(plan, step.runIndex), from = goesInAt(plan, step)
    const words = passes.map(({ way, otherName, at: place }, n): Label => ({ id: `pass-${n}`, words: `${way} ${otherName}`, weight: 20, look: 'void-label-run pull-in-passes', anchors: [place] }))
    const goesIn: Label[] = from === null ? [] : [{ id: 'goes-in', words: 'goes in here', weight: 25, look: 'void-label-run', anchors: [from] }]
    return {
      labels: [...numbers, ...words, ...goesIn],
      spots: [...passes.map((pass): Spot => ({ at: pass.at, shape: 'gate' })), ...from === null ? [] : [{ at: from, shape: 'held' as const }]],
    }
  }, [plan, at, step])
  return (
    <>
      {placed !== undefined && <GhostRun placed={placed} isGood colour={TAPE} />}
      <Spots spots={spots} />
      <Labels labels={labels} cut={cut} frame={frame} tags={tags} />
    </>
  )
}

function placeOn(centreline: Parameters<typeof pointAt>[0], share: number): Xyz {
  const at = [0, 0, 0]
  pointAt(centreline, share * centreline.lengthMm, at)
  return [at[0], at[1], at[2]]
}
