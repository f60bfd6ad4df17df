import type { PullingStep } from '#routing/pullingOrder.ts'
import { goesInWords, rigidWords } from '#routing/pullingWords.ts'
import type { Xyz } from '#scene/frame.ts'
import type { Plan } from './pulling.ts'

/** Where the duct of a step is drawn in, mm; null for rigid duct, and where neither end lets it in. */
export function goesInAt({ checks }: Plan, { runIndex, ends }: PullingStep): Xyz | null {
  const free = ends.find(({ verdict }) => verdict === 'free')
  if (free === undefined) return null
  const { waypoints } = checks.runs[runIndex].placed.run
  return waypoints[free.end === 'from' ? 0 : waypoints.length - 1].at
}

/** 'goes in from Manifold 1, spigot 3', 'goes in piece by piece', 'piece by piece: only before the joists are fixed' */
export function goingIn({ checks, rigid }: Plan, step: PullingStep): string {
  const own = rigid.get(step.runIndex)
  return own === undefined || own.verdict === 'goes-in' ? `goes in ${goesInWords(checks, step)}` : `piece by piece: ${rigidWords(own)}`
}
