/** Holes drilled through joists, against the rule that the job names for that kind of joist. */
import type { PlacedHole, PlacedJoist } from '#assembly/assembly.ts'
import { ANSWER_SIZE, elementDistance } from '#geometry/clearance/index.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { JoistSection } from '#model/index.ts'
import type { CheckContext } from './context.ts'
import type { Finding, PartRef } from './finding.ts'
import { HOLE_RULES, ON_MIDDLE_MM, largestDiameterMm, SMALL_I_JOIST_HOLE_MM, sourceWords, type HoleRule } from './holeRules.ts'
import { byId, holeRef, joistRef, placeOf, solidRef } from './refs.ts'

type UncutSection = Exclude<JoistSection, { kind: 'open-web' }>

export function holeFaults(context: CheckContext): Finding[] {
  const findings: Finding[] = []
  for (const [joistIndex, holes] of context.holesOfJoist) {
    const joist = context.assembly.joists[joistIndex]
    if (joist.section.kind === 'open-web') {
      for (const hole of holes) findings.push(...cutMembers(context, hole))
    } else {
      const rule = ruleFor(context, joist.section)
      for (const hole of holes) findings.push(...againstRule(hole, joist, joist.section, rule))
      findings.push(...tooNearEachOther(holes, joist, rule))
    }
  }
  return [...findings, ...makersTableAdvice(context)]
}

function ruleFor(context: CheckContext, section: UncutSection): HoleRule {
  const { solidTimber, iSection, coldFormed } = context.assembly.job.settings.holeRules
  switch (section.kind) {
    case 'solid-timber': return HOLE_RULES[solidTimber]
    case 'i-section': return HOLE_RULES[iSection]
    case 'cold-formed': return HOLE_RULES[coldFormed]
  }
}

interface Limit { readonly key: string, readonly what: string, readonly measured: number, readonly required: number, readonly side: 'most' | 'least' }

function againstRule(hole: PlacedHole, joist: PlacedJoist, section: UncutSection, rule: HoleRule): Finding[] {
  const { depthMm } = section
  const diameterMm = 2 * hole.radiusMm
  const { x, y } = inJoist(hole, joist)
  const bearingMm = joist.field.bearingMm
  const spanMm = joist.lengthMm - 2 * bearingMm
  const fromSupportMm = Math.min(x - bearingMm, joist.lengthMm - bearingMm - x)
  const flangeMm = section.kind === 'i-section' ? section.flangeHeightMm : 0
  const limits: Limit[] = []
  const most = (key: string, what: string, measured: number, required: number) => limits.push({ key, what, measured, required, side: 'most' })
  const least = (key: string, what: string, measured: number, required: number) => limits.push({ key, what, measured, required, side: 'least' })

  if (rule.deepestJoistMm !== undefined) most('joist-depth', 'the rule speaks only of joists so deep', depthMm, rule.deepestJoistMm)
  most('diameter', 'diameter', diameterMm, largestDiameterMm(rule, depthMm, flangeMm))
  if (rule.zone !== undefined) {
    least('zone-near', `centre from the nearer support, ${rule.zone.from} of the span of ${Math.round(spanMm)} mm`, fromSupportMm, rule.zone.from * spanMm)
    most('zone-far', `centre from the nearer support, ${rule.zone.to} of the span of ${Math.round(spanMm)} mm`, fromSupportMm, rule.zone.to * spanMm)
  }
  if (rule.fromBearingMm !== undefined) least('bearing', 'edge of the hole from the edge of the bearing', fromSupportMm - hole.radiusMm, rule.fromBearingMm)
  if (rule.onMiddle) most('middle', `centre off the middle of the depth, ${ON_MIDDLE_MM} mm being our allowance for drilling`, Math.abs(y - depthMm / 2), ON_MIDDLE_MM)
  if (rule.edgeMm !== undefined) {
    const edges = flangeMm > 0 ? ['bottom flange', 'top flange'] : ['bottom edge', 'top edge']
    least('bottom', `left between the hole and the ${edges[0]}`, y - hole.radiusMm - flangeMm, rule.edgeMm)
    least('top', `left between the hole and the ${edges[1]}`, depthMm - flangeMm - y - hole.radiusMm, rule.edgeMm)
  }
  return limits.filter(isBroken).map((limit) => finding(hole, [joistRef(joist)], rule, limit, limit.key))
}

