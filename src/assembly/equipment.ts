/** Equipment, sleeves and drilled holes -> solids and the places that ends must meet. */
import type { SolidSetBuilder } from '#geometry/solid/build.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import type { Job, SolidClass } from '#model/index.ts'
import type { PlacedHole, PlacedJoist, PlacedSleeve, PlacedSpigot } from './assembly.ts'
import type { Parts } from './parts.ts'
import { placed, turned, unitOf } from './place.ts'

export function addEquipment(job: Job, builder: SolidSetBuilder, parts: Parts): PlacedSpigot[] {
  const spigots: PlacedSpigot[] = []
  for (const equipment of job.equipment) {
    const className: SolidClass = equipment.kind
    const name = equipment.name
    const owner = parts.addOwner(equipment.id, name)
    const axes = axesOfRotation(...equipment.rotationDeg)
    const half = equipment.sizeMm.map((size) => size / 2)
    const bodySolid = builder.addBox(equipment.centre, half, axes)
    parts.add(owner, 'body', className)
    for (const spigot of equipment.spigots) {
      const at = placed(equipment.centre, axes, ...spigot.at)
      const axis = unitOf(turned(axes, ...spigot.axis))
      let collarSolid = -1
      if (spigot.lengthMm > 0) {
        const back = spigot.lengthMm / 2
        collarSolid = builder.addCylinder([at[0] - axis[0] * back, at[1] - axis[1] * back, at[2] - axis[2] * back], axis, spigot.diameterMm / 2, back)
        parts.add(owner, 'spigot', className, 0, '', spigot.id)
      }
      spigots.push({ equipment, spigot, name: `${name}, spigot ${spigot.id}`, at, axis, bodySolid, collarSolid })
    }
  }
  return spigots
}

/** @param solidIndexOfId where each loose solid of the job lies in the set */
export function placeSleeves(job: Job, solidIndexOfId: ReadonlyMap<string, number>): PlacedSleeve[] {
  return job.sleeves.map((sleeve) => ({
    sleeve, at: sleeve.at, axis: unitOf(sleeve.axis),
    hosts: sleeve.through.flatMap((id) => solidIndexOfId.get(id) ?? []),
  }))
}

export function placeHoles(job: Job, joists: readonly PlacedJoist[]): PlacedHole[] {
  const indexOf = new Map(joists.map((joist, i) => [joist.id, i]))
  return job.holes.flatMap((hole) => {
    const joistIndex = indexOf.get(hole.joist)
    if (joistIndex === undefined) return []
    const { origin, along, across, section, firstSolid, endSolid } = joists[joistIndex]
    const at = [
      origin[0] + along[0] * hole.alongMm, origin[1] + along[1] * hole.alongMm, origin[2] + hole.heightMm,
    ] as const
    const hosts = Array.from({ length: endSolid - firstSolid }, (_, k) => firstSolid + k)
    return [{ id: hole.id, joistIndex, at, axis: across, radiusMm: hole.diameterMm / 2, halfLengthMm: widthOf(section) / 2, hosts }]
  })
}

function widthOf(section: PlacedJoist['section']): number {
  switch (section.kind) {
    case 'open-web': return section.chordWidthMm
    case 'solid-timber': return section.widthMm
    case 'i-section': case 'cold-formed': return section.flangeWidthMm
  }
}
