/** What else is on site that a duct could meet. Sizes to start from are ordinary trade sizes, from memory. */
import type { Job, Point2, Point3 } from '#model/index.ts'
import { footprintOf } from '../../plan/outlines.ts'
import { edgesOf, nearestOnEdge } from '../../plan/snapPoint.ts'
import { numberOf, textOf, type Ask, type Tool, type Values } from '../../plan/tool.ts'
import { heightsIn } from './heights.ts'
import { BeamSketch, CableSketch, DownlightSketch, FasciaSketch, NogginSketch, PipeSketch, SleeveSketch, StackSketch, StrongbackSketch, TrimmerSketch, WallSketch } from './sketches.tsx'

const UNDERSIDE: Ask = { kind: 'length', key: 'undersideMm', label: 'Underside, above datum', negative: true }
const BOTTOM_AND_TOP: readonly Ask[] = [
  { kind: 'length', key: 'bottomMm', label: 'From, above datum', negative: true }, { kind: 'length', key: 'topMm', label: 'To, above datum', negative: true },
]
const DIAMETER: Ask = { kind: 'length', key: 'diameterMm', label: 'Diameter' }

/** A straight timber between two points along the middle of its underside. */
function member(kind: 'trimmer' | 'noggin' | 'strongback' | 'beam', name: string, Sketch: Tool['Sketch'], usual: (job: Job) => { readonly widthMm: number, readonly depthMm: number, readonly undersideMm: number }): Tool {
  return {
    id: kind, name, Sketch, shape: 'line', again: true, usual,
    steps: ['Tap one end, on its middle line, or type where it is.', 'Tap the other end, or type its length and press Enter.'],
    asks: [{ kind: 'length', key: 'widthMm', label: 'Width in plan' }, { kind: 'length', key: 'depthMm', label: 'Depth, bottom to top' }, UNDERSIDE],
    make: ([a, b], values) => {
      const z = numberOf(values, 'undersideMm')
      return { do: 'add-member', class: kind, from: [...a, z] as Point3, to: [...b, z] as Point3, widthMm: numberOf(values, 'widthMm'), depthMm: numberOf(values, 'depthMm') }
    },
  }
}

/** A line that bends at the points tapped, all at one height. */
function line(kind: 'pipe' | 'cable', name: string, Sketch: Tool['Sketch'], diameterMm: number, bendRadiusMm: number): Tool {
  return {
    id: kind, name, Sketch, shape: 'path', again: true,
    steps: ['Tap where it starts.', 'Tap where it turns or ends.', 'Tap where it turns or ends; press Enter with nothing typed after the last.'],
    asks: [DIAMETER, { kind: 'length', key: 'heightMm', label: 'Middle, above datum', negative: true }],
    usual: job => ({ diameterMm, heightMm: heightsIn(job).joistUndersideMm + diameterMm / 2 }),
    make: (points, values) => ({ do: 'add-line', class: kind, points: points.map(([x, y]) => [x, y, numberOf(values, 'heightMm')] as Point3), diameterMm: numberOf(values, 'diameterMm'), bendRadiusMm }),
  }
}

function wall(id: string, name: string, Sketch: Tool['Sketch'], usual: (job: Job) => Values, given: { readonly name?: string }): Tool {
  return {
    id, name, Sketch, shape: 'line', again: true, usual,
    steps: ['Tap one end of its face, or type where it is.', 'Tap the other end, or type its length and press Enter.'],
    asks: [
      { kind: 'length', key: 'thicknessMm', label: 'Thickness' },
      { kind: 'choice', key: 'side', label: 'The wall lies', choices: () => [
        { value: 'left', words: 'to the left of the way you draw' }, { value: 'right', words: 'to the right of it' }, { value: 'middle', words: 'half to each side' },
      ] },
      ...BOTTOM_AND_TOP,
    ],
    make: ([from, to], values) => ({
      do: 'add-wall', from, to, thicknessMm: numberOf(values, 'thicknessMm'), side: textOf(values, 'side') as 'left' | 'right' | 'middle', bottomMm: numberOf(values, 'bottomMm'), topMm: numberOf(values, 'topMm'), ...given,
    }),
  }
}

const STACK: Tool = {
  id: 'soil-stack', name: 'Soil stack', Sketch: StackSketch, shape: 'point', again: true,
  steps: ['Tap its middle, or type where it is.'], asks: [DIAMETER, ...BOTTOM_AND_TOP],
  usual: (job) => {
    const { undersideMm, topMm } = heightsIn(job)
    return { diameterMm: 110, bottomMm: undersideMm, topMm }
  },
  make: ([at], values) => ({ do: 'add-stack', class: 'soil-stack', at, diameterMm: numberOf(values, 'diameterMm'), bottomMm: numberOf(values, 'bottomMm'), topMm: numberOf(values, 'topMm') }),
}

