/**
 * The job as IFC4 (ISO 16739-1), in mm: joists as assemblies of members, ducts as segments and fittings with ports that are joined, equipment,
 * loose solids, and for every run its clearances and sizes as properties. Bodies are the solids that are checked: ducts with their insulation, filled.
 */
import type { PlacedRun, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import type { CheckContext } from '#checks/context.ts'
import { nearestToRun } from '#checks/nearest.ts'
import { knownCrossings } from '#checks/openingUse.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, STATION } from '#geometry/curve/centreline.ts'
import { directionAt, pointAt } from '#geometry/curve/measure.ts'
import { TUBE } from '#geometry/solid/solidSet.ts'
import type { SolidClass } from '#model/index.ts'
import { airOf } from '../model3d/details.ts'
import { Shapes, acrossOf } from './shapes.ts'
import { DERIVED, StepFile, enumeration, globalId, typed, type Raw, type Ref, type Value } from './step.ts'

/** What a loose solid or part of a joist is in IFC, with what follows its Tag. */
const ENTITIES: Readonly<Record<SolidClass, readonly [string, ...Value[]]>> = {
  chord: ['IFCMEMBER', enumeration('CHORD')], web: ['IFCMEMBER', enumeration('BRACE')], joist: ['IFCBEAM', enumeration('JOIST')], beam: ['IFCBEAM', enumeration('BEAM')],
  trimmer: ['IFCBEAM', enumeration('NOTDEFINED')], noggin: ['IFCMEMBER', enumeration('NOTDEFINED')], strongback: ['IFCMEMBER', enumeration('NOTDEFINED')], steel: ['IFCBEAM', enumeration('BEAM')],
  wall: ['IFCWALL', enumeration('NOTDEFINED')], slab: ['IFCSLAB', enumeration('NOTDEFINED')], lining: ['IFCCOVERING', enumeration('CEILING')], insulation: ['IFCCOVERING', enumeration('INSULATION')],
  pipe: ['IFCPIPESEGMENT', enumeration('NOTDEFINED')], 'soil-stack': ['IFCPIPESEGMENT', enumeration('NOTDEFINED')], cable: ['IFCCABLESEGMENT', enumeration('NOTDEFINED')],
  downlight: ['IFCLIGHTFIXTURE', enumeration('NOTDEFINED')], flue: ['IFCPIPESEGMENT', enumeration('NOTDEFINED')], unit: ['IFCAIRTOAIRHEATRECOVERY', enumeration('NOTDEFINED')],
  manifold: ['IFCDUCTFITTING', enumeration('JUNCTION')], plenum: ['IFCAIRTERMINALBOX', enumeration('NOTDEFINED')], 'outdoor-terminal': ['IFCAIRTERMINAL', enumeration('NOTDEFINED')],
  sleeve: ['IFCBUILDINGELEMENTPROXY', enumeration('NOTDEFINED')], 'keep-out': ['IFCBUILDINGELEMENTPROXY', enumeration('NOTDEFINED')], duct: ['IFCDUCTSEGMENT', enumeration('NOTDEFINED')],
  other: ['IFCBUILDINGELEMENTPROXY', enumeration('NOTDEFINED')],
}

/** @param time of writing, as in 2031-05-01T00:00:00 */
export function ifcOf(context: CheckContext, time: string): string {
  return new Writer(context).write(time)
}

class Writer {
  readonly #context: CheckContext
  readonly #file = new StepFile()
  readonly #shapes = new Shapes(this.#file)
  readonly #here: Ref
  readonly #body: Ref
  readonly #products: Ref[] = []
  readonly #portOf = new Map<PlacedSpigot, Ref>()
  readonly #storey: Ref

  constructor(context: CheckContext) {
    this.#context = context
    const file = this.#file, { job } = context.assembly
    const origin = this.#shapes.place([0, 0, 0], [0, 0, 1], [1, 0, 0])
    const whole = file.add('IFCGEOMETRICREPRESENTATIONCONTEXT', null, 'Model', { raw: '3' }, 0.00001, origin, null)
    this.#body = file.add('IFCGEOMETRICREPRESENTATIONSUBCONTEXT', 'Body', 'Model', DERIVED, DERIVED, DERIVED, DERIVED, whole, null, enumeration('MODEL_VIEW'), null)
    const unit = (type: string, prefix: string | null, name: string): Ref => file.add('IFCSIUNIT', DERIVED, enumeration(type), prefix === null ? null : enumeration(prefix), enumeration(name))
    const units = file.add('IFCUNITASSIGNMENT', [unit('LENGTHUNIT', 'MILLI', 'METRE'), unit('AREAUNIT', null, 'SQUARE_METRE'), unit('VOLUMEUNIT', null, 'CUBIC_METRE'), unit('PLANEANGLEUNIT', null, 'RADIAN')])
    const project = file.add('IFCPROJECT', globalId('project'), null, job.name, job.note === '' ? null : job.note, null, null, null, [whole], units)
    this.#here = file.add('IFCLOCALPLACEMENT', null, origin)
    const site = file.add('IFCSITE', globalId('site'), null, 'Site', job.datum === '' ? null : `Datum: ${job.datum}`, null, this.#here, null, null, enumeration('ELEMENT'), null, null, null, null, null)
    const building = file.add('IFCBUILDING', globalId('building'), null, job.name, null, null, this.#here, null, null, enumeration('ELEMENT'), null, null, null)
    this.#storey = file.add('IFCBUILDINGSTOREY', globalId('storey'), null, 'Void', null, null, this.#here, null, null, enumeration('ELEMENT'), null)
    this.#aggregate('site', project, [site])
    this.#aggregate('building', site, [building])
    this.#aggregate('storey', building, [this.#storey])
  }

  write(time: string): string {
    this.#addSolids()
    this.#addSpigots()
    this.#addSleeves()
    this.#context.runs.forEach(({ placed }, runIndex) => this.#addRun(placed, runIndex))
    if (this.#products.length > 0) this.#file.add('IFCRELCONTAINEDINSPATIALSTRUCTURE', globalId('contained'), null, null, null, this.#products, this.#storey)
    return this.#file.text('IFC4', this.#context.assembly.job.name, time)
  }

  #aggregate(key: string, whole: Ref, parts: readonly Ref[]): void {
    this.#file.add('IFCRELAGGREGATES', globalId(`aggregate ${key}`), null, null, null, whole, parts)
  }

  #shape(kind: 'SweptSolid' | 'AdvancedSweptSolid' | 'SolidModel', items: readonly Ref[]): Ref {
    return this.#file.add('IFCPRODUCTDEFINITIONSHAPE', null, null, [this.#file.add('IFCSHAPEREPRESENTATION', this.#body, 'Body', kind, items)])
  }

  #product([entity, ...more]: readonly [string, ...Value[]], key: string, name: string, tag: string, shape: Ref | null): Ref {
    return this.#file.add(entity, globalId(key), null, name, null, null, this.#here, shape, tag, ...more)
  }

  readonly #bodies = new Map<string, Ref>()

  /** Solids of the joists, equipment and everything else, by their owners: joists of several parts become assemblies. */
  #addSolids(): void {
    const { solids, parts, job, joists } = this.#context.assembly, { isSound } = this.#context
    const joistNames = new Map(joists.map(({ id, name }) => [id, name]))
    const owners = new Map<number, number[]>()
    for (let i = 0; i < solids.count; i++) {
      if (isSound[i] === 0) continue
      const own = owners.get(parts.ownerIndexOf(i))
      if (own === undefined) owners.set(parts.ownerIndexOf(i), [i])
      else own.push(i)
    }
    for (const [, own] of owners) {
      const id = parts.ownerIdOf(own[0]), className = parts.classOf(own[0])
      if (joistNames.has(id) && className === 'chord') {
        const members = own.map((i) => {
          const { name, part } = parts.describe(i)
          return this.#product(ENTITIES[parts.classOf(i)], `part ${id} ${part} ${i}`, name, id, this.#itemsOf([i]))
        })
        const whole = this.#file.add('IFCELEMENTASSEMBLY', globalId(`joist ${id}`), null, joistNames.get(id)!, null, 'open-web joist', this.#here, null, id, enumeration('FACTORY'), enumeration('TRUSS'))
        this.#aggregate(`joist ${id}`, whole, members)
        this.#products.push(whole)
        continue
      }
      const name = joistNames.get(id) ?? job.equipment.find((each) => each.id === id)?.name ?? job.solids.find((each) => each.id === id)?.name ?? id
      const ref = this.#product(ENTITIES[className], `body ${id}`, name, id, this.#itemsOf(own))
      this.#bodies.set(id, ref)
      this.#products.push(ref)
    }
  }

  #itemsOf(indices: readonly number[]): Ref {
    const { solids } = this.#context.assembly
    let isSwept = true
    const items = indices.map((i) => {
      if (solids.kind[i] !== TUBE) return this.#shapes.solid(solids, i)
      isSwept = false
      const s = solids.offset[i], count = solids.data[s + 1]
      return this.#shapes.tube(solids.data.subarray(s + 2, s + 2 + count * ELEMENT_STRIDE), 0, count, solids.data[s])
    })
    return this.#shape(isSwept ? 'SweptSolid' : indices.length === 1 ? 'AdvancedSweptSolid' : 'SolidModel', items)
  }

  #addSpigots(): void {
    const ports = new Map<string, Ref[]>()
    for (const spigot of this.#context.assembly.spigots) {
      const { equipment, spigot: { id }, at, axis } = spigot
      const body = this.#bodies.get(equipment.id)
      if (body === undefined) continue
      // which way the air goes there is told by the run that is joined to it
      const port = this.#port(`spigot ${equipment.id} ${id}`, id, at, axis, enumeration('NOTDEFINED'))
      this.#portOf.set(spigot, port)
      ports.set(equipment.id, [...ports.get(equipment.id) ?? [], port])
    }
    for (const [id, own] of ports) this.#nest(`equipment ${id}`, this.#bodies.get(id)!, own)
  }

  #addSleeves(): void {
    for (const { sleeve: { id, name, diameterMm, lengthMm }, at, axis } of this.#context.assembly.sleeves) {
      const from = at.map((value, k) => value - axis[k] * lengthMm / 2)
      this.#products.push(this.#product(['IFCBUILDINGELEMENTPROXY', enumeration('PROVISIONFORVOID')], `sleeve ${id}`, name, id, this.#shape('SweptSolid', [this.#shapes.cylinder(from, axis, diameterMm / 2, lengthMm)])))
    }
  }

  #port(key: string, name: string, at: readonly number[], outward: readonly number[], flow: Raw): Ref {
    const place = this.#file.add('IFCLOCALPLACEMENT', this.#here, this.#shapes.place(at, outward, acrossOf(outward)))
    return this.#file.add('IFCDISTRIBUTIONPORT', globalId(`port ${key}`), null, name, null, null, place, null, flow, enumeration('DUCT'), enumeration('VENTILATION'))
  }

  #nest(key: string, whole: Ref, ports: readonly Ref[]): void {
    this.#file.add('IFCRELNESTS', globalId(`nest ${key}`), null, null, null, whole, ports)
  }

  /** Bendable duct is one segment; rigid duct a segment for every straight and a fitting for every bend. */
  #addRun(placed: PlacedRun, runIndex: number): void {
    const { run, type, centreline: { elements, count }, outerRadiusMm, from, to, centreline } = placed
    const isRigid = type.kind === 'rigid', pieces: { ref: Ref, start: Ref, end: Ref }[] = []
    const forwards = isForwards(placed)
    for (let first = 0; first < count;) {
      const end = isRigid ? first + 1 : count, isBend = isRigid && elements[first * ELEMENT_STRIDE + KIND] === ARC
      const key = `run ${run.id} ${first}`, name = isRigid ? `${run.name}, ${isBend ? 'bend' : 'straight'} ${pieces.length + 1}` : run.name
      const shape = this.#shape('AdvancedSweptSolid', [this.#shapes.tube(elements, first, end, outerRadiusMm)])
      const ref = this.#product(isBend ? ['IFCDUCTFITTING', enumeration('BEND')] : ['IFCDUCTSEGMENT', enumeration(isRigid ? 'RIGIDSEGMENT' : 'FLEXIBLESEGMENT')], key, name, run.id, shape)
      const [a, b] = [this.#endAt(centreline, first, 'start'), this.#endAt(centreline, end - 1, 'end')]
      const flow = (isIn: boolean): Raw => enumeration(forwards === null ? 'NOTDEFINED' : isIn === forwards ? 'SINK' : 'SOURCE')
      const start = this.#port(`${key} start`, 'start', a.at, a.way.map((value) => -value), flow(true)), last = this.#port(`${key} end`, 'end', b.at, b.way, flow(false))
      this.#nest(key, ref, [start, last])
      if (pieces.length > 0) this.#join(`${key} before`, pieces[pieces.length - 1].end, start)
      pieces.push({ ref, start, end: last })
      first = end
    }
    this.#products.push(...pieces.map(({ ref }) => ref))
    if (isSpigot(from) && this.#portOf.has(from)) this.#join(`run ${run.id} from`, this.#portOf.get(from)!, pieces[0].start)
    if (isSpigot(to) && this.#portOf.has(to)) this.#join(`run ${run.id} to`, pieces[pieces.length - 1].end, this.#portOf.get(to)!)
    this.#file.add('IFCRELDEFINESBYPROPERTIES', globalId(`properties ${run.id}`), null, null, null, pieces.map(({ ref }) => ref), this.#propertiesOf(placed, runIndex))
  }

  #endAt(centreline: PlacedRun['centreline'], element: number, which: 'start' | 'end'): { at: number[], way: number[] } {
    const e = element * ELEMENT_STRIDE, { elements } = centreline
    const station = elements[e + STATION] + (which === 'start' ? 0 : elements[e + LENGTH])
    const at = [0, 0, 0], way = [0, 0, 0]
    pointAt(centreline, station, at)
    directionAt(centreline, station, way)
    return { at, way }
  }

  #join(key: string, a: Ref, b: Ref): void {
    this.#file.add('IFCRELCONNECTSPORTS', globalId(`join ${key}`), null, null, null, a, b, null)
  }

  #propertiesOf({ run, type, centreline }: PlacedRun, runIndex: number): Ref {
    const crossings = knownCrossings(this.#context, runIndex), spares = crossings.flatMap(({ spareMm }) => spareMm === null ? [] : [spareMm])
    const nearest = nearestToRun(this.#context, runIndex, 8).find(({ mayTouch }) => !mayTouch)
    const single = (name: string, type: string, value: Value): Ref => this.#file.add('IFCPROPERTYSINGLEVALUE', name, null, typed(type, value), null)
    const lengths: [string, number | undefined][] = [
      ['BoreDiameter', type.innerDiameterMm], ['OuterDiameter', type.outerDiameterMm], ['InsulationThickness', type.insulationMm], ['CentrelineLength', centreline.lengthMm],
      ['LeastClearance', nearest?.clearanceMm], ['RequiredClearance', nearest?.requiredMm], ['LeastSpareInJoists', spares.length === 0 ? undefined : Math.min(...spares)],
    ]
    return this.#file.add('IFCPROPERTYSET', globalId(`set ${run.id}`), null, 'Joistway_Run', null, [
      single('DuctType', 'IFCLABEL', type.name.slice(0, 255)), single('RunId', 'IFCIDENTIFIER', run.id),
      ...lengths.flatMap(([name, value]) => value === undefined ? [] : [single(name, 'IFCLENGTHMEASURE', value)]),
      ...nearest === undefined ? [] : [single('LeastClearanceTo', 'IFCTEXT', nearest.part.name)], single('JoistsCrossed', 'IFCINTEGER', { raw: String(crossings.length) }),
    ])
  }
}

/** Nearer the fan is lower: air is supplied and exhausted from lower to higher, extracted and taken in from higher to lower. */
const RANKS = { unit: 0, manifold: 1, plenum: 2, 'outdoor-terminal': 2 } as const

/** Whether the air goes from the run's start to its end; null where its ends do not say. */
function isForwards({ from, to }: PlacedRun): boolean | null {
  const air = airOf({ from, to })
  const rank = (end: PlacedRun['from']): number => isSpigot(end) ? RANKS[end.equipment.kind] : 3
  if (air === '' || rank(from) === rank(to)) return null
  return (rank(from) < rank(to)) === (air === 'supply' || air === 'exhaust')
}
