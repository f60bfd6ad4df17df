/** A piece of equipment moved so that one of its spigots faces the middle of an opening or of a bay. Nothing in the job changes. */
import type { PlacedJoist, PlacedSpigot } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import { halfThicknessMm } from '#checks/openingUse.ts'
import { inJoist, siteOf } from './threadGates.ts'
import { dot, minus, plus, type Vec } from './threadVector.ts'

export type SnapTarget =
  | { readonly kind: 'opening', readonly joistId: string, readonly opening: number }
  /** between two neighbouring joists: any place in the bay, which tells which */
  | { readonly kind: 'bay', readonly near: Vec }

export interface Snap {
  /** how the equipment moves, mm */
  readonly by: Vec
  /** its centre after the move */
  readonly centre: Vec
  /** the spigot's mouth after the move */
  readonly mouth: Vec
  /** the middle that its axis then passes */
  readonly target: Vec
  readonly words: string
}

/** A spigot's axis nearer to square with a target's than this faces it, as a sine. */
const FACES = 0.05

/**
 * The shortest move that brings the spigot's axis through the target's middle: nothing moves along the axis. For an opening the axis must be
 * square to the joist; for a bay it runs along the joists, halfway between their faces, at the middle of their depth. Where the spigot faces another way its mouth goes to the middle itself.
 * @returns the move, or why there is none
 */
export function snapSpigot(context: CheckContext, equipmentId: string, spigotId: string, target: SnapTarget): Snap | { readonly why: string } {
  const spigot = context.assembly.spigots.find(({ equipment, spigot: { id } }) => equipment.id === equipmentId && id === spigotId)
  if (spigot === undefined) return { why: `The job has no spigot ${spigotId} on ${equipmentId}.` }
  if (target.kind === 'opening') {
    const joist = context.assembly.joists.find(({ id }) => id === target.joistId)
    const opening = joist?.openings.find(({ number }) => number === target.opening)
    if (joist === undefined || opening === undefined) return { why: `The job has no opening ${target.opening} in ${joist?.name ?? `joist ${target.joistId}`}.` }
    largestStraight(opening.opening, fit)
    return moved(spigot, siteOf(joist, fit[1], fit[2]), joist.across, `${joist.name}, opening ${target.opening}`)
  }
  const bay = bayAt(context.assembly.joists, target.near)
  return 'why' in bay ? bay : moved(spigot, bay.middle, bay.along, `the bay between ${bay.names[0]} and ${bay.names[1]}`)
}

const fit = new Float64Array(3)

function moved({ equipment, at, axis, name }: PlacedSpigot, middle: Vec, line: Vec, what: string): Snap {
  const gap = minus(middle, at)
  const sine = Math.sqrt(Math.max(0, 1 - dot(axis, line) ** 2))
  const faces = sine < FACES
  // on to the line through the middle, by the shortest way
  const by = faces ? plus(gap, line, -dot(gap, line)) : gap
  const [x, y, z] = by
  const parts = [['x', x], ['y', y], ['z', z]].filter(([, d]) => Math.abs(d as number) >= 0.05).map(([n, d]) => `${n} ${(d as number) > 0 ? '+' : '-'}${Math.abs(d as number).toFixed(1)} mm`)
  const how = parts.length === 0 ? 'is there already' : `moves ${parts.join(', ')}`
  return { by, centre: plus(equipment.centre, by), mouth: plus(at, by), target: middle, words: `${equipment.name} ${how}: ${name} ${faces ? 'in line with the middle of' : 'at the middle of'} ${what}.` }
}

export interface Bay { readonly middle: Vec, readonly along: Vec, readonly names: readonly [string, string], readonly clearMm: number }

interface Beside { readonly joist: PlacedJoist, readonly n: number }

/** The bay that a place lies in, and the point of its middle line abreast of that place. */
export function bayAt(joists: readonly PlacedJoist[], near: Vec): Bay | { readonly why: string } {
  let left: Beside | null = null, right: Beside | null = null
  for (const joist of joists) {
    const [x, , n] = inJoist(joist, near)
    if (x < 0 || x > joist.lengthMm) continue
    const first: PlacedJoist | undefined = left?.joist ?? right?.joist
    if (first !== undefined && Math.abs(dot(first.along, joist.along)) < 1 - 1e-9) continue
    const side: number = first === undefined ? n : n * Math.sign(dot(first.across, joist.across))
    if (side >= 0 && (left === null || side < left.n)) left = { joist, n: side }
    if (side < 0 && (right === null || side > right.n)) right = { joist, n: side }
  }
  if (left === null || right === null) return { why: 'That place does not lie between two joists.' }
  const { joist } = left, width = left.n - right.n
  const [x] = inJoist(joist, near)
  const inner = halfThicknessMm(joist), outer = halfThicknessMm(right.joist), middle = (inner + width - outer) / 2
  const lowMm = Math.max(left.joist.origin[2], right.joist.origin[2]), highMm = Math.min(left.joist.origin[2] + left.joist.section.depthMm, right.joist.origin[2] + right.joist.section.depthMm)
  const at = siteOf(joist, x, 0)
  const point = plus(at, joist.across, middle)
  return { middle: [point[0], point[1], (lowMm + highMm) / 2], along: joist.along, names: [joist.name, right.joist.name], clearMm: width - inner - outer }
}
