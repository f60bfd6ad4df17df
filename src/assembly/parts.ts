/** What each solid of an assembly is: kept as small numbers so that a hundred thousand web plates cost little; names are made when asked for. */
import type { SolidClass } from '#model/index.ts'
import { CLASSES } from '#model/classes.ts'

/** What part of its owner a solid is. */
export const PART_KINDS = [
  'whole', 'top-chord', 'bottom-chord', 'web', 'post', 'end-block', 'top-flange', 'bottom-flange', 'back', 'lip', 'body', 'spigot',
] as const
export type PartKind = (typeof PART_KINDS)[number]
export type Face = '' | 'left' | 'right'
const FACES: readonly Face[] = ['', 'left', 'right']

export interface Part {
  /** id in the project file of the thing it belongs to */
  readonly ownerId: string
  /** which part of it: 'web-3-left', 'top-chord', 'spigot-p3'; '' for the whole of it */
  readonly part: string
  /** site name: 'joist J12, web 3 (left face)' */
  readonly name: string
  readonly class: SolidClass
}

interface Owner { readonly id: string, readonly name: string }

export class Parts {
  private readonly owners: Owner[] = []
  private readonly labels: string[] = []
  private owner: number[] = []
  private kind: number[] = []
  private number: number[] = []
  private face: number[] = []
  private classCode: number[] = []

  /** @returns the owner's index, for `add` */
  addOwner(id: string, name: string): number {
    this.owners.push({ id, name })
    return this.owners.length - 1
  }

  /** Parts are added in the order of their solids. `number` counts from 1; 0 for parts that are not numbered. `label` replaces the number where parts have ids. */
  add(owner: number, kind: PartKind, className: SolidClass, number = 0, face: Face = '', label = ''): void {
    this.owner.push(owner)
    this.kind.push(PART_KINDS.indexOf(kind))
    this.face.push(FACES.indexOf(face))
    this.classCode.push(CLASSES.indexOf(className))
    if (label === '') this.number.push(number)
    else this.number.push(-this.labels.push(label))
  }

  get count(): number {
    return this.owner.length
  }

  ownerIndexOf(solid: number): number {
    return this.owner[solid]
  }

  ownerIdOf(solid: number): string {
    return this.owners[this.owner[solid]].id
  }

  kindOf(solid: number): PartKind {
    return PART_KINDS[this.kind[solid]]
  }

  classOf(solid: number): SolidClass {
    return CLASSES[this.classCode[solid]]
  }

  /** index into CLASSES */
  classCodeOf(solid: number): number {
    return this.classCode[solid]
  }

  describe(solid: number): Part {
    const owner = this.owners[this.owner[solid]]
    const kind = PART_KINDS[this.kind[solid]]
    const face = FACES[this.face[solid]]
    const n = this.number[solid]
    const mark = n > 0 ? String(n) : n < 0 ? this.labels[-n - 1] : ''
    const className = CLASSES[this.classCode[solid]]
    if (kind === 'whole') return { ownerId: owner.id, part: '', name: owner.name, class: className }
    const part = [kind, mark, face].filter((word) => word !== '').join('-')
    if (kind === 'body') return { ownerId: owner.id, part, name: owner.name, class: className }
    const words = kind.replace('-', ' ')
    const name = `${owner.name}, ${words}${mark === '' ? '' : ` ${mark}`}${face === '' ? '' : ` (${face} face)`}`
    return { ownerId: owner.id, part, name, class: className }
  }
}
