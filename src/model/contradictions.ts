/** Values that are each allowed, but not together: a zone whose top is below its underside, a web wider than its pitch. */
import { FARTHEST_MM, LIMITS } from './basics.ts'
import type { Equipment } from './ducts.ts'
import type { JoistField, JoistSection } from './joists.ts'
import type { Path, Problems } from './problem.ts'
import type { JobParts } from './references.ts'
import type { Shape } from './surroundings.ts'

/** Shortest arrow that still points somewhere, and least distance between the ends of a cylinder, mm. */
const SHORTEST_AXIS = 0.001
const SHORTEST_CYLINDER_MM = 0.1
/** Least distance between two points that give a direction or a scale, mm or picture points. */
const LEAST_APART = 1

type Add = (path: Path, found: string, allowed: string) => void

/** Adds the contradictions within the parts that could be read. */
export function addContradictions(parts: JobParts, problems: Problems): void {
  const add: Add = (path, found, allowed) => problems.add(path, 'contradiction', found, allowed)

  const outdoor = parts.settings?.outdoor
  if (outdoor && outdoor.advisedMm < outdoor.leastMm) add(['settings', 'outdoor', 'advisedMm'], mm(outdoor.advisedMm), `at least leastMm, ${mm(outdoor.leastMm)}`)
  parts.rooms.forEach((room, i) => {
    if (room && !(room.ceilingMm > room.floorMm)) add(['rooms', i, 'ceilingMm'], mm(room.ceilingMm), `above floorMm, ${mm(room.floorMm)}`)
  })
  parts.zones.forEach((zone, i) => {
    if (zone && !(zone.topMm > zone.undersideMm)) add(['zones', i, 'topMm'], mm(zone.topMm), `above undersideMm, ${mm(zone.undersideMm)}`)
  })
  parts.solids.forEach((solid, i) => solid && addShape(solid.shape, ['solids', i, 'shape'], add))
  parts.sleeves.forEach((sleeve, i) => sleeve && addAxis(sleeve.axis, ['sleeves', i, 'axis'], add))
  parts.equipment.forEach((equipment, i) => equipment?.spigots.forEach((spigot, s) => addAxis(spigot.axis, ['equipment', i, 'spigots', s, 'axis'], add)))
  parts.views.forEach((view, i) => {
    if (view === undefined) return
    addAxis(view.up, ['views', i, 'up'], add)
    addApart(view.eye, view.target, ['views', i, 'target'], 'mm', add)
    if (view.cut) addAxis(view.cut.towards, ['views', i, 'cut', 'towards'], add)
  })
  if (parts.underlay) {
    const [a, b] = parts.underlay.marks
    addApart(a.pixel, b.pixel, ['underlay', 'marks', 1, 'pixel'], 'picture points', add)
    addApart(a.at, b.at, ['underlay', 'marks', 1, 'at'], 'mm', add)
  }
  parts.ductTypes.forEach((type, i) => {
    if (type && type.outerDiameterMm < type.innerDiameterMm) add(['ductTypes', i, 'outerDiameterMm'], mm(type.outerDiameterMm), `at least innerDiameterMm, ${mm(type.innerDiameterMm)}`)
  })
  parts.sections.forEach((section, i) => section && addSection(section, ['sections', i], add))
  parts.equipment.forEach((equipment, i) => equipment?.airflow && addAirflow(equipment.airflow, ['equipment', i, 'airflow'], add))
  addJoists(parts, add)
}

/** A fan moves more only against less, and a valve stands at one setting once. */
function addAirflow(airflow: NonNullable<Equipment['airflow']>, path: Path, add: Add): void {
  for (const key of ['fan', 'extractFan'] as const) {
    airflow[key]?.forEach((point, i, curve) => {
      if (i === 0) return
      if (!(point.flowLps > curve[i - 1].flowLps)) add([...path, key, i, 'flowLps'], `${point.flowLps} l/s`, `more than ${curve[i - 1].flowLps} l/s, the point before`)
      if (!(point.pressurePa < curve[i - 1].pressurePa)) add([...path, key, i, 'pressurePa'], `${point.pressurePa} Pa`, `less than ${curve[i - 1].pressurePa} Pa, the point before`)
    })
  }
  airflow.settings?.forEach(({ setting }, i, all) => {
    if (all.findIndex(other => other.setting === setting) < i) add([...path, 'settings', i, 'setting'], `${setting}, which is given twice`, 'each setting once')
  })
}

function addShape(shape: Shape, path: Path, add: Add): void {
  if (shape.kind === 'prism' && !(shape.topMm > shape.bottomMm)) add([...path, 'topMm'], mm(shape.topMm), `above bottomMm, ${mm(shape.bottomMm)}`)
  if (shape.kind === 'cylinder') {
    const [x, y, z] = shape.to.map((to, axis) => to - shape.from[axis])
    const apartMm = Math.hypot(x, y, z)
    if (apartMm < SHORTEST_CYLINDER_MM) add([...path, 'to'], `a point ${mm(apartMm)} from the other end`, `a point at least ${mm(SHORTEST_CYLINDER_MM)} from it`)
  }
}

function addAxis(axis: readonly [number, number, number], path: Path, add: Add): void {
  if (Math.hypot(...axis) < SHORTEST_AXIS) add(path, `a direction ${Math.hypot(...axis)} long, which points nowhere`, `a direction at least ${SHORTEST_AXIS} long`)
}

/** Two points that a direction or a scale is made from may not be the same. */
function addApart(a: readonly number[], b: readonly number[], path: Path, unit: string, add: Add): void {
  const apart = Math.hypot(...a.map((from, axis) => b[axis] - from))
  if (apart < LEAST_APART) add(path, `a point ${apart} ${unit} from the other`, `a point at least ${LEAST_APART} ${unit} from it`)
}

