/** The clearance that a duct needs from each class of solid, out of the job's settings. */
import { CLASSES, type Settings, type SolidClass } from '#model/index.ts'

export interface DuctClearances {
  /** required by class code (index into CLASSES), mm */
  readonly mm: Float64Array
  /** where each requirement comes from, by class code */
  readonly why: readonly string[]
  /** the largest of them: how far round a run to look, mm */
  readonly mostMm: number
}

const DUCT: SolidClass = 'duct'
export const DUCT_CODE = CLASSES.indexOf(DUCT)

/** The most particular entry wins: both classes named before one named before none; of equals the last. */
export function ductClearances(settings: Settings): DuctClearances {
  const mm = new Float64Array(CLASSES.length).fill(settings.clearanceMm)
  const why = CLASSES.map((className) => settings.clearanceMm > 0
    ? `the job's clearance where no other is given, duct to ${words(className)}`
    : `nothing more than no contact is asked between duct and ${words(className)}`)
  const named = new Int8Array(CLASSES.length).fill(-1)
  for (const entry of settings.clearances) {
    const [a, b] = entry.between
    const particular = (a === 'any' ? 0 : 1) + (b === 'any' ? 0 : 1)
    CLASSES.forEach((className, code) => {
      if (particular < named[code] || !(isMet(a, DUCT) && isMet(b, className) || isMet(b, DUCT) && isMet(a, className))) return
      named[code] = particular
      mm[code] = entry.mm
      why[code] = `the job's clearance ${wordsOrAny(a)} to ${wordsOrAny(b)}${entry.why === '' ? '' : `: ${entry.why.replace(/\s+/g, ' ').trim()}`}`
    })
  }
  return { mm, why, mostMm: Math.max(...mm) }
}

function isMet(entry: SolidClass | 'any', className: SolidClass): boolean {
  return entry === 'any' || entry === className
}

function words(className: SolidClass): string {
  return className.replace('-', ' ')
}

function wordsOrAny(entry: SolidClass | 'any'): string {
  return entry === 'any' ? 'anything' : words(entry)
}
