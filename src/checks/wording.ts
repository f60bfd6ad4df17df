/** The sentences that findings become: plain words for a builder, with units. Nothing else in the project words a finding. */
import type { Finding, Place, Severity } from './finding.ts'
import type { JoistPlace } from './joistPlace.ts'

const TITLES: Record<Finding['code'], string> = {
  'clash': 'Clash',
  'tight': 'Too close',
  'opening-too-small': 'Opening too small for the duct',
  'leaves-void': 'Outside the ceiling void',
  'cut-member': 'Cuts a joist',
  'hole-outside-rule': 'Hole against the joist rule',
  'bend-too-tight': 'Bend too tight',
  'bend-has-no-room': 'No room for the bend',
  'no-such-fitting': 'No such fitting',
  'straight-too-short': 'Too little straight duct at the spigot',
  'off-spigot': 'End not on its spigot',
  'off-axis': 'End askew to its spigot',
  'spigot-size': 'Spigot of another size',
  'spigot-used-twice': 'Spigot used twice',
  'sleeve-too-small': 'Hole too small for the duct',
  'terminal-near-wall': 'Terminal too near a wall',
  'terminal-near-door': 'Terminal too near a door',
  'outdoor-too-near': 'Intake and exhaust too near',
  'outdoor-nearer-than-advised': 'Intake and exhaust nearer than advised',
  'stands-in': 'Stands in the way',
  'degenerate-solid': 'Not a proper body',
}

/** One line for a list: what is wrong, and with which things. */
export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = { stop: 'Won\u2019t fit', mend: 'To put right', advice: 'Worth a look' }

export function titleOf(finding: Finding): string {
  return `${TITLES[finding.code]}: ${listed(finding.parts.map((part) => part.name))}`
}

/** The whole of it: what, which two parts, where, how deep or how close, what was required and why. */
export function sentenceOf(finding: Finding): string {
  const sentence = words(finding)
  return sentence.charAt(0).toUpperCase() + sentence.slice(1)
}

function words(finding: Finding): string {
  const { measured, required, why } = finding
  const [first, second] = finding.parts.map((part) => part.name)
  const where = whereOf(finding)
  const found = amount(finding, measured), needed = asked(finding)
  switch (finding.code) {
    case 'clash':
      return `${first} cuts ${mm(-measured)} into ${second}, ${where}. ${required > 0 ? `It must clear it by ${needed} (${why}).` : 'It must clear it.'}`
    case 'tight':
      return `${first} passes ${closeness(finding)} from ${second}, ${where}; ${needed} is required (${why}).`
    case 'cut-member':
      return `${first} cuts ${mm(-measured)} into ${second}, ${where}, and no hole is declared there. ${why}.`
    case 'opening-too-small':
      return `${first} is ${needed} across, insulation included, but the largest duct that passes ${second} is ${found} across, ${where}: ${why}.`
    case 'leaves-void':
      return `${first} stands ${mm(required - measured)} out through ${second}, ${where}. ${why}.`
    case 'sleeve-too-small':
      return `${first} is ${needed} across, insulation included, but on its axis ${second} takes only ${mm(Math.max(0, measured))}, ${where}. ${why}.`
    case 'hole-outside-rule':
      if (required === 0) return `${first} cuts ${mm(-measured)} into ${second}, ${where}: ${why}.`
      return finding.severity === 'advice' ? `${first}, ${where}: ${why}.`
        : `${first} in ${second}, ${where}: ${why}. Found ${found}; ${measured < required ? 'at least' : 'at most'} ${needed} is allowed. The joist maker, an engineer and the local code have the last word.`
    case 'bend-too-tight':
      return `${first} has a radius of ${found} on its centre line, ${where}; at least ${needed} is required (${why}).`
    case 'bend-has-no-room':
      return `${first} has no room, ${where}: ${why}. ${mm(required - measured)} more straight is needed here: it has ${found} of ${needed}.`
    case 'no-such-fitting':
      return finding.unit === 'deg'
        ? `${first} turns ${found}, ${where}, but the nearest fitting listed turns ${needed} (${why}).`
        : `${first} has a radius of ${found}, ${where}, but the fitting of that angle has ${needed} (${why}).`
    case 'straight-too-short':
      return `${first} goes straight for only ${found} at ${second}, ${where}; ${needed} is wanted before the first bend (${why}).`
    case 'off-spigot':
      return `The end of ${first} lies ${found} from ${second}, ${where}; up to ${needed} is allowed (${why}).`
    case 'off-axis':
      return `The end of ${first} is ${found} askew to ${second}, ${where}; up to ${needed} is allowed (${why}).`
    case 'spigot-size':
      return `${first} is ${found} in diameter, but ${second} takes ${needed}, ${where}. ${why}.`
    case 'spigot-used-twice':
      return `${first} is used by ${measured} run ends, ${listed(finding.parts.slice(1).map((part) => part.name))}, ${where}. ${why}.`
    case 'terminal-near-wall':
    case 'terminal-near-door':
      return `The middle of ${first} is ${found} in plan from ${finding.code === 'terminal-near-wall' ? 'a wall' : 'a door'} of ${second}, ${where}; at least ${needed} is required (${why}).`
    case 'outdoor-too-near':
      return `${first} and ${second} are ${found} apart from edge to edge, ${where}; at least ${needed} is required (${why}).`
    case 'outdoor-nearer-than-advised':
      return `${first} and ${second} are ${found} apart from edge to edge, ${where}; ${needed} is advised (${why}).`
    case 'stands-in':
      return `${first} stands ${finding.isAtLeast === true ? 'at least ' : ''}${mm(-measured)} into ${second}, ${where}. ${why}.`
    case 'degenerate-solid':
      return `${first}${why.startsWith('its ') ? ':' : ''} ${why}, ${where}. It is left out of every other check until that is put right.`
  }
}

