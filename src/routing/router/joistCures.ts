/**
 * Changes to joists that would free a run: questions for the joist maker and nothing more. Joists are the maker's: where webs may
 * stand is for the maker or an engineer to say, before the joist is made; nobody cuts, notches or shifts a web of one that is there.
 */
import type { Job, Joist, OpenWebSection } from '#model/index.ts'

export type JoistCure =
  /** all webs so much further from the datum end */
  | { readonly kind: 'shift-webs', readonly joistId: string, readonly byMm: number }
  | { readonly kind: 'turn-joist', readonly joistId: string }
  /** a stretch without webs so much further from the datum end */
  | { readonly kind: 'move-web-free', readonly joistId: string, readonly fromMm: number, readonly byMm: number }

/** joists that are tried, and how far a stretch without webs is moved, mm */
const MOST_JOISTS = 3, FREE_MOVES_MM = [100, 200, 300, 600]
/** webs repeat after their pitch: shifts by these shares of it are tried */
const SHARES = [0.25, 0.5, -0.25]
const SAME_MM = 1

/** @param joistIds those in the way, most first */
export function joistCures(job: Job, joistIds: readonly string[]): { readonly cure: JoistCure, readonly job: Job }[] {
  return joistIds.slice(0, MOST_JOISTS).flatMap((joistId) => {
    const field = job.joistFields.find(({ joists }) => joists.some(({ id }) => id === joistId)), joist = field?.joists.find(({ id }) => id === joistId)
    const section = job.sections.find(({ id }) => id === field?.section)
    if (field === undefined || joist === undefined || section?.kind !== 'open-web') return []
    const { webPitchMm } = section, lengthMm = joist.lengthMm ?? field.lengthMm, firstMm = joist.firstNodeMm ?? field.firstNodeMm
    const withJoist = (change: Partial<Joist>): Job => ({
      ...job, joistFields: job.joistFields.map((one) => one === field ? { ...one, joists: one.joists.map((each) => each === joist ? { ...each, ...change } : each) } : one),
    })
    return [
      ...joist.webFree.flatMap(({ fromMm, toMm }, k) => FREE_MOVES_MM.flatMap((mm) => [mm, -mm]).filter((byMm) => fromMm + byMm >= 0 && toMm + byMm <= lengthMm).map((byMm) => ({
        cure: { kind: 'move-web-free' as const, joistId, fromMm, byMm },
        job: withJoist({ webFree: joist.webFree.map((stretch, i) => i === k ? { fromMm: fromMm + byMm, toMm: toMm + byMm } : stretch) }),
      }))),
      ...turned(joist, section, lengthMm, firstMm).map((change) => ({ cure: { kind: 'turn-joist' as const, joistId }, job: withJoist(change) })),
      ...SHARES.map((share) => ({ cure: { kind: 'shift-webs' as const, joistId, byMm: share * webPitchMm }, job: withJoist({ firstNodeMm: firstMm + share * webPitchMm }) })),
    ]
  })
}

/** Turned end for end, where that is another joist: its nodes and its stretches without webs from the other end. With plates on one face they would come to the other face, which a joist cannot say. */
function turned(joist: Joist, { webPitchMm, webFaces }: OpenWebSection, lengthMm: number, firstMm: number): Partial<Joist>[] {
  if (webFaces === 'left' || webFaces === 'right') return []
  const off = (((lengthMm - 2 * firstMm) % webPitchMm) + webPitchMm) % webPitchMm
  const webFree = [...joist.webFree].reverse().map(({ fromMm, toMm }) => ({ fromMm: lengthMm - toMm, toMm: lengthMm - fromMm }))
  const isSame = Math.min(off, webPitchMm - off) < SAME_MM && webFree.every(({ fromMm }, i) => Math.abs(fromMm - joist.webFree[i].fromMm) < SAME_MM)
  return isSame ? [] : [{ firstNodeMm: ((lengthMm - firstMm) % webPitchMm + webPitchMm) % webPitchMm, ...webFree.length === 0 ? {} : { webFree } }]
}
