/** Ventilation equipment, put down at a tapped place. Sizes to start from are ordinary ones, from memory. */
import { ringHolds } from '#geometry/solid/ring.ts'
import type { AirStream, Job, Point2, Point3 } from '#model/index.ts'
import { AIR } from '#scene/air.ts'
import { nameIn, numberOf, textOf, type Ask, type Tool, type Values } from '../../plan/tool.ts'
import { betweenJoists, manifoldBetweenJoists } from './betweenJoists.ts'
import { heightsIn } from '../measureUp/heights.ts'
import { ExhaustSketch, IntakeSketch, ManifoldSketch, PlenumSketch, TwinPlenumSketch, UnitSketch } from '../measureUp/sketches.tsx'

const NAME: Ask = { kind: 'text', key: 'name', label: 'Name (one is made if left empty)' }
const HEIGHT: Ask = { kind: 'length', key: 'undersideMm', label: 'Underside, above datum', negative: true }
const FACES: Ask = {
  kind: 'choice', key: 'faces', label: 'Spigots face',
  choices: () => [{ value: 'bay', words: 'along the bay, as it suits' }, { value: '0', words: 'right (0\u00b0)' }, { value: '90', words: 'up (90\u00b0)' }, { value: '180', words: 'left (180\u00b0)' }, { value: '270', words: 'down (270\u00b0)' }],
}
const SIZE: readonly Ask[] = [
  { kind: 'length', key: 'deepMm', label: 'Body, the way the spigots face' }, { kind: 'length', key: 'wideMm', label: 'Body, across that' }, { kind: 'length', key: 'highMm', label: 'Body, height' },
]
const DIAMETER: Ask = { kind: 'length', key: 'diameterMm', label: 'Spigots take duct of' }
const AIR_CHOICE: Ask = { kind: 'choice', key: 'air', label: 'Air', choices: () => (['supply', 'extract'] as const).map(air => ({ value: air, words: `${AIR[air].letters}, ${AIR[air].words}` })) }

/** as the duct that the job has, else 75 mm */
function ductMm({ ductTypes }: Job): number {
  return ductTypes.at(0)?.outerDiameterMm ?? 75
}

function bodyAt([x, y]: Point2, values: Values): { readonly centre: Point3, readonly sizeMm: Point3, readonly rotationDeg: Point3, readonly diameterMm: number, readonly name?: string } {
  const sizeMm: Point3 = [numberOf(values, 'deepMm'), numberOf(values, 'wideMm'), numberOf(values, 'highMm')]
  return { centre: [x, y, numberOf(values, 'undersideMm') + sizeMm[2] / 2], sizeMm, rotationDeg: [0, 0, numberOf(values, 'facesDeg')], diameterMm: numberOf(values, 'diameterMm'), ...nameIn(values) }
}

/** Half-way up the openings, where a duct has most room: terminals are packed up until their spigots are there (common practice). */
function middleMm(job: Job): number {
  const { joistUndersideMm, joistDepthMm } = heightsIn(job)
  return joistUndersideMm + joistDepthMm / 2
}

function airOf(values: Values): AirStream {
  return textOf(values, 'air') as AirStream
}

const UNIT: Tool = {
  id: 'unit', name: 'Unit', Sketch: UnitSketch, shape: 'point',
  steps: ['Tap where its middle stands, or type it. Its four spigots are on its top.'],
  asks: [NAME, HEIGHT, { kind: 'degrees', key: 'facesDeg', label: 'Turned, anticlockwise' }, ...SIZE, DIAMETER],
  usual: () => ({ name: '', undersideMm: 1_200, facesDeg: 0, deepMm: 700, wideMm: 500, highMm: 800, diameterMm: 160 }),
  make: ([at], values) => ({ do: 'add-unit', face: '+z', ...bodyAt(at, values) }),
}