function tooNearEachOther(holes: readonly PlacedHole[], joist: PlacedJoist, rule: HoleRule): Finding[] {
  const { apart } = rule
  if (apart === undefined) return []
  const inOrder = [...holes].sort((a, b) => byId(a.id, b.id))
  return inOrder.flatMap((one, i) => inOrder.slice(i + 1).flatMap((two) => {
    const centresMm = Math.hypot(one.at[0] - two.at[0], one.at[1] - two.at[1], one.at[2] - two.at[2])
    const measured = apart.between === 'centres' ? centresMm : centresMm - one.radiusMm - two.radiusMm
    const required = Math.max(apart.mm ?? 0, (apart.diameters ?? 0) * 2 * Math.max(one.radiusMm, two.radiusMm))
    const limit: Limit = { key: 'apart', what: `${apart.between === 'centres' ? 'from centre to centre of' : 'left between it and'} hole ${two.id}`, measured, required, side: 'least' }
    return isBroken(limit) ? [finding(one, [joistRef(joist), holeRef(two)], rule, limit, `apart:${two.id}`)] : []
  }))
}

function isBroken({ measured, required, side }: Limit): boolean {
  return side === 'most' ? measured > required + ANSWER_ERROR_MM : measured < required - ANSWER_ERROR_MM
}

function finding(hole: PlacedHole, others: readonly PartRef[], rule: HoleRule, { what, measured, required }: Limit, key: string): Finding {
  const at = placeOf(hole.at)
  return {
    id: `hole-outside-rule:${hole.id}:${key}`, code: 'hole-outside-rule', severity: 'stop', parts: [holeRef(hole), ...others],
    at, mark: at, unit: 'mm', measured, required,
    why: `${what}, by ${sourceWords(key === 'bearing' ? { ...rule, mark: rule.bearingMark ?? rule.mark } : rule)}`,
  }
}

/** Seen from the joist: along it from its datum end, up from its underside, mm. */
function inJoist({ at }: PlacedHole, { origin, along }: PlacedJoist): { x: number, y: number } {
  return { x: (at[0] - origin[0]) * along[0] + (at[1] - origin[1]) * along[1], y: at[2] - origin[2] }
}

const axisLeg = new Float64Array(ELEMENT_STRIDE), answer = new Float64Array(ANSWER_SIZE)

/** What a hole takes out of an open-web joist's chords and webs; nothing of them may be drilled. */
function cutMembers(context: CheckContext, hole: PlacedHole): Finding[] {
  const { assembly, isSound } = context
  const [x, y, z] = hole.at, [ax, ay, az] = hole.axis, half = hole.halfLengthMm
  writeLeg(axisLeg, 0, x - ax * half, y - ay * half, z - az * half, x + ax * half, y + ay * half, z + az * half, 0)
  return hole.hosts.flatMap((solidIndex): Finding[] => {
    if (isSound[solidIndex] === 0) return []
    const measured = elementDistance(axisLeg, 0, assembly.solids, solidIndex, hole.radiusMm, answer) - hole.radiusMm
    if (!(measured < -ANSWER_ERROR_MM)) return []
    const at = placeOf(hole.at), ref = solidRef(assembly, solidIndex)
    return [{
      id: `hole-outside-rule:${hole.id}:${ref.part}`, code: 'hole-outside-rule', severity: 'stop', parts: [holeRef(hole), ref], at, mark: at,
      unit: 'mm', measured, required: 0, why: 'no member of an open-web joist may be drilled or cut; services go between its webs (NHBC Standards 6.4.18; IRC R502.8.2)',
    }]
  })
}

/** One word of advice for each field of wood I-joists with holes that only the maker's table can judge. */
function makersTableAdvice(context: CheckContext): Finding[] {
  const firstOfField = new Map<string, Finding>()
  for (const hole of [...context.assembly.holes].sort((a, b) => byId(a.id, b.id))) {
    const { field, section } = context.assembly.joists[hole.joistIndex]
    if (section.kind !== 'i-section' || 2 * hole.radiusMm <= SMALL_I_JOIST_HOLE_MM + ANSWER_ERROR_MM || firstOfField.has(field.id)) continue
    const at = placeOf(hole.at)
    firstOfField.set(field.id, {
      id: `hole-outside-rule:${field.id}:makers-table`, code: 'hole-outside-rule', severity: 'advice', parts: [{ id: field.id, name: field.name }, holeRef(hole)],
      at, mark: at, unit: 'mm', measured: 2 * hole.radiusMm, required: SMALL_I_JOIST_HOLE_MM,
      why: `holes larger than ${SMALL_I_JOIST_HOLE_MM} mm in wood I-joists keep a distance from the supports that depends on depth, span and size: read it in the joist maker's table (${HOLE_RULES['i-joist-generic'].source})`,
    })
  }
  return [...firstOfField.values()]
}