/** As on the plan, north up (geometry/compass.ts). */
const COMPASS: Readonly<Record<string, string>> = { 'along +x': 'east', 'along -x': 'west', 'along +y': 'north', 'along -y': 'south' }

/** Which way and how far to move; '' where a move is no answer or none has been looked for. */
export function moveSentence(finding: Finding): string {
  const { move } = finding
  if (move === undefined) return ''
  if (move === null) return 'No single move of a leg or a corner clears it.'
  const { x, y, z } = move.direction
  const points = move.waypoints.map((index) => String(index + 1))
  const which = `${points.length === 1 ? `point ${points[0]}` : `points ${listed(points)}`} of the run`
  if (move.way !== null) return `Move ${which} ${COMPASS[move.way] ?? move.way} by ${mm(move.byMm)} to clear it.`
  // askew: what to measure each way
  const parts = [[x, 'east', 'west'], [y, 'north', 'south'], [z, 'up', 'down']] as const
  const steps = parts.flatMap(([share, more, less]) => Math.abs(share * move.byMm) < 0.05 ? [] : [`${mm(Math.abs(share * move.byMm))} ${share > 0 ? more : less}`])
  return `Move ${which} ${listed(steps)} to clear it.`
}

function whereOf(finding: Finding): string {
  const along = finding.stationMm === undefined ? '' : `${thousands(finding.stationMm)} mm along ${finding.parts.some((part) => part.part === undefined) ? 'the run' : 'its run'}, `
  return `${along}at ${placeWords(finding.at)} mm`
}

/** 'x 4,120 y 1,860 z 2,655', whole millimetres. */
export function placeWords(place: Place): string {
  return `x ${thousands(place.x)} y ${thousands(place.y)} z ${thousands(place.z)}`
}

/** 'joist J12, 1,245 mm from its datum end (east)'. */
export function joistPlaceWords({ joist, alongMm, datumEnd, besideMm }: JoistPlace): string {
  return `${besideMm >= 0.5 ? `${thousands(besideMm)} mm beside ` : ''}${joist.name}, ${thousands(alongMm)} mm from its datum end (${datumEnd})`
}

function amount(finding: Finding, value: number): string {
  return finding.unit === 'deg' ? `${rounded(value, 1)} degrees` : finding.unit === 'count' ? String(value) : mm(value)
}

/** '1,012.4 mm'; what is not nothing is never written as 0.0. */
export function mm(value: number): string {
  if (value !== 0 && Math.abs(value) < 0.05) return 'less than 0.1 mm'
  return `${rounded(value, 1)} mm`
}

/** What was required: a whole figure without decimals. */
function asked(finding: Finding): string {
  const { unit, required } = finding
  return unit === 'mm' && Number.isInteger(required) ? `${thousands(required)} mm` : amount(finding, required)
}

/** A near miss is never written as the very figure that it misses. */
function closeness(finding: Finding): string {
  const isHidden = rounded(finding.measured, 1) === rounded(finding.required, 1)
  return isHidden ? `just under ${asked(finding)}` : mm(finding.measured)
}

function rounded(value: number, decimals: number): string {
  const [whole, part] = Math.abs(value).toFixed(decimals).split('.')
  const isNothing = Number(whole) === 0 && Number(part ?? 0) === 0
  return `${value < 0 && !isNothing ? '-' : ''}${whole.replace(/\B(?=(\d{3})+$)/g, ',')}${part === undefined ? '' : `.${part}`}`
}

function thousands(value: number): string {
  return rounded(value, 0)
}

function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`
}
