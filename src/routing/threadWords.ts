/** Why a course is as it is, in a builder's words: one sentence for each thing that is wrong with it. */
import type { CheckContext } from '#checks/context.ts'
import type { Finding } from '#checks/finding.ts'
import { mm, sentenceOf } from '#checks/wording.ts'
import { largestOblique, largestStraight } from '#geometry/fit/largestDuct.ts'
import type { DuctType } from '#model/index.ts'
import { usersOf } from '#checks/openingUse.ts'
import { directionInJoist, inJoist, type JoistPassage, type Passage } from './threadGates.ts'
import type { Tried } from './threadRun.ts'
import { minus, unit, type Vec } from './threadVector.ts'

const scratch = new Float64Array(3)

export function explanationOf(context: CheckContext, course: Tried, passages: readonly Passage[], type: DuctType): string[] {
  const { placed, findings } = course
  const words: string[] = []
  const duct = `this duct is ${mm(2 * placed.outerRadiusMm)}${type.insulationMm > 0 ? ' with insulation' : ''}`
  for (const passage of passages) {
    if (passage.kind !== 'joist') continue
    const fault = roomFault(context, passage, course, duct)
    if (fault !== null) words.push(fault)
    else if (course.missed.includes(passage)) words.push(`${upper(passage.name)} is not passed: no way was found through it from what is clicked before and after.`)
  }
  for (const finding of findings) {
    if (finding.severity === 'advice' || finding.code === 'opening-too-small') continue
    words.push(finding.code === 'bend-has-no-room' && finding.unit === 'mm' ? noRoomWords(passages, finding) : sentenceOf(finding))
  }
  return words
}

/** What bars the duct from an opening, worst first: its size, the ducts in it, the slant of the way there. */
function roomFault(context: CheckContext, passage: JoistPassage, { points, placed }: Tried, duct: string): string | null {
  const { joist, joistIndex, name, opening, openingNumber, holeId, beside } = passage
  const ductMm = 2 * placed.outerRadiusMm
  largestStraight(opening, scratch)
  // a hole is drawn as a polygon with many sides: its own size is what beside tells
  const straightMm = holeId === null ? scratch[0] : beside.diameterMm
  if (straightMm < ductMm) return `${upper(name)} takes ${mm(straightMm)} here; ${duct}.`
  if (beside.diameterMm < ductMm && openingNumber !== null) {
    const users = usersOf(context, joistIndex, openingNumber).map(({ runIndex }) => context.runs[runIndex].placed.run).filter(({ id }) => id !== placed.run.id)
    return `${upper(name)} has ${mm(beside.diameterMm)} left beside ${users.map((run) => run.name).join(' and ')}; ${duct}.`
  }
  for (let i = 0; i + 1 < points.length; i++) {
    const an = inJoist(joist, points[i])[2], bn = inJoist(joist, points[i + 1])[2]
    if (!(an * bn <= 0) || an === bn) continue
    const [x, y, n] = directionInJoist(joist, unit(minus(points[i + 1], points[i])))
    largestOblique(opening, x / n, y / n, scratch)
    if (scratch[0] < ductMm) return `${upper(name)} takes ${mm(scratch[0])} at the slant of the way there, ${Math.round(Math.atan(Math.hypot(x, y) / Math.abs(n)) * 180 / Math.PI)} degrees; ${duct}.`
  }
  return null
}

function noRoomWords(passages: readonly Passage[], finding: Finding): string {
  const at: Vec = [finding.at.x, finding.at.y, finding.at.z]
  const joists = passages.filter((passage): passage is JoistPassage => passage.kind === 'joist').map((passage) => ({ name: passage.joist.name, n: inJoist(passage.joist, at)[2] }))
  const before = joists.filter(({ n }) => n <= 0).sort((a, b) => b.n - a.n)[0], after = joists.filter(({ n }) => n > 0).sort((a, b) => a.n - b.n)[0]
  const where = before !== undefined && after !== undefined ? `between ${[before.name, after.name].sort().join(' and ')}` : joists.length > 0 ? `beside ${(before ?? after).name}` : `at ${Math.round(finding.stationMm ?? 0)} mm along the run`
  return `The bend ${where} has no room: ${mm(finding.required - finding.measured)} more straight is needed beside it.`
}

function upper(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1)
}
