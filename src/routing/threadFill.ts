/** The joists that lie between what was clicked: an opening of each is taken on the way, and said. */
import type { CheckContext } from '#checks/context.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE, elementDistance } from '#geometry/clearance/index.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import { holePassage, inJoist, isPassedBy, joistPassage, siteOf, type DuctAsked, type JoistPassage, type Passage } from './threadGates.ts'
import { endCorners, type Ending } from './threadString.ts'
import type { Vec } from './threadVector.ts'

export interface Filled {
  readonly passages: readonly Passage[]
  /** harmless: what was taken on the way */
  readonly notes: readonly string[]
  /** joists in the way that let nothing through */
  readonly barred: readonly string[]
}

interface Anchor { readonly at: Vec, readonly name: string }

export function withJoistsBetween(context: CheckContext, duct: DuctAsked, from: Ending, to: Ending | null, clicked: readonly Passage[], bendRadiusMm: number): Filled {
  const passages: Passage[] = [], notes: string[] = [], barred: string[] = []
  let next = 0, end = clicked.length
  const placeOf = (i: number): Vec | null => clicked[i] === undefined ? null : middleOf(clicked[i])
  const head = endCorners(from, placeOf(0) ?? to?.at ?? null, bendRadiusMm)
  const tail = to === null ? [] : endCorners(to, placeOf(end - 1) ?? from.at, bendRadiusMm).reverse()
  const start: Anchor = { at: from.at, name: 'its start' }, goal: Anchor | null = to === null ? null : { at: to.at, name: 'its end' }

  let here = start
  const go = (there: Anchor, isClicked: (joistIndex: number) => boolean): void => {
    for (const joistIndex of joistsBetween(context, here.at, there.at)) {
      if (isClicked(joistIndex)) continue
      const taken = takenOnTheWay(context, duct, joistIndex, here, there, notes, barred)
      if (taken === null) continue
      passages.push(taken)
      here = { at: middleOf(taken), name: taken.joist.name }
    }
    here = there
  }
  for (const corner of head.slice(1)) {
    go({ at: corner, name: 'its first corner' }, (joistIndex) => {
      const passage = clicked[next]
      if (passage?.kind !== 'joist' || passage.joistIndex !== joistIndex) return false
      passages.push(passage)
      next++
      return true
    })
  }
  // gates that the straight duct at the end passes belong to its last leg
  const last: Passage[] = []
  if (goal !== null && tail.length > 1) {
    for (const joistIndex of joistsBetween(context, tail[tail.length - 2], goal.at).reverse()) {
      const passage = clicked[end - 1]
      if (end <= next || passage.kind !== 'joist' || passage.joistIndex !== joistIndex) break
      last.unshift(passage)
      end--
    }
  }
  for (; next < end; next++) {
    go({ at: middleOf(clicked[next]), name: clicked[next].name }, () => false)
    passages.push(clicked[next])
  }
  for (const [i, at] of tail.entries()) {
    const isLast = i === tail.length - 1
    go({ at, name: 'its end' }, (joistIndex) => isLast && last.some((passage) => passage.kind === 'joist' && passage.joistIndex === joistIndex && (passages.push(passage), true)))
  }
  return { passages, notes, barred }
}

const scratch = new Float64Array(3)

export function middleOf(passage: Passage): Vec {
  if (passage.kind === 'point') return passage.at
  const { joist, beside, opening } = passage
  if (beside.diameterMm > 0) return siteOf(joist, beside.x, beside.y)
  largestStraight(opening, scratch)
  return siteOf(joist, scratch[1], scratch[2])
}

const near = new IndexList()
/** A leg that ends this near to a middle plane starts or ends there, mm. */
const ON_PLANE_MM = 0.5

/** Joists whose middle plane the straight way passes, in order. */
function joistsBetween(context: CheckContext, a: Vec, b: Vec): number[] {
  context.joistPlanes.near(
    Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.min(a[2], b[2]), Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.max(a[2], b[2]), near,
  )
  const found: { joistIndex: number, share: number }[] = []
  for (let k = 0; k < near.count; k++) {
    const joistIndex = near.items[k], joist = context.assembly.joists[joistIndex]
    const [ax, ay, an] = inJoist(joist, a), [bx, by, bn] = inJoist(joist, b)
    if (!(an * bn < 0) || Math.min(Math.abs(an), Math.abs(bn)) < ON_PLANE_MM) continue
    const share = an / (an - bn), x = ax + share * (bx - ax), y = ay + share * (by - ay)
    if (x >= 0 && x <= joist.lengthMm && y >= 0 && y <= joist.section.depthMm) found.push({ joistIndex, share })
  }
  return found.sort((p, q) => p.share - q.share).map(({ joistIndex }) => joistIndex)
}

function takenOnTheWay(context: CheckContext, duct: DuctAsked, joistIndex: number, here: Anchor, there: Anchor, notes: string[], noneOf: string[]): JoistPassage | null {
  const joist = context.assembly.joists[joistIndex]
  const [ax, ay, an] = inJoist(joist, here.at), [bx, by, bn] = inJoist(joist, there.at)
  const share = an / (an - bn), x = ax + share * (bx - ax), y = ay + share * (by - ay)
  const choices = [
    ...joist.openings.map(({ number }) => joistPassage(context, duct, joistIndex, number, true)),
    ...(context.holesOfJoist.get(joistIndex) ?? []).map(({ id }) => holePassage(context, duct, id)),
  ].filter((passage) => passage !== null).map((passage) => ({ passage, offMm: Math.hypot(passage.beside.x - x, passage.beside.y - y), takes: passage.beside.diameterMm >= 2 * duct.outerRadiusMm }))
  choices.sort((p, q) => Number(q.takes) - Number(p.takes) || p.offMm - q.offMm)
  if (choices.length === 0) {
    noneOf.push(`${joist.name} lies in the way and has neither openings nor a hole; nothing of it was clicked.`)
    return null
  }
  const { passage } = choices[0]
  const barred = isPassedBy(passage, here.at, there.at) ? null : memberMet(context, duct, joistIndex, here.at, there.at)
  notes.push(`${joist.name} was not clicked: ${passage.holeId === null ? `its opening ${passage.openingNumber}` : passage.name} is taken on the way${barred === null ? '' : `; the straight line from ${here.name} to ${there.name} meets its ${barred}`}.`)
  return { ...passage, onTheWay: true }
}

const leg = new Float64Array(ELEMENT_STRIDE), answer = new Float64Array(ANSWER_SIZE)

/** The member of a joist that a straight leg cuts deepest into, in words: 'web 5'. */
function memberMet(context: CheckContext, { outerRadiusMm }: DuctAsked, joistIndex: number, a: Vec, b: Vec): string | null {
  const { solids, parts, joists } = context.assembly
  const { firstSolid, endSolid, name } = joists[joistIndex]
  writeLeg(leg, 0, a[0], a[1], a[2], b[0], b[1], b[2], 0)
  let least = outerRadiusMm, met = -1
  for (let i = firstSolid; i < endSolid; i++) {
    if (context.isSound[i] === 0) continue
    const mm = elementDistance(leg, 0, solids, i, least, answer)
    if (mm < least) {
      least = mm
      met = i
    }
  }
  return met < 0 ? null : parts.describe(met).name.replace(`${name}, `, '').replace(/ \((left|right) face\)$/, '')
}