/** The parts of a cross-section must leave room for each other. */
function addSection(section: JoistSection, path: Path, add: Add): void {
  const less = (key: string, value: number, limitMm: number, why: string) => {
    if (!(value < limitMm)) add([...path, key], mm(value), `less than ${mm(limitMm)}, ${why}`)
  }
  const halfDepth = 'half of depthMm'
  if (section.kind === 'open-web') {
    less('chordHeightMm', section.chordHeightMm, section.depthMm / 2, halfDepth)
    less('webWidthMm', section.webWidthMm, section.webPitchMm, 'which is webPitchMm')
  }
  if (section.kind === 'i-section') {
    less('flangeHeightMm', section.flangeHeightMm, section.depthMm / 2, halfDepth)
    less('webThicknessMm', section.webThicknessMm, section.flangeWidthMm, 'which is flangeWidthMm')
  }
  if (section.kind === 'cold-formed') {
    less('thicknessMm', section.thicknessMm, section.depthMm / 2, halfDepth)
    const lipped = section.lipMm > 0
    less('thicknessMm', section.thicknessMm, section.flangeWidthMm / (lipped ? 2 : 1), lipped ? 'half of flangeWidthMm, as there is a lip' : 'which is flangeWidthMm')
    less('lipMm', section.lipMm, section.depthMm / 2, halfDepth)
    if (lipped && section.lipMm <= section.thicknessMm) add([...path, 'lipMm'], mm(section.lipMm), `0 for no lip, or more than thicknessMm, ${mm(section.thicknessMm)}`)
  }
}

function addJoists(parts: JobParts, add: Add): void {
  const sections = new Map<string, JoistSection>()
  for (const section of parts.sections) if (section && !sections.has(section.id)) sections.set(section.id, section)
  const joists = new Map<string, { lengthMm: number, depthMm: number | undefined }>()
  let joistCount = 0
  let webMembers = 0
  parts.joistFields.forEach((field, i) => {
    if (field === undefined) return
    const path = ['joistFields', i]
    const section = sections.get(field.section)
    const tooFew = joistCount <= LIMITS.joists
    joistCount += field.joists.length
    if (tooFew && joistCount > LIMITS.joists) add([...path, 'joists'], `${joistCount} joists up to here`, `at most ${LIMITS.joists} joists in all fields together`)
    addLength(field, field.lengthMm, section, [...path, 'lengthMm'], add)
    field.joists.forEach((joist, j) => {
      const lengthMm = joist.lengthMm ?? field.lengthMm
      if (!joists.has(joist.id)) joists.set(joist.id, { lengthMm, depthMm: section?.depthMm })
      if (joist.lengthMm !== undefined) addLength(field, joist.lengthMm, section, [...path, 'joists', j, 'lengthMm'], add)
      if (joist.positionMm === undefined && j * field.centresMm > FARTHEST_MM) add([...path, 'joists', j], `a place ${mm(j * field.centresMm)} from the first joist`, `at most ${mm(FARTHEST_MM)} from it`)
      joist.webFree.forEach(({ fromMm, toMm }, k) => {
        if (!(toMm > fromMm)) add([...path, 'joists', j, 'webFree', k, 'toMm'], mm(toMm), `more than fromMm, ${mm(fromMm)}`)
      })
      if (section?.kind === 'open-web') {
        const before = webMembers
        webMembers += webMemberCount(section, lengthMm)
        if (before <= LIMITS.webMembers && webMembers > LIMITS.webMembers) {
          add([...path, 'joists', j], `${Math.round(webMembers)} web members up to here`, `at most ${LIMITS.webMembers} in the whole job`)
        }
      }
    })
  })

  parts.holes.forEach((hole, i) => {
    const joist = hole && joists.get(hole.joist)
    if (!joist) return
    const radiusMm = hole.diameterMm / 2
    const within = (key: 'alongMm' | 'heightMm', limitMm: number, what: string) => {
      if (hole[key] - radiusMm < 0 || hole[key] + radiusMm > limitMm) {
        const room = limitMm < hole.diameterMm ? `nothing: a hole of ${mm(hole.diameterMm)} is more than ${what}, ${mm(limitMm)}` : `${radiusMm} to ${mm(limitMm - radiusMm)}, so that the whole hole is inside ${what}`
        add(['holes', i, key], mm(hole[key]), room)
      }
    }
    within('alongMm', joist.lengthMm, "the joist's length")
    if (joist.depthMm !== undefined) within('heightMm', joist.depthMm, "the joist's depth")
  })
}

function addLength(field: JoistField, lengthMm: number, section: JoistSection | undefined, path: Path, add: Add): void {
  if (!(lengthMm > 2 * field.bearingMm)) add(path, mm(lengthMm), `more than its two bearings, ${mm(2 * field.bearingMm)}`)
  if (section?.kind === 'open-web' && lengthMm < 2 * section.endBlockMm) add(path, mm(lengthMm), `at least the two end blocks of its section, ${mm(2 * section.endBlockMm)}`)
}

/** About how many solids the webs of one joist make: two diagonals to a pitch, posts besides, on one face or two. */
function webMemberCount(section: Extract<JoistSection, { kind: 'open-web' }>, lengthMm: number): number {
  const posts = { 'none': 0, 'top-nodes': 1, 'bottom-nodes': 1, 'all-nodes': 2 }[section.posts]
  return Math.ceil(lengthMm / section.webPitchMm) * (2 + posts) * (section.webFaces === 'both' ? 2 : 1)
}

function mm(value: number): string {
  return `${value} mm`
}
