/** Joist fields -> placed joists, their solids and their openings. */
import { openingsBetween, type Band } from '#geometry/fit/opening.ts'
import type { SolidSetBuilder } from '#geometry/solid/build.ts'
import { cosDeg, sinDeg } from '#geometry/solid/rotation.ts'
import type { Job, Joist, JoistField, JoistSection, OpenWebSection } from '#model/index.ts'
import type { PlacedJoist, PlacedOpening } from './assembly.ts'
import { webFaces, webMembers } from './openWeb.ts'
import type { Face, PartKind, Parts } from './parts.ts'
import type { Vec3 } from './place.ts'

/** A joist's own frame in site axes. */
interface Frame { readonly origin: Vec3, readonly along: Vec3, readonly across: Vec3, readonly axes: readonly number[] }

function frameOf(field: JoistField, joist: Joist, index: number): Frame {
  const c = cosDeg(field.directionDeg), s = sinDeg(field.directionDeg)
  const along: Vec3 = [c, s, 0], across: Vec3 = [-s, c, 0]
  const position = (joist.positionMm ?? index * field.centresMm) * (field.next === 'left' ? 1 : -1)
  const origin: Vec3 = [
    field.origin[0] + position * across[0] + joist.startMm * along[0],
    field.origin[1] + position * across[1] + joist.startMm * along[1],
    field.origin[2],
  ]
  return { origin, along, across, axes: [...along, ...across, 0, 0, 1] }
}

/** Yields after each field how many of them are placed, 0 to 1. */
export function* addJoists(job: Job, builder: SolidSetBuilder, parts: Parts): Generator<number, PlacedJoist[], void> {
  const sections = new Map<string, JoistSection>(job.sections.map((section) => [section.id, section]))
  const placed: PlacedJoist[] = []
  let fieldCount = 0
  const alike = new Map<string, PlacedOpening[]>()
  for (const field of job.joistFields) {
    const section = sections.get(field.section)
    if (section === undefined) throw new Error(`addJoists: field ${field.id} names section ${field.section}, which the job does not have`)
    field.joists.forEach((joist, index) => {
      const frame = frameOf(field, joist, index)
      const lengthMm = joist.lengthMm ?? field.lengthMm
      const name = joist.name ?? `joist ${joist.id}`
      const owner = parts.addOwner(joist.id, name)
      const firstSolid = builder.count
      const openings = section.kind === 'open-web'
        ? addOpenWeb(section, field, joist, lengthMm, frame, owner, builder, parts)
        : (addSolidJoist(section, lengthMm, frame, owner, builder, parts), () => [])
      let known: PlacedOpening[] | undefined
      placed.push({
        joist, field, section, id: joist.id, name, lengthMm,
        origin: [...frame.origin], along: [...frame.along], across: [...frame.across],
        firstSolid, endSolid: builder.count,
        // worked out when first asked for: they take far longer than the solids, and a view of many houses asks for few
        get openings() { return known ??= sharedOpenings(alike, section, field, joist, lengthMm, openings) },
      })
    })
    yield ++fieldCount / job.joistFields.length
  }
  return placed
}

/** Openings are in the joist's own frame, so that joists cut alike have the same ones: found once for all of them. */
function sharedOpenings(
  alike: Map<string, PlacedOpening[]>, section: JoistSection, field: JoistField, joist: Joist, lengthMm: number, find: () => PlacedOpening[],
): PlacedOpening[] {
  const cut = JSON.stringify([section.id, lengthMm, joist.firstNodeMm ?? field.firstNodeMm, joist.flip ?? field.flip, joist.webFree])
  let openings = alike.get(cut)
  if (openings === undefined) alike.set(cut, openings = find())
  return openings
}

type Adder = (kind: PartKind, x0: number, x1: number, n0: number, n1: number, y0: number, y1: number) => void

/** Boxes square to the joist, given by their extents along it, across it and up. */
function squareBoxes(frame: Frame, owner: number, className: 'chord' | 'joist', builder: SolidSetBuilder, parts: Parts): Adder {
  return (kind, x0, x1, n0, n1, y0, y1) => {
    const x = (x0 + x1) / 2, n = (n0 + n1) / 2, y = (y0 + y1) / 2
    builder.addBox(inFrame(frame, x, n, y), [(x1 - x0) / 2, (n1 - n0) / 2, (y1 - y0) / 2], frame.axes)
    parts.add(owner, kind, className)
  }
}

