/** Words of the screens that are not sentences about a finding (those are in checks/wording.ts). */
import type { Finding, FindingCode, Severity } from '#checks/finding.ts'
import { SEVERITY_WORDS } from '#checks/wording.ts'
import type { RunVerdict, Verdict } from '#routing/verdict.ts'
import { countText, degText, mmText } from './figures.ts'
import type { WorkStep } from './desk.ts'

export { SEVERITY_WORDS }
export const SEVERITY_MEANINGS: Record<Severity, string> = {
  stop: 'cannot be built as drawn', mend: 'goes together, but breaks a rule or a clearance', advice: 'allowed, but better changed',
}
export const RUN_STATE_WORDS: Record<RunVerdict['state'], string> = { stop: SEVERITY_WORDS.stop, mend: SEVERITY_WORDS.mend, clear: 'Goes in' }

export const STEP_WORDS: Record<WorkStep, string> = {
  'reading': 'Reading the file', 'setting-out': 'Setting out the joists', 'checking': 'Checking every run against everything near it',
}

/** What the whole verdict comes to, in one line. */
export function headline({ counts, runs }: Verdict): string {
  if (runs.length === 0 && counts.stop + counts.mend + counts.advice === 0) return 'No runs yet'
  if (counts.stop > 0) return `${countText(counts.stop, 'thing')} won\u2019t fit`
  if (counts.mend > 0) return `Everything fits; ${countText(counts.mend, 'thing')} to put right`
  return 'Everything goes in'
}

/** The line under it: the tightest run when all is well, otherwise what the numbers mean. */
export function underline({ counts, runs, findings }: Verdict): string {
  if (findings.length > 0) {
    const faulty = runs.filter(({ state }) => state !== 'clear').length
    const rest = runs.length - faulty
    return counts.stop + counts.mend === 0 ? `${countText(runs.length, 'run')} checked. What is left is advice.`
      : `${countText(faulty, 'run')} of ${runs.length} to change; ${rest === 0 ? 'none goes' : rest === 1 ? 'one goes' : `${rest} go`} in as drawn.`
  }
  const tightest = tightestOf(runs)
  if (tightest === null) return 'A run goes from one spigot to another. This job has none, so nothing can touch.'
  const spare = spareOf(tightest) / 2
  return `${countText(runs.length, 'run')} checked and clear. The tightest is ${tightest.name}, with ${mmText(spare)} all round before it meets ${tightest.touchesFirst?.name ?? 'anything'}.`
}

/** How much larger it could be, mm; Infinity when nothing is there to touch. */
function spareOf({ trialDiameterMm, outerDiameterMm }: RunVerdict): number {
  return trialDiameterMm === null ? Infinity : trialDiameterMm - outerDiameterMm
}

function tightestOf(runs: readonly RunVerdict[]): RunVerdict | null {
  let best: RunVerdict | null = null
  for (const run of runs) {
    if (best === null ? run.trialDiameterMm !== null : spareOf(run) < spareOf(best)) best = run
  }
  return best
}

/** Where the requirement is no least figure. */
const LIMIT_WORDS: Partial<Record<FindingCode, string>> = {
  'off-spigot': 'at most', 'off-axis': 'at most', 'spigot-size': 'spigot takes', 'no-such-fitting': 'fitting has', 'outdoor-nearer-than-advised': 'advised',
}

/** How much is wrong, in as few words as will stand in the picture. */
export function amountWords({ code, unit, measured, required, parts }: Finding): string {
  switch (code) {
    case 'clash':
    case 'stands-in':
    case 'cut-member': return `overlaps by ${mmText(-measured)}`
    case 'tight': return `clears by ${mmText(measured)}, needs ${mmText(required)}`
    case 'leaves-void': return `${mmText(required - measured)} outside`
    case 'opening-too-small': return `takes ${mmText(measured)}, duct is ${mmText(required)}`
    case 'hole-outside-rule': return required === 0 ? `cuts ${mmText(-measured)} in` : `${mmText(measured)}, rule ${mmText(required)}`
    case 'sleeve-too-small': return `lacks ${mmText(required - measured)}`
    default:
      if (unit === 'count') return parts[0].name
      return `${unit === 'deg' ? degText(measured) : mmText(measured)}, ${LIMIT_WORDS[code] ?? 'needs'} ${unit === 'deg' ? degText(required) : mmText(required)}`
  }
}
