/** Why a run could not be laid and what would free it, in words for the site; the same on the screen and in the terminal. */
import type { Assembly } from '#assembly/assembly.ts'
import { mm as mmWithTenths } from '#checks/wording.ts'
import { compassOf } from '#geometry/compass.ts'
import type { Job } from '#model/index.ts'
import type { Cure } from './cures.ts'
import type { CannotCause, CannotRoute } from './whyNot.ts'

const CAUSES: Readonly<Record<Exclude<CannotCause, 'crowded'>, string>> = {
  'ends': 'Its ends are wrong, whatever its course.',
  'spigot-blocked': 'Proved: it cannot even leave its spigot. What stands before it bars the way, whatever course it takes.',
  'shut-in': 'Proved: there is no way at all for a duct of its size between its ends.',
  'no-fitting': 'No course of the fittings that its type lists was found. That does not prove that there is none.',
  'no-way': 'No way was found for it beside the others. That does not prove that there is none.',
  'not-tried': 'It was not tried to the end. That says nothing about whether it can be laid.',
}

export function causeWords({ cause, counted }: Pick<CannotRoute, 'cause' | 'counted'>, job: Job): string {
  if (cause !== 'crowded') return CAUSES[cause]
  const names = job.runs.filter(({ id }) => counted?.runIds.includes(id)).map(({ name }) => name), most = counted?.most ?? 0
  return `Proved: ${shortList(names, 4)} must ${names.length === 2 ? 'both' : 'all'} pass one place, and only ${most} of them can, wherever ${most === 1 ? 'it lies' : 'they lie'} in it.`
}

/** Where it is stopped: the place that too many must pass, else where its best attempt is barred or narrowest. */
export function stopOf({ at, counted }: Pick<CannotRoute, 'at' | 'counted'>): CannotRoute['at'] {
  return counted?.at ?? at
}

/** Names of things by their ids, those that the job does not have left out. */
export function namesOf({ job, joists }: Assembly, ids: readonly string[]): string[] {
  const names = new Map<string, string>([...job.zones.map(({ id, name }) => [id, `the edge of ${name}`] as const), ...[...joists, ...job.runs, ...job.equipment, ...job.solids, ...job.sleeves].map(({ id, name }) => [id, name] as const)])
  // boards of one name are told once
  return [...new Set(ids.flatMap((id) => names.get(id) ?? []))]
}