function inFrame({ origin, along, across }: Frame, x: number, n: number, y: number): [number, number, number] {
  return [origin[0] + along[0] * x + across[0] * n, origin[1] + along[1] * x + across[1] * n, origin[2] + y]
}

function addOpenWeb(
  section: OpenWebSection, field: JoistField, joist: Joist, lengthMm: number, frame: Frame, owner: number,
  builder: SolidSetBuilder, parts: Parts,
): () => PlacedOpening[] {
  const half = section.chordWidthMm / 2, low = section.chordHeightMm, high = section.depthMm - section.chordHeightMm
  const addChord = squareBoxes(frame, owner, 'chord', builder, parts)
  addChord('bottom-chord', 0, lengthMm, -half, half, 0, low)
  addChord('top-chord', 0, lengthMm, -half, half, high, section.depthMm)
  if (section.endBlockMm > 0) {
    const addBlock = squareBoxes(frame, owner, 'joist', builder, parts)
    addBlock('end-block', 0, section.endBlockMm, -half, half, low, high)
    addBlock('end-block', lengthMm - section.endBlockMm, lengthMm, -half, half, low, high)
  }

  const faces = webFaces(section)
  const bands: Band[] = []
  for (const member of webMembers(section, field, joist, lengthMm)) {
    const dx = member.x1 - member.x0, dy = member.y1 - member.y0
    const size = Math.hypot(dx, dy)
    const c = dx / size, s = dy / size
    // square ends, long enough that the sharper corner still reaches the chord: no gap is left beside the node
    const halfLength = size / 2 + section.webWidthMm / 2 * Math.abs(dx / dy)
    const [ax, ay] = frame.along
    const axes = [ax * c, ay * c, s, frame.across[0], frame.across[1], 0, -ax * s, -ay * s, c]
    for (const face of faces) {
      const centre = inFrame(frame, (member.x0 + member.x1) / 2, (face.n0 + face.n1) / 2, (member.y0 + member.y1) / 2)
      builder.addBox(centre, [halfLength, (face.n1 - face.n0) / 2, section.webWidthMm / 2], axes)
      parts.add(owner, member.kind, 'web', member.number, face.face satisfies Face)
      bands.push({ x0: member.x0, y0: member.y0, x1: member.x1, y1: member.y1, widthMm: section.webWidthMm, n0: face.n0, n1: face.n1 })
    }
  }
  const clear = { x0: section.endBlockMm, x1: lengthMm - section.endBlockMm, y0: low, y1: high, n0: -half, n1: half }
  return () => openingsBetween(clear, bands).map((opening, i) => ({ number: i + 1, opening }))
}

function addSolidJoist(
  section: Exclude<JoistSection, OpenWebSection>, lengthMm: number, frame: Frame, owner: number, builder: SolidSetBuilder, parts: Parts,
): void {
  const add = squareBoxes(frame, owner, 'joist', builder, parts)
  switch (section.kind) {
    case 'solid-timber':
      add('whole', 0, lengthMm, -section.widthMm / 2, section.widthMm / 2, 0, section.depthMm)
      return
    case 'i-section': {
      const half = section.flangeWidthMm / 2, low = section.flangeHeightMm, high = section.depthMm - low
      add('bottom-flange', 0, lengthMm, -half, half, 0, low)
      add('top-flange', 0, lengthMm, -half, half, high, section.depthMm)
      add('web', 0, lengthMm, -section.webThicknessMm / 2, section.webThicknessMm / 2, low, high)
      return
    }
    case 'cold-formed': {
      const half = section.flangeWidthMm / 2, t = section.thicknessMm, lip = section.lipMm
      add('back', 0, lengthMm, half - t, half, 0, section.depthMm)
      add('bottom-flange', 0, lengthMm, -half, half - t, 0, t)
      add('top-flange', 0, lengthMm, -half, half - t, section.depthMm - t, section.depthMm)
      if (lip > t) {
        add('lip', 0, lengthMm, -half, -half + t, t, lip)
        add('lip', 0, lengthMm, -half, -half + t, section.depthMm - lip, section.depthMm - t)
      }
    }
  }
}