const DOWNLIGHT: Tool = {
  ...STACK, id: 'downlight', name: 'Downlight keep-out', Sketch: DownlightSketch,
  steps: ['Tap the middle of the downlight: nothing may enter the space over it.'],
  usual: (job) => {
    const { undersideMm } = heightsIn(job)
    return { diameterMm: 200, bottomMm: undersideMm, topMm: undersideMm + 150 }
  },
  make: ([at], values) => ({ do: 'add-stack', class: 'downlight', at, diameterMm: numberOf(values, 'diameterMm'), bottomMm: numberOf(values, 'bottomMm'), topMm: numberOf(values, 'topMm') }),
}

const SLEEVE: Tool = {
  id: 'sleeve', name: 'Sleeve', Sketch: SleeveSketch, shape: 'point', again: true,
  steps: ['Tap the wall or fascia where the duct goes through it; the sleeve goes square through its middle.'],
  asks: [{ kind: 'length', key: 'diameterMm', label: 'Clear diameter inside' }, { kind: 'length', key: 'heightMm', label: 'Middle, above datum', negative: true }],
  usual: (job) => {
    const { joistUndersideMm, joistDepthMm } = heightsIn(job)
    return { diameterMm: 170, heightMm: joistUndersideMm + joistDepthMm / 2 }
  },
  make: ([at], values, job) => {
    const host = wallAt(job, at)
    if (host === null) return 'there is no wall or fascia near it: draw that first'
    const { middle, axis, thicknessMm, id } = host
    return { do: 'add-sleeve', sleeve: { at: [...middle, numberOf(values, 'heightMm')], axis: [...axis, 0], diameterMm: numberOf(values, 'diameterMm'), lengthMm: thicknessMm, through: [id] } }
  },
}

/** no farther from a wall than this, mm */
const WALL_REACH_MM = 300

/** The wall at a place: the point in the middle of its thickness there, and the way square through it. */
export function wallAt(job: Job, at: Point2): { readonly id: string, readonly middle: Point2, readonly axis: Point2, readonly thicknessMm: number } | null {
  let best: ReturnType<typeof wallAt> = null, bestMm = WALL_REACH_MM
  for (const { id, class: kind, shape } of job.solids) {
    if (kind !== 'wall') continue
    const print = footprintOf(shape)
    if (print.kind !== 'area') continue
    const ring = print.rings[0]
    // along its longest side
    const [a, b] = edgesOf(ring).reduce((longest, edge) => lengthOf(edge) > lengthOf(longest) ? edge : longest)
    const long = lengthOf([a, b]), axis: Point2 = [-(b[1] - a[1]) / long, (b[0] - a[0]) / long]
    const across = ring.map(([x, y]) => (x - a[0]) * axis[0] + (y - a[1]) * axis[1])
    const low = Math.min(...across), high = Math.max(...across)
    const off = (at[0] - a[0]) * axis[0] + (at[1] - a[1]) * axis[1], by = (low + high) / 2 - off
    const middle: Point2 = [at[0] + axis[0] * by, at[1] + axis[1] * by]
    const beside = nearestOnEdge([a, b], at)
    const endMm = Math.hypot(beside[0] - at[0], beside[1] - at[1]) - Math.max(Math.abs(off - low), Math.abs(off - high))
    const farMm = Math.max(0, low - off, off - high)
    if (farMm <= bestMm && endMm <= WALL_REACH_MM) {
      bestMm = farMm
      best = { id, middle, axis, thicknessMm: high - low }
    }
  }
  return best
}

function lengthOf([a, b]: readonly [Point2, Point2]): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1])
}

export const SITE_TOOLS: readonly Tool[] = [
  member('trimmer', 'Trimmer', TrimmerSketch, job => ({ widthMm: 72, depthMm: heightsIn(job).joistDepthMm, undersideMm: heightsIn(job).joistUndersideMm })),
  member('noggin', 'Noggin', NogginSketch, (job) => {
    const { joistUndersideMm, joistDepthMm } = heightsIn(job)
    return { widthMm: 47, depthMm: 97, undersideMm: joistUndersideMm + Math.max(0, joistDepthMm - 97) }
  }),
  member('strongback', 'Strongback', StrongbackSketch, job => ({ widthMm: 35, depthMm: 97, undersideMm: heightsIn(job).joistUndersideMm + 47 })),
  member('beam', 'Beam', BeamSketch, job => ({ widthMm: 100, depthMm: heightsIn(job).joistDepthMm, undersideMm: heightsIn(job).joistUndersideMm })),
  STACK,
  line('pipe', 'Pipe', PipeSketch, 28, 0),
  line('cable', 'Cable', CableSketch, 12, 50),
  DOWNLIGHT,
  wall('wall', 'Wall', WallSketch, job => ({ thicknessMm: 100, side: 'left', bottomMm: 0, topMm: heightsIn(job).topMm }), {}),
  wall('fascia', 'Fascia', FasciaSketch, job => ({ thicknessMm: 25, side: 'left', bottomMm: heightsIn(job).joistUndersideMm, topMm: heightsIn(job).topMm }), { name: 'Fascia' }),
  SLEEVE,
]
