/** Rooms, doors, ceiling zones and what is cut out of them. */
import { ringHolds } from '#geometry/solid/ring.ts'
import { ROOM_USES } from '#model/surroundings.ts'
import type { Job, Point2, Room } from '#model/index.ts'
import { edgesOf, nearestOnEdge } from '../../plan/snapPoint.ts'
import { nameIn, numberOf, textOf, type Tool } from '../../plan/tool.ts'
import { heightsIn } from './heights.ts'
import { CutOutSketch, DoorSketch, RoomSketch, ZoneSketch } from './sketches.tsx'

const CORNERS = [
  'Tap the first corner, or type where it is.',
  'Tap the next corner, or type the length of the wall and press Enter.',
  'Go on round.',
  'Go on round; tap the first corner again, or press Enter with nothing typed, to close it.',
]
/** A door is put on the wall that is no farther than this, mm. */
const DOOR_REACH_MM = 500

export function useWords(use: Room['use']): string {
  return use === 'wc' ? 'WC' : `${use.slice(0, 1).toUpperCase()}${use.slice(1)}`
}

export const ROOM_TOOL: Tool = {
  id: 'room', name: 'Room', Sketch: RoomSketch, shape: 'ring', steps: CORNERS,
  asks: [
    { kind: 'text', key: 'name', label: 'Name (one is made if left empty)' },
    { kind: 'choice', key: 'use', label: 'Use', choices: () => ROOM_USES.map(use => ({ value: use, words: useWords(use) })) },
    { kind: 'length', key: 'floorMm', label: 'Floor, above datum', negative: true },
    { kind: 'length', key: 'ceilingMm', label: 'Ceiling, above datum', negative: true },
  ],
  usual: job => ({ name: '', use: 'other', floorMm: job.rooms.at(-1)?.floorMm ?? 0, ceilingMm: heightsIn(job).ceilingMm }),
  make: (points, values) => ({ do: 'add-room', room: { ...nameIn(values), outline: [...points], use: textOf(values, 'use') as Room['use'], floorMm: numberOf(values, 'floorMm'), ceilingMm: numberOf(values, 'ceilingMm') } }),
}

export const DOOR_TOOL: Tool = {
  id: 'door', name: 'Door', Sketch: DoorSketch, shape: 'point', again: true,
  steps: ['Tap the middle of the doorway on the wall of its room.'],
  asks: [{ kind: 'length', key: 'widthMm', label: 'Width' }],
  usual: () => ({ widthMm: 800 }),
  make: ([at], values, job) => {
    const wall = nearestWall(job, at)
    if (wall === null) return 'there is no wall of a room near it: draw the room first'
    return { do: 'edit-room', id: wall.room.id, set: { doors: [...wall.room.doors, { at: wall.on, widthMm: numberOf(values, 'widthMm') }] } }
  },
}

export const ZONE_TOOL: Tool = {
  id: 'zone', name: 'Ceiling zone', Sketch: ZoneSketch, shape: 'ring', steps: CORNERS,
  asks: [
    { kind: 'text', key: 'name', label: 'Name (one is made if left empty)' },
    { kind: 'length', key: 'undersideMm', label: 'Upper side of the ceiling', negative: true },
    { kind: 'length', key: 'topMm', label: 'Underside of what closes it above', negative: true },
  ],
  usual: (job) => {
    const { undersideMm, topMm } = heightsIn(job)
    return { name: '', undersideMm, topMm }
  },
  make: (points, values) => ({ do: 'add-zone', zone: { ...nameIn(values), outline: [...points], undersideMm: numberOf(values, 'undersideMm'), topMm: numberOf(values, 'topMm') } }),
}

export const CUT_OUT_TOOL: Tool = {
  id: 'cut-out', name: 'Hole in a zone', Sketch: CutOutSketch, shape: 'ring', again: true,
  steps: ['Tap the first corner of what no duct may enter, such as a stairwell.', ...CORNERS.slice(1)],
  asks: [], usual: () => ({}),
  make: (points, _, job) => {
    const zone = job.zones.find(({ outline }) => points.every(([x, y]) => ringHolds(outline.flat(), x, y) || edgesOf(outline).some(edge => near(nearestOnEdge(edge, [x, y]), [x, y], 1))))
    return zone === undefined ? 'it lies in no ceiling zone' : { do: 'edit-zone', id: zone.id, set: { holes: [...zone.holes, [...points]] } }
  },
}

function nearestWall(job: Job, at: Point2): { readonly room: Room, readonly on: Point2 } | null {
  let best: { readonly room: Room, readonly on: Point2 } | null = null
  for (const room of job.rooms) {
    for (const edge of edgesOf(room.outline)) {
      const on = nearestOnEdge(edge, at)
      if (near(on, at, best === null ? DOOR_REACH_MM : Math.hypot(best.on[0] - at[0], best.on[1] - at[1]))) best = { room, on }
    }
  }
  return best
}

function near(a: Point2, b: Point2, mm: number): boolean {
  return Math.hypot(a[0] - b[0], a[1] - b[1]) <= mm
}
