/** Collars on the faces of boxes: of units, manifolds, plenums and outdoor terminals. */
import type { Point3 } from '#model/index.ts'
import type { PartInput } from './parts.ts'

export type SpigotInput = NonNullable<PartInput<'equipment'>['spigots']>[number]
/** a face of the body in its own axes, before it is turned */
export type Face = '+x' | '-x' | '+y' | '-y' | '+z' | '-z'

/** how far a collar stands out where nothing is said, mm: the file format's own default */
const COLLAR_MM = 40

/** the axis that the face looks along, and its own two: first the longer (level one of equals) */
function frameOf(face: Face, sizeMm: Point3): { readonly axis: number, readonly sign: 1 | -1, readonly long: number, readonly short: number } {
  const axis = 'xyz'.indexOf(face[1]), sign = face[0] === '-' ? -1 : 1
  const [a, b] = [0, 1, 2].filter(each => each !== axis)
  return sizeMm[b] > sizeMm[a] ? { axis, sign, long: b, short: a } : { axis, sign, long: a, short: b }
}

/** The face's length and height, mm. */
export function faceSizeMm(face: Face, sizeMm: Point3): readonly [longMm: number, shortMm: number] {
  const { long, short } = frameOf(face, sizeMm)
  return [sizeMm[long], sizeMm[short]]
}

/** A collar on a face, off its middle along the face's length and its height. */
export function spigotOn(id: string, face: Face, sizeMm: Point3, diameterMm: number, longMm = 0, shortMm = 0, lengthMm = COLLAR_MM): SpigotInput {
  const { axis, sign, long, short } = frameOf(face, sizeMm)
  const at: Point3 = [0, 0, 0], direction: Point3 = [0, 0, 0]
  at[axis] = sign * (sizeMm[axis] / 2 + lengthMm)
  at[long] = longMm
  at[short] = shortMm
  direction[axis] = sign
  return { id, at, axis: direction, diameterMm, lengthMm }
}

/** Collars in rows of equal pitch about the middle of a face, named p1, p2, ...; a string says why they do not go on it. */
export function spigotRows(face: Face, sizeMm: Point3, count: number, rows: number, pitchMm: number, diameterMm: number, lengthMm?: number): SpigotInput[] | string {
  if (!Number.isInteger(count) || count < 1) return 'the number of spigots must be 1 or more'
  if (!Number.isInteger(rows) || rows < 1 || rows > count) return 'the number of rows must be 1 or more, and not more than there are spigots'
  const perRow = Math.ceil(count / rows)
  if (count > 1 && pitchMm < diameterMm) return `spigots of ${diameterMm} mm do not go side by side at ${pitchMm} mm`
  const [longMm, shortMm] = faceSizeMm(face, sizeMm)
  const wanted = [(perRow - 1) * pitchMm + diameterMm, (rows - 1) * pitchMm + diameterMm]
  if (wanted[0] > longMm || wanted[1] > shortMm) return `the spigots take ${wanted[0]} mm by ${wanted[1]} mm, more than the face, ${longMm} mm by ${shortMm} mm`
  return Array.from({ length: count }, (_, i) => {
    const column = i % perRow, row = Math.floor(i / perRow)
    return spigotOn(`p${i + 1}`, face, sizeMm, diameterMm, (column - (perRow - 1) / 2) * pitchMm, ((rows - 1) / 2 - row) * pitchMm, lengthMm)
  })
}

/** The collars of a body that changes its size: those on a face stay on it. */
export function spigotsResized(spigots: readonly SpigotInput[], was: Point3, now: Point3): SpigotInput[] {
  return spigots.map((spigot) => {
    const out = spigot.axis.map(Math.abs), axis = out.indexOf(Math.max(...out))
    const by = (now[axis] - was[axis]) / 2
    if (!(Math.abs(by) > 0)) return spigot
    return { ...spigot, at: spigot.at.with(axis, spigot.at[axis] + Math.sign(spigot.axis[axis]) * by) as Point3 }
  })
}
