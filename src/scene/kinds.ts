/** Kinds of things in the picture: how each is drawn, and how many of each a job has. */
import type { Assembly } from '#assembly/assembly.ts'
import { CLASSES } from '#model/classes.ts'
import type { SolidClass, View } from '#model/index.ts'
import { isFaint } from './palette.ts'

/** as saved views name them */
export type Kind = View['hidden'][number]
/** 'thin': so faint that it never hides what is behind it */
export type DrawnAs = 'full' | 'thin' | 'none'
export type Drawing = (kind: Kind) => DrawnAs

export const AS_USUAL: Drawing = (kind) => kind !== 'zone' && kind !== 'room' && isFaint(kind) ? 'thin' : 'full'

/** @param faint of those that are not hidden */
export function drawingWith(hidden: ReadonlySet<Kind>, faint: ReadonlySet<Kind>): Drawing {
  if (hidden.size === 0 && faint.size === 0) return AS_USUAL
  return (kind) => hidden.has(kind) ? 'none' : faint.has(kind) ? 'thin' : AS_USUAL(kind)
}

/** Names as on site, in the plural. */
export const KIND_WORDS: Record<Kind, string> = {
  'duct': 'Ducts', 'chord': 'Chords', 'web': 'Webs', 'joist': 'Solid joists and blocks', 'beam': 'Beams', 'trimmer': 'Trimmers', 'noggin': 'Noggins',
  'strongback': 'Strongbacks', 'steel': 'Steel', 'wall': 'Walls', 'slab': 'Slabs', 'lining': 'Linings', 'insulation': 'Insulation', 'pipe': 'Pipes',
  'soil-stack': 'Soil stacks', 'cable': 'Cables', 'downlight': 'Downlights', 'keep-out': 'Keep-outs', 'flue': 'Flues', 'unit': 'Units',
  'manifold': 'Manifolds', 'plenum': 'Plenums', 'outdoor-terminal': 'Outdoor terminals', 'sleeve': 'Sleeves', 'other': 'Other things', 'room': 'Rooms', 'zone': 'Ceilings',
}

/** what a joist has many of */
const MEMBERS: ReadonlySet<SolidClass> = new Set(['chord', 'web'])

export interface KindCount { readonly kind: Kind, readonly count: number }

/** The kinds that a job has anything of, in the order of the model; members of joists each by itself, everything else by the piece however many solids it is made of. */
export function kindsIn({ solids, parts, runs, zones }: Assembly): KindCount[] {
  const counts = new Map<Kind, number>(), seen = new Set<string>()
  for (let i = 0; i < solids.count; i++) {
    const kind: SolidClass = parts.classOf(i)
    const piece = `${kind} ${parts.ownerIdOf(i)}`
    if (!MEMBERS.has(kind) && seen.has(piece)) continue
    seen.add(piece)
    counts.set(kind, (counts.get(kind) ?? 0) + 1)
  }
  counts.set('duct', runs.length)
  counts.set('zone', zones.count)
  return [...CLASSES, 'zone' as const].flatMap((kind) => {
    const count = counts.get(kind) ?? 0
    return count === 0 ? [] : [{ kind, count }]
  })
}