/** 'A, B and 3 more' */
export function shortList(names: readonly string[], most: number): string {
  if (names.length > most) return `${names.slice(0, most).join(', ')} and ${names.length - most} more`
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`
}

/** What the narrowest place of the best attempt lets by; '' where there is none. */
export function largestWords({ runId, largestMm, cause }: Pick<CannotRoute, 'runId' | 'largestMm' | 'cause'>, job: Job): string {
  // where too many must pass one place, what is left of it is a matter of how the others lie
  if (largestMm === null || cause === 'ends' || cause === 'crowded' && largestMm < 1) return ''
  const run = job.runs.find(({ id }) => id === runId), type = job.ductTypes.find(({ id }) => id === run?.type)
  const ownMm = type === undefined ? Infinity : type.outerDiameterMm + 2 * type.insulationMm, over = type !== undefined && type.insulationMm > 0 ? ' over its insulation' : ''
  // rounded down: what is said to pass does
  const upTo = mm(Math.floor(largestMm * 10) / 10)
  if (largestMm >= ownMm) return `Room is not what its best attempt lacks: a duct of up to ${upTo}${over} passes where that is narrowest.`
  return largestMm < 1 ? 'No duct at all would pass where its best attempt is narrowest.' : `Where its best attempt is narrowest a duct of up to ${upTo}${over} would pass; this one has ${mm(ownMm)}.`
}

/** Follows 'It goes in': 'with Manifold 1, spigot s4, instead of its own'. Null where what it speaks of is not in the job. */
export function cureWords(job: Job, runId: string, cure: Cure, curedWith: readonly string[] = []): string | null {
  const run = job.runs.find(({ id }) => id === runId), others = job.runs.filter(({ id }) => curedWith.includes(id)).map(({ name }) => name)
  const machine = 'equipmentId' in cure ? job.equipment.find(({ id }) => id === cure.equipmentId)?.name : ''
  const joist = 'joistId' in cure ? job.joistFields.flatMap(({ joists }) => joists).find(({ id }) => id === cure.joistId) : null
  if (run === undefined || machine === undefined || joist === undefined) return null
  const joistName = joist?.name ?? (joist === null ? '' : `joist ${joist.id}`)
  const again = others.length === 0 ? '' : `, and ${shortList(others, 3)} laid again with it`
  switch (cure.kind) {
    case 'next-spigot': return `with ${machine}, spigot ${cure.spigotId}, instead of its own`
    case 'swap-spigots': return `with it and ${shortList(others, 3)} on each other’s spigots of ${machine}, and both laid again`
    case 'move': return `with ${machine} moved ${moveWords(cure.byMm)}${again}`
    case 'spigot-of-size': return `with a spigot of ${mm(cure.diameterMm)} on ${machine} (spigot ${cure.spigotId})`
    case 'smaller-type': {
      const type = job.ductTypes.find(({ id }) => id === cure.typeId)
      return type === undefined ? null : `as ${type.name}, with spigots of ${mm(type.outerDiameterMm)}`
    }
    case 'shift-webs': return `if ${joistName} is made with its webs ${mm(Math.abs(cure.byMm))} ${cure.byMm > 0 ? 'further from' : 'nearer to'} its datum end`
    case 'turn-joist': return `if ${joistName} is put in turned end for end`
    case 'move-web-free': return `if ${joistName} is made with the stretch without webs, which begins ${mm(cure.fromMm)} from its datum end, ${mm(Math.abs(cure.byMm))} ${cure.byMm > 0 ? 'further from' : 'nearer to'} that end`
    case 'without': {
      const names = job.runs.filter(({ id }) => cure.runIds.includes(id)).map(({ name }) => name)
      return `where ${shortList(names, 3)} ${names.length === 1 ? 'is' : 'are'} not in the way`
    }
  }
}

/** What has to be minded before a change is made; '' for most. */
export function cureCaution(cure: Cure): string {
  switch (cure.kind) {
    case 'shift-webs':
    case 'move-web-free': return 'This is a question for the maker of the joists, before the joist is made, and for nobody on site: never cut, notch, drill or shift a web or a chord without the word of the maker or an engineer.'
    case 'turn-joist': return 'Ask the maker of the joists or an engineer first: a joist may be made for one way round only, and it must be asked before the joists are fixed.'
    case 'smaller-type': return 'A smaller duct carries less air: work the air out again before it is ordered.'
    default: return ''
  }
}

/** '100 mm east', '12 mm north and 5 mm down' */
export function moveWords([x, y, z]: readonly number[]): string {
  const level = Math.hypot(x, y)
  const parts = [...level > 0.05 ? [`${mm(level)} ${compassOf(x, y)}`] : [], ...Math.abs(z) > 0.05 ? [`${mm(Math.abs(z))} ${z > 0 ? 'up' : 'down'}`] : []]
  return parts.length === 0 ? 'by nothing' : parts.join(' and ')
}

/** How far changes were looked for, where none was found. */
export function lookedIntoWords({ cure, cause, lookedInto, triedCount }: Pick<CannotRoute, 'cure' | 'cause' | 'lookedInto' | 'triedCount'>): string {
  if (cure !== null || cause === 'not-tried') return ''
  if (lookedInto === 'none') return 'Changes that would free it were not looked into.'
  const tried = `${triedCount} ${triedCount === 1 ? 'change was' : 'changes were'} tried, and ${triedCount === 1 ? 'it does not free it' : 'none of them frees it'}`
  return lookedInto === 'all' ? `${tried}.` : `${tried}; then the work allowed for it ran out, and others were not looked into.`
}

/** '1,012.4 mm'; tenths only where there are any */
function mm(value: number): string {
  return mmWithTenths(value).replace('.0 mm', ' mm')
}
