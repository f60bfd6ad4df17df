/** Where people can be hurt. Local codes and licensed practice come first; this list only reminds. */
import type { Job } from '#model/index.ts'
import { sourceWords, type Source } from './sources.ts'

export interface Caution {
  readonly code: 'local-codes' | 'isolate' | 'lift' | 'height' | 'dust' | 'combustion' | 'fire' | 'joists'
  readonly text: string
  /** null for what is common practice */
  readonly source: Source | null
}

const HANDLING: Source = { document: 'Manual handling guidance of Great Britain’s safety regulator, L23 and INDG143', mark: 'restated' }

/** guideline for one person lifting close in at waist height, kg: 25 for men, 16 for women; a filter, not a limit */
export const ONE_PERSON_KG = 16

/** What a team may lift by the guideline: two people two-thirds of their sum, three one half (L23, paragraph 120). */
export function teamKg(eachKg: readonly number[]): number {
  const sum = eachKg.reduce((total, kg) => total + kg, 0)
  return eachKg.length <= 1 ? sum : eachKg.length === 2 ? sum * 2 / 3 : sum / 2
}

export function cautionsFor(job: Job): Caution[] {
  const list: Caution[] = [
    { code: 'local-codes', text: 'Local codes and licensed trades come first: where they say otherwise, they are right and this tool is not.', source: null },
    { code: 'isolate', text: 'Isolate the electricity, lock it off and prove it dead before opening the unit or working by cables. Fans start by themselves. Connections are for a licensed electrician.', source: null },
  ]
  const heavy = job.equipment.filter(({ airflow }) => (airflow?.weightKg ?? 0) > ONE_PERSON_KG)
  const units = job.equipment.filter(({ kind }) => kind === 'unit')
  if (heavy.length > 0) {
    list.push(...heavy.map(({ name, airflow }): Caution => ({
      code: 'lift', source: HANDLING,
      text: `${name} weighs ${airflow!.weightKg} kg, more than the guideline for one person (25 kg for men, 16 kg for women, close in at waist height, and less at head height). ${liftWords(airflow!.weightKg!)}`,
    })))
  } else if (units.some(({ airflow }) => airflow?.weightKg === undefined)) {
    list.push({ code: 'lift', source: HANDLING, text: 'The unit’s weight is not entered. Above the guideline for one person (25 kg for men, 16 kg for women, close in at waist height, and less at head height) it takes two people and a landing platform; two lift two-thirds of their sum.' })
  }
  list.push(
    { code: 'height', text: 'Work at height from a platform with guard rails, not from a chair or a joist; boards across joists before anyone steps on them.', source: null },
    { code: 'dust', text: 'Opening old ceilings: find out about asbestos and lead paint before the first cut, wear a mask that fits, and keep the dust in the room.', source: null },
    {
      code: 'combustion', source: null,
      text: `${flueWords(job)}Extract can pull flue gases back into a room: have every combustion appliance in the dwelling, and its air supply, judged by a licensed person before the fans run.`,
    },
    { code: 'fire', text: 'A ceiling or wall that resists fire keeps doing so only with the seals, dampers and boxes that its maker or the code names, at every duct and valve through it.', source: null },
    { code: 'joists', text: 'Never cut, drill or notch a chord or web without the joist maker’s or an engineer’s word.', source: null },
  )
  return list
}

function liftWords(weightKg: number): string {
  const two = teamKg([25, 25]), three = teamKg([25, 25, 25])
  if (weightKg <= two) return `Two people lift up to ${Math.round(two)} kg by it at best; use a landing platform.`
  if (weightKg <= three) return `Three people lift up to ${three} kg by it at best; use a lifting aid and a landing platform.`
  return 'No team carries that by the guideline: use a hoist or a lifting table.'
}

function flueWords({ solids }: Job): string {
  const flue = solids.find((solid) => solid.class === 'flue')
  return flue === undefined ? '' : `${flue.name} passes through this job. `
}

export function cautionWords({ text, source }: Caution): string {
  return source === null ? text : `${text} (${sourceWords(source)})`
}
