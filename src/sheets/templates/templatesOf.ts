/** What is worth a template at full size: faces of the unit, of manifolds and of plenums that have spigots, and the holes through walls and fascias. */
import type { CheckContext } from '#checks/context.ts'
import type { Equipment } from '#model/index.ts'
import { unitOf } from '#assembly/place.ts'
import type { SheetOptions } from '../options.ts'

export interface TemplateRound {
  readonly name: string
  /** from the template's lower left corner, mm */
  readonly x: number
  readonly y: number
  readonly diameterMm: number
  /** to be cut; otherwise only drawn */
  readonly isCut: boolean
}

export interface Template {
  readonly id: string
  readonly title: string
  /** which way up and from where it is seen */
  readonly words: string
  readonly widthMm: number
  readonly heightMm: number
  /** drawn round the whole: the edge of a body */
  readonly hasOutline: boolean
  readonly rounds: readonly TemplateRound[]
}

type Vec = readonly [number, number, number]
/** outward, to the right and up as it is seen from outside, in the body's own frame */
const FACES: readonly { readonly name: string, readonly out: Vec, readonly right: Vec, readonly up: Vec, readonly words: string }[] = [
  { name: 'top', out: [0, 0, 1], right: [1, 0, 0], up: [0, 1, 0], words: 'seen from above, its own x to the right' },
  { name: 'underside', out: [0, 0, -1], right: [-1, 0, 0], up: [0, 1, 0], words: 'seen from below, its own x to the left' },
  { name: '+x side', out: [1, 0, 0], right: [0, 1, 0], up: [0, 0, 1], words: 'seen from outside, top up' },
  { name: '-x side', out: [-1, 0, 0], right: [0, -1, 0], up: [0, 0, 1], words: 'seen from outside, top up' },
  { name: '+y side', out: [0, 1, 0], right: [-1, 0, 0], up: [0, 0, 1], words: 'seen from outside, top up' },
  { name: '-y side', out: [0, -1, 0], right: [1, 0, 0], up: [0, 0, 1], words: 'seen from outside, top up' },
]
/** A spigot belongs to a face that it leaves within this of square (a cosine). */
const SQUARE = Math.cos(5 * Math.PI / 180)
/** Paper round a hole that has no body round it, mm. */
const ROUND_MM = 20

/** Bodies that are alike share one template. */
export function templatesOf({ assembly: { job, sleeves } }: CheckContext, { sleeveWallMm }: SheetOptions): Template[] {
  const faces = job.equipment.flatMap((equipment) => FACES.flatMap((face): Template[] => {
    if (equipment.kind === 'outdoor-terminal') return []
    const template = faceTemplate(equipment, face)
    return template.rounds.length > 0 || equipment.kind === 'unit' && face.name === 'top' ? [template] : []
  }))
  const holes = sleeves.map(({ sleeve: { id, name, diameterMm } }): Template => {
    const cut = diameterMm + 2 * sleeveWallMm, size = cut + 2 * ROUND_MM, middle = size / 2
    return {
      id: `template-hole-${id}`, title: `Hole for ${name}`, words: `cut the outer circle: sleeve of ${diameterMm} mm inside with a wall of ${sleeveWallMm} mm; set the cross level`, widthMm: size, heightMm: size, hasOutline: false,
      rounds: [{ name: 'cut', x: middle, y: middle, diameterMm: cut, isCut: true }, { name: 'clear', x: middle, y: middle, diameterMm, isCut: false }],
    }
  })
  return shared([...faces, ...holes])
}

function faceTemplate({ id, name, sizeMm, spigots }: Equipment, { name: face, out, right, up, words }: (typeof FACES)[number]): Template {
  const along = (v: readonly number[], way: Vec): number => v[0] * way[0] + v[1] * way[1] + v[2] * way[2]
  const extent = (way: Vec): number => Math.abs(along(sizeMm, way))
  const widthMm = extent(right), heightMm = extent(up)
  return {
    id: `template-${id}-${face}`, title: `${name}, ${face}`, words, widthMm, heightMm, hasOutline: true,
    rounds: spigots.flatMap((spigot): TemplateRound[] => along(unitOf(spigot.axis), out) < SQUARE ? []
      : [{ name: spigot.id, x: along(spigot.at, right) + widthMm / 2, y: along(spigot.at, up) + heightMm / 2, diameterMm: spigot.diameterMm, isCut: true }]),
  }
}

function shared(templates: readonly Template[]): Template[] {
  const alike = new Map<string, Template[]>()
  for (const template of templates) {
    const key = JSON.stringify([template.words, template.widthMm, template.heightMm, template.rounds])
    alike.set(key, [...alike.get(key) ?? [], template])
  }
  return [...alike.values()].map(([first, ...more]) => more.length === 0 ? first : { ...first, title: `${first.title}; the same for ${more.map(({ title }) => title).join(', ')}` })
}