const MANIFOLD: Tool = {
  id: 'manifold', name: 'Manifold', Sketch: ManifoldSketch, shape: 'point',
  steps: ['Tap where its middle is, or type it.'],
  asks: [NAME, AIR_CHOICE, { kind: 'count', key: 'count', label: 'Number of spigots', most: 60 }, { kind: 'count', key: 'rows', label: 'Rows of them', most: 6 }, DIAMETER, { kind: 'length', key: 'pitchMm', label: 'Pitch, middle to middle' },
    { kind: 'length', key: 'mainMm', label: 'Main spigot on the far side takes' }, HEIGHT, FACES, ...SIZE],
  usual: (job) => {
    const diameterMm = ductMm(job)
    return { name: '', air: 'supply', count: 6, rows: 1, diameterMm, pitchMm: diameterMm + 25, mainMm: 160, undersideMm: Math.max(heightsIn(job).undersideMm, middleMm(job) - 100), faces: 'bay', deepMm: 250, wideMm: 6 * (diameterMm + 25) + 50, highMm: 200 }
  },
  make: ([at], values, job) => {
    const count = numberOf(values, 'count'), rows = numberOf(values, 'rows'), pitchMm = numberOf(values, 'pitchMm'), diameterMm = numberOf(values, 'diameterMm')
    const wideMm = numberOf(values, 'wideMm'), highMm = numberOf(values, 'highMm'), undersideMm = numberOf(values, 'undersideMm'), faces = textOf(values, 'faces')
    const stood = faces === 'bay' ? manifoldBetweenJoists(job, at, { count, rows, pitchMm, diameterMm, wideMm, highMm }) : { at, facesDeg: Number(faces), rows, wideMm, highMm }
    // a body that became higher keeps its middle
    const body = bodyAt(stood.at, { ...values, facesDeg: stood.facesDeg, wideMm: stood.wideMm, highMm: stood.highMm, undersideMm: undersideMm - (stood.highMm - highMm) / 2 })
    return { do: 'add-manifold', face: '+x', count, rows: stood.rows, pitchMm, air: airOf(values), main: { face: '-x', diameterMm: numberOf(values, 'mainMm') }, ...body }
  },
}

function plenum(count: 1 | 2, Sketch: Tool['Sketch']): Tool {
  return {
    id: `plenum-${count}`, name: count === 1 ? 'Plenum, one spigot' : 'Plenum, two spigots', Sketch, shape: 'point', again: true,
    steps: ['Tap the middle of the valve in the ceiling, or type where it is.'],
    asks: [NAME, AIR_CHOICE, DIAMETER, ...(count === 2 ? [{ kind: 'length', key: 'pitchMm', label: 'Pitch of the two' } as const] : []), HEIGHT, FACES, { kind: 'length', key: 'packerMm', label: 'On packers of', zero: true }, ...SIZE],
    usual: (job) => {
      const diameterMm = ductMm(job), pitchMm = diameterMm + 25, highMm = Math.max(110, diameterMm + 20)
      const { undersideMm } = heightsIn(job)
      return { name: '', air: 'supply', diameterMm, pitchMm, undersideMm, faces: 'bay', packerMm: Math.max(0, middleMm(job) - highMm / 2 - undersideMm), deepMm: 200, wideMm: count === 1 ? 200 : pitchMm + diameterMm + 30, highMm }
    },
    make: ([at], values, job) => {
      const air = airOf(values), faces = textOf(values, 'faces')
      const settled = faces === 'bay' ? betweenJoists(job, at, numberOf(values, 'wideMm') / 2, air) : { at, facesDeg: Number(faces) }
      const { centre, ...body } = bodyAt(settled.at, { ...values, facesDeg: settled.facesDeg })
      const packerMm = numberOf(values, 'packerMm')
      return {
        do: 'add-plenum', face: '+x', count, pitchMm: count === 2 ? numberOf(values, 'pitchMm') : undefined, air, room: roomAt(job, at),
        packerMm: packerMm > 0 ? packerMm : undefined, centre: [centre[0], centre[1], centre[2] + packerMm], ...body,
      }
    },
  }
}

function outdoor(air: 'intake' | 'exhaust', name: string, Sketch: Tool['Sketch']): Tool {
  return {
    id: air, name, Sketch, shape: 'point',
    steps: ['Tap where its middle is on the outside wall, or type it.'],
    asks: [NAME, { ...DIAMETER, label: 'Its spigot takes duct of' } as Ask, HEIGHT,
      { kind: 'degrees', key: 'facesDeg', label: 'Spigot faces, into the house (0\u00b0 right, 90\u00b0 up)' }, ...SIZE],
    usual: (job) => {
      const { joistUndersideMm, joistDepthMm } = heightsIn(job)
      return { name: '', diameterMm: 160, undersideMm: joistUndersideMm + joistDepthMm / 2 - 100, facesDeg: 0, deepMm: 100, wideMm: 200, highMm: 200 }
    },
    make: ([at], values) => ({ do: 'add-outdoor-terminal', air, face: '+x', ...bodyAt(at, values) }),
  }
}

export function roomAt({ rooms }: Job, [x, y]: Point2): string | undefined {
  return rooms.find(({ outline }) => ringHolds(outline.flat(), x, y))?.id
}

export const EQUIPMENT_TOOLS: readonly Tool[] = [
  UNIT, MANIFOLD, plenum(1, PlenumSketch), plenum(2, TwinPlenumSketch), outdoor('intake', 'Intake', IntakeSketch), outdoor('exhaust', 'Exhaust', ExhaustSketch),
]
