/** The spigots of a placed piece of equipment laid out anew: another number of them, another size, pitch, side or rows. */
import type { Equipment, Job, Run } from '#model/index.ts'
import { withEndsFollowing } from './ends.ts'
import type { Draft, Kinds } from './outcome.ts'
import { missing, nameOf, partOf, withChanged } from './parts.ts'
import { whyRunsKeep, withoutRuns } from './removing.ts'
import { type Face, type SpigotInput, spigotRows } from './spigotRows.ts'

export interface SpigotPlan {
  /** in the equipment's own axes, before it is turned */
  readonly face: Face
  readonly count: number
  readonly rows: number
  readonly pitchMm: number
  /** outer diameter of the duct that each takes */
  readonly diameterMm: number
}

/**
 * Those in rows; one on another face, such as the main one, stays as it is. Runs on the spigots that are kept stay on them;
 * refused while a run would lose its own, unless the run goes with it.
 */
export interface LaySpigots extends SpigotPlan { readonly do: 'lay-spigots', readonly id: string, readonly withRuns?: boolean }

export const layingSpigotsKinds: Kinds<LaySpigots> = {
  'lay-spigots': {
    change: laid,
    label: ({ id, count }, job) => `Lay ${count === 1 ? '1 spigot' : `${count} spigots`} on ${nameOf(job, 'equipment', id)} anew`,
  },
}

export interface SpigotLayout {
  readonly spigots: readonly SpigotInput[]
  /** ids of spigots that go, and the runs that end on them */
  readonly gone: readonly string[]
  readonly runsLost: readonly Run[]
  /** on spigots in the rows that are kept */
  readonly runsKept: readonly Run[]
}

/** What lies there now, as a plan to start from; null where there are no spigots. */
export function spigotPlanOf(equipment: Equipment): SpigotPlan | null {
  const inRows = spigotsInRows(equipment)
  if (inRows.length === 0) return null
  const face = faceOf(inRows[0])
  const axis = 'xyz'.indexOf(face[1]), [a, b] = [0, 1, 2].filter(each => each !== axis)
  const short = equipment.sizeMm[b] > equipment.sizeMm[a] ? a : b
  const rows = new Set(inRows.map(({ at }) => Math.round(at[short]))).size
  const counts = new Map<number, number>()
  for (const { diameterMm } of inRows) counts.set(diameterMm, (counts.get(diameterMm) ?? 0) + 1)
  const diameterMm = [...counts].reduce((best, one) => one[1] > best[1] ? one : best)[0]
  const gaps = inRows.flatMap(({ at }, i) => inRows.slice(i + 1).map(other => Math.hypot(other.at[0] - at[0], other.at[1] - at[1], other.at[2] - at[2])))
  return { face, count: inRows.length, rows: inRows.length % rows === 0 || rows === 2 ? rows : 1, pitchMm: gaps.length === 0 ? diameterMm + 25 : Math.round(Math.min(...gaps) * 10) / 10, diameterMm }
}

/** What a plan makes of it, before anything is changed; a string says why it cannot be. Free spigots go before used ones, and of equals the last. */
export function spigotLayout(job: Job, equipment: Equipment, { face, count, rows, pitchMm, diameterMm }: SpigotPlan): SpigotLayout | string {
  const was = spigotsInRows(equipment), rest = equipment.spigots.filter(spigot => !was.includes(spigot))
  if (rest.some(spigot => faceOf(spigot) === face)) return `spigot ${rest.find(spigot => faceOf(spigot) === face)!.id} is on that side`
  const made = spigotRows(face, equipment.sizeMm, count, rows, pitchMm, diameterMm, was.at(0)?.lengthMm)
  if (typeof made === 'string') return made
  const runsOn = (id: string): Run[] => job.runs.filter(({ from, to }) => [from, to].some(end => 'spigot' in end && end.equipment === equipment.id && end.spigot === id))
  const leaving = [...was].reverse().sort((a, b) => Math.min(1, runsOn(a.id).length) - Math.min(1, runsOn(b.id).length)).slice(0, Math.max(0, was.length - count))
  const kept = was.filter(spigot => !leaving.includes(spigot))
  const ids = freshIds(equipment, was, count - kept.length)
  const laidOut = made.map((spigot, i): SpigotInput => ({ ...kept[i], ...spigot, id: kept[i]?.id ?? ids[i - kept.length] }))
  // in the order of the file, so that one that stays is not moved in lists
  const at = equipment.spigots.findIndex(spigot => was.includes(spigot))
  const before = equipment.spigots.slice(0, Math.max(0, at)).filter(spigot => rest.includes(spigot))
  const once = (runs: readonly Run[]): Run[] => job.runs.filter(run => runs.includes(run))
  const runsLost = once(leaving.flatMap(({ id }) => runsOn(id)))
  return {
    spigots: [...before, ...laidOut, ...rest.filter(spigot => !before.includes(spigot))],
    gone: leaving.map(({ id }) => id), runsLost, runsKept: once(kept.flatMap(({ id }) => runsOn(id))).filter(run => !runsLost.includes(run)),
  }
}

function laid(job: Job, { id, withRuns, ...plan }: LaySpigots): Draft {
  const equipment = partOf(job, 'equipment', id)
  if (equipment === undefined) return missing('equipment', id)
  const layout = spigotLayout(job, equipment, plan)
  if (typeof layout === 'string') return layout
  const why = whyRunsKeep(layout.runsLost, withRuns)
  if (why !== undefined) return why
  const left = withoutRuns(job, layout.runsLost)
  const draft = withChanged(left, 'equipment', id, each => ({ ...each, spigots: [...layout.spigots] }))
  return typeof draft === 'string' ? draft : withEndsFollowing(left, draft, id, true)
}

/** Of all faces the one with the most spigots holds the rows. */
function spigotsInRows({ spigots }: Equipment): Equipment['spigots'] {
  const on = new Map<Face, Equipment['spigots'][number][]>()
  for (const spigot of spigots) on.set(faceOf(spigot), [...on.get(faceOf(spigot)) ?? [], spigot])
  return [...on.values()].reduce((best, one) => one.length > best.length || one.length === best.length && best[0]?.id === 'main' ? one : best, [])
}

function faceOf({ axis }: Pick<SpigotInput, 'axis'>): Face {
  const out = axis.map(Math.abs), along = out.indexOf(Math.max(...out))
  return `${axis[along] < 0 ? '-' : '+'}${'xyz'[along]}` as Face
}

/** Numbered on from the last of the rows: 'S7' after 'S6'. */
function freshIds({ spigots }: Equipment, rows: readonly { readonly id: string }[], count: number): string[] {
  const used = new Set<string>(spigots.map(({ id }) => id))
  const [, prefix = 'p', last = '0'] = /^(.*?)(\d{1,6})$/.exec(rows.at(-1)?.id ?? '') ?? []
  const ids: string[] = []
  for (let number = Number(last) + 1; ids.length < count; number++) if (!used.has(`${prefix}${number}`)) ids.push(`${prefix}${number}`)
  return ids
}
