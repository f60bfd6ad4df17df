import { describe, expect, test } from 'vitest'
import { EQUIPMENT_TOOLS } from '#app/places/setDown/equipmentTools.ts'
import { FIELD_TOOL } from '#app/places/measureUp/fieldTool.ts'
import { heightsIn } from '#app/places/measureUp/heights.ts'
import { nextStep } from '#app/places/measureUp/nextStep.ts'
import { CUT_OUT_TOOL, DOOR_TOOL, ROOM_TOOL, ZONE_TOOL } from '#app/places/measureUp/roomTools.ts'
import { SECTION_TEMPLATES } from '#app/places/measureUp/sectionTemplates.ts'
import { SITE_TOOLS, wallAt } from '#app/places/measureUp/siteTools.ts'
import { STARTING_VOIDS } from '#app/places/measureUp/voids.ts'
import { areaMm2, newPen, penBack, penClose, penTap, penTowards, penTyped, towardsWords, type Pen, type PenStep } from '#app/plan/pen.ts'
import { nearGates } from '#app/plan/picked/nearGates.ts'
import { holdsOf, snapPoint } from '#app/plan/snapPoint.ts'
import { newcomer, type Tool } from '#app/plan/tool.ts'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { checkJob } from '#checks/index.ts'
import { apply } from '#commands/index.ts'
import { formatJob, parseJob, type Job, type Point2 } from '#model/index.ts'
import { snapSpigot } from '#routing/snap.ts'

function more(step: PenStep): Pen {
  if (!('pen' in step)) throw new Error('why' in step ? step.why : 'it is done already')
  return step.pen
}
function done(step: PenStep): readonly Point2[] {
  if (!('done' in step)) throw new Error('why' in step ? step.why : 'it waits for more')
  return step.done
}
function used(tool: Tool, points: readonly Point2[], job: Job, values: Record<string, number | string> = {}): Job {
  const command = tool.make(points, { ...tool.usual(job), ...values }, job)
  if (typeof command === 'string') throw new Error(command)
  const outcome = apply(job, command)
  if (!outcome.ok) throw new Error(outcome.why)
  return outcome.job
}
const tool = (id: string): Tool => [...SITE_TOOLS, ...EQUIPMENT_TOOLS].find(one => one.id === id)!
const start = (id: string): Job => STARTING_VOIDS.find(one => one.id === id)!.make()

describe('the pencil', () => {
  test('a room is drawn by four typed lengths, turning left after each, and closed by Enter', () => {
    let pen = more(penTap(newPen('ring'), [0, 0]))
    for (const length of [4_200, 3_600, 4_200]) pen = more(penTyped(pen, length))
    expect(done(penClose(pen))).toEqual([[0, 0], [4_200, 0], [4_200, 3_600], [0, 3_600]])
  })

  test('tapping the first corner closes it as well', () => {
    let pen = newPen('ring')
    for (const at of [[0, 0], [1_000, 0], [1_000, 500]] as Point2[]) pen = more(penTap(pen, at))
    expect(done(penTap(pen, [0, 0]))).toHaveLength(3)
  })

  test('an outline of two corners, in one line, or across itself is refused with the reason', () => {
    let pen = more(penTap(more(penTap(newPen('ring'), [0, 0])), [1_000, 0]))
    expect(penClose(pen)).toEqual({ why: 'an outline needs three corners' })
    expect(penClose({ ...pen, points: [...pen.points, [2_000, 0]] })).toEqual({ why: 'the corners lie in one line' })
    pen = more(penTap(more(penTap(pen, [1_000, 1_000])), [500, 1_000]))
    expect(penTap(pen, [500, -500])).toEqual({ why: 'the outline would cross itself' })
  })

  test('a point can be taken back, and the way that is shown follows the pointer', () => {
    const pen = more(penTap(more(penTap(newPen('path'), [0, 0])), [1_000, 0]))
    expect(penBack(pen).points).toEqual([[0, 0]])
    expect(towardsWords(penTowards(pen, [1_000, -300]).towards)).toBe('down')
    expect(towardsWords(penTowards(pen, [1_400, 300]).towards)).toBe('36.9\u00b0 from right')
  })

  test('a box by its corners, a line and a point are done when they have what they need', () => {
    expect(done(penTap(more(penTap(newPen('box'), [0, 0])), [100, 200]))).toHaveLength(2)
    expect(penTap(more(penTap(newPen('box'), [0, 0])), [0, 200])).toHaveProperty('why')
    expect(done(penTyped(more(penTap(newPen('line'), [10, 20])), 900))).toEqual([[10, 20], [910, 20]])
    expect(done(penTap(newPen('point'), [1, 2]))).toEqual([[1, 2]])
  })

  test('an area is positive the way the pencil turns of itself', () => {
    expect(areaMm2([[0, 0], [2_000, 0], [2_000, 1_000], [0, 1_000]])).toBe(2e6)
  })
})

describe('what a tapped point holds to', () => {
  const job = start('open-web')
  const holds = holdsOf(job)

  test('a corner that is there, before anything else', () => {
    expect(snapPoint([4_980, 12], { ...holds, reachMm: 50, square: false })).toMatchObject({ at: [5_000, 0], held: 'corner' })
  })

  test('a wall between its corners', () => {
    expect(snapPoint([2_503, 24], { ...holds, reachMm: 50, square: false })).toMatchObject({ at: [2_503, 0], held: 'edge' })
  })

  test('square by default: the smaller way is dropped, and the length is to 10 mm', () => {
    expect(snapPoint([1_994, 731], { corners: [], edges: [], reachMm: 50, square: true, from: [512, 700] })).toMatchObject({ at: [1_992, 700], held: 'square' })
  })

  test('square, and in line with the first corner', () => {
    expect(snapPoint([33, 2_010], { corners: [], edges: [], reachMm: 50, square: true, from: [3_000, 2_000], first: [0, 0] })).toMatchObject({ at: [0, 2_000], held: 'line', inLineWith: [0, 0] })
  })

  test('square, and stopped by a wall that it meets', () => {
    expect(snapPoint([4_960, 1_490], { ...holds, reachMm: 60, square: true, from: [1_000, 1_500] })).toMatchObject({ at: [5_000, 1_500], held: 'edge' })
  })

  test('the first corner closes, and bare paper is taken to the nearest 10 mm', () => {
    expect(snapPoint([20, -20], { corners: [], edges: [], reachMm: 40, square: true, from: [0, 900], first: [0, 0] }).held).toBe('close')
    expect(snapPoint([12_346, -7_771], { ...holds, reachMm: 50, square: false }).at).toEqual([12_350, -7_770])
  })

  test('what is moved does not hold to itself', () => {
    expect(holdsOf(job, job.rooms[0].id).corners).toHaveLength(holds.corners.length - 4)
  })
})

describe('the tools', () => {
  test('from bare paper to a room, its zone and its joists, each step is told what comes next', () => {
    let job = start('empty')
    const ring: Point2[] = [[0, 0], [4_000, 0], [4_000, 3_000], [0, 3_000]]
    expect(nextStep(job)?.tool).toBe('room')
    job = used(ROOM_TOOL, ring, job, { name: 'Den', ceilingMm: 2_350 })
    expect(nextStep(job)?.tool).toBe('zone')
    job = used(ZONE_TOOL, ring, job)
    // 15 mm of board over the ceiling of the room
    expect(job.zones[0].undersideMm).toBe(2_365)
    expect(nextStep(job)?.tool).toBe('joist-field')
    job = used(FIELD_TOOL, [[0, 0], [4_000, 3_000]], job)
    // the shorter way, chords within the walls: (4000 - 72) / 400 gives ten, and one closes the field
    expect(job.joistFields[0]).toMatchObject({ directionDeg: 90, lengthMm: 3_000, origin: [36, 0, 2_365] })
    expect(job.joistFields[0].joists).toHaveLength(11)
    expect(nextStep(job)?.words).toContain('11 of 11')
    // who has measured enough is not asked again, but what is missing is still said
    expect(nextStep(job, true)).toBeNull()
    expect(nextStep(start('empty'), true)?.tool).toBe('room')
    expect(newcomer(start('empty'), job)).toEqual({ kind: 'room', id: job.rooms[0].id })
  })

  test('a section that the job has already is used again, not made twice', () => {
    const job = used(FIELD_TOOL, [[0, 5_000], [2_000, 8_000]], start('open-web'))
    expect(job.sections).toHaveLength(1)
    expect(used(FIELD_TOOL, [[0, 5_000], [2_000, 8_000]], start('open-web'), { section: 'new:i-section-240' }).sections).toHaveLength(2)
  })

  test('every kind of joist has a section to start from that the format takes', () => {
    expect(new Set(SECTION_TEMPLATES.map(({ section }) => section.kind))).toEqual(new Set(['open-web', 'solid-timber', 'i-section', 'cold-formed']))
    for (const { key } of SECTION_TEMPLATES) expect(used(FIELD_TOOL, [[0, 0], [3_000, 4_000]], start('empty'), { section: `new:${key}` }).joistFields[0].joists.length).toBeGreaterThan(5)
  })

  test('each thing on site goes in where it was tapped, with the class that clearances are asked of', () => {
    const job = start('open-web')
    const classes: Record<string, string> = { fascia: 'wall' }
    for (const one of SITE_TOOLS.filter(({ id }) => id !== 'sleeve')) {
      const points: Point2[] = one.shape === 'point' ? [[2_000, 1_500]] : [[1_000, 1_500], [2_000, 1_500]]
      const after = used(one, points, job)
      expect(after.solids.at(-1)).toMatchObject({ class: classes[one.id] ?? one.id })
      const { solids } = assemble(after)
      const [minX, minY, , maxX, maxY] = [...solids.bounds.slice(-6)]
      expect(minX).toBeLessThanOrEqual(points[0][0])
      expect(maxX).toBeGreaterThanOrEqual(points.at(-1)![0])
      expect(minY).toBeLessThanOrEqual(1_500 + 1e-9)
      expect(maxY).toBeGreaterThanOrEqual(1_500 - 1e-9)
    }
  })

  test('a trimmer stands at the height of the joists and is as deep as they are', () => {
    const after = used(tool('trimmer'), [[500, 1_000], [1_700, 1_000]], start('open-web'))
    const { bounds, count } = assemble(after).solids
    expect([...bounds.slice(6 * (count - 1))].map(Math.round)).toEqual([500, 964, 2_415, 1_700, 1_036, 2_669])
  })

  test('a sleeve goes square through the middle of the fascia that it was tapped on, and is refused on bare paper', () => {
    const job = used(tool('fascia'), [[0, 4_100], [5_000, 4_100]], start('open-web'))
    const after = used(tool('sleeve'), [[2_000, 4_090]], job)
    expect(after.sleeves[0]).toMatchObject({ at: [2_000, 4_112.5, 2_542], axis: [0, 1, 0], lengthMm: 25, through: [job.solids[0].id] })
    expect(wallAt(job, [2_000, 2_000])).toBeNull()
    expect(wallAt(job, [5_200, 4_110])?.id).toBe(job.solids[0].id)
    expect(wallAt(job, [5_400, 4_110])).toBeNull()
    expect(tool('sleeve').make([[2_000, 2_000]], tool('sleeve').usual(job), job)).toBe('there is no wall or fascia near it: draw that first')
  })

  test('a door goes on to the wall it was tapped beside, and a stairwell is cut out of its zone', () => {
    const job = start('open-web')
    expect(used(DOOR_TOOL, [[2_000, 70]], job).rooms[0].doors).toEqual([{ at: [2_000, 0], widthMm: 800 }])
    expect(DOOR_TOOL.make([[2_000, 900]], {}, job)).toContain('no wall')
    expect(used(CUT_OUT_TOOL, [[0, 0], [900, 0], [900, 2_000], [0, 2_000]], job).zones[0].holes).toHaveLength(1)
    expect(CUT_OUT_TOOL.make([[6_000, 0], [7_000, 0], [7_000, 900]], {}, job)).toBe('it lies in no ceiling zone')
  })

  test('a manifold has as many spigots as typed at their pitch, facing the way typed', () => {
    const after = used(tool('manifold'), [[2_000, 2_000]], start('open-web'), { count: 5, pitchMm: 110, faces: '90' })
    const spigots = assemble(after).spigots.filter(({ spigot }) => spigot.id !== 'main')
    expect(spigots).toHaveLength(5)
    for (const { axis } of spigots) expect(axis.map(value => Math.round(value * 1e9) / 1e9 + 0)).toEqual([0, 1, 0])
    expect(Math.hypot(spigots[1].at[0] - spigots[0].at[0], spigots[1].at[1] - spigots[0].at[1])).toBeCloseTo(110, 9)
  })

  test('a manifold tapped between joists stands in the bay as it is, with its spigots in rows that look along it', () => {
    for (const count of [2, 5, 6]) {
      const after = used(tool('manifold'), [[1_010, 1_200]], start('open-web'), { count }), { joists: [{ along, section, origin }], spigots } = assemble(after)
      expect(checkJob(assemble(after)).filter(({ code }) => code === 'stands-in')).toEqual([])
      const rows = spigots.filter(({ spigot }) => spigot.id !== 'main')
      expect(rows).toHaveLength(count)
      for (const { axis, at } of rows) {
        expect(Math.abs(axis[0] * along[0] + axis[1] * along[1])).toBeCloseTo(1, 9)
        expect(Math.abs(at[2] - origin[2] - section.depthMm / 2)).toBeLessThan(section.depthMm / 2 - 37.5)
      }
    }
    // too many for a bay: it stays as it is typed, and the check says what it stands in
    expect(checkJob(assemble(used(tool('manifold'), [[1_010, 1_200]], start('open-web'), { count: 12, wideMm: 1_250 }))).some(({ code }) => code === 'stands-in')).toBe(true)
  })

  test('a plenum knows its room, has one spigot or two, and stands on its packers', () => {
    const job = start('open-web')
    for (const count of [1, 2] as const) {
      const [plenum] = used(tool(`plenum-${count}`), [[2_000, 2_000]], job, { packerMm: 40 }).equipment
      expect(plenum).toMatchObject({ kind: 'plenum', room: job.rooms[0].id, packerMm: 40 })
      expect(plenum.spigots).toHaveLength(count)
      expect(plenum.centre[2] - plenum.sizeMm[2] / 2).toBe(heightsIn(job).undersideMm + 40)
    }
  })

  test('a plenum tapped on a joist stands beside it, at the middle of the openings\u2019 height, and faces the manifold along its bay', () => {
    const job = used(tool('manifold'), [[300, 2_000]], start('open-web'))
    const { along, across, origin, section } = assemble(job).joists[3]
    for (const off of [-150, -40, 0, 40, 90]) {
      const tapped: Point2 = [origin[0] + along[0] * 2_500 + across[0] * (400 + off), origin[1] + along[1] * 2_500 + across[1] * (400 + off)]
      const after = used(tool('plenum-1'), [tapped], job), plenum = after.equipment[1]
      expect(checkJob(assemble(after)).filter(({ code, parts }) => code === 'stands-in' && parts[0].id === plenum.id)).toEqual([])
      // it moves square to the joists alone, and no further than it must
      const moved = [plenum.centre[0] - tapped[0], plenum.centre[1] - tapped[1]]
      expect(moved[0] * along[0] + moved[1] * along[1]).toBeCloseTo(0, 9)
      expect(Math.hypot(moved[0], moved[1])).toBeLessThanOrEqual(151)
      const [spigot] = assemble(after).spigots.filter(({ equipment }) => equipment.id === plenum.id)
      expect(spigot.at[2]).toBeCloseTo(origin[2] + section.depthMm / 2, 9)
      expect(Math.abs(spigot.axis[0] * along[0] + spigot.axis[1] * along[1])).toBeCloseTo(1, 9)
      expect(Math.sign(spigot.axis[0] * along[0] + spigot.axis[1] * along[1])).toBe(Math.sign((300 - tapped[0]) * along[0] + (2_000 - tapped[1]) * along[1]))
    }
  })

  test('a unit and both outdoor terminals go in with their usual sizes', () => {
    const job = start('empty')
    expect(used(tool('unit'), [[0, 0]], job).equipment[0].spigots.map(({ id }) => id)).toEqual(['supply', 'extract', 'intake', 'exhaust'])
    for (const air of ['intake', 'exhaust']) expect(used(tool(air), [[0, 0]], job).equipment[0]).toMatchObject({ kind: 'outdoor-terminal', air })
  })

  test('the openings offered to a spigot are those beside it, and lining up puts it at their middle', () => {
    const job = used(tool('manifold'), [[1_000, 2_000]], start('open-web'))
    const context = contextFor(assemble(job))
    const spigot = context.assembly.spigots[0]
    const targets = nearGates(context.assembly.joists, spigot)
    expect(targets.at(-1)).toMatchObject({ kind: 'bay' })
    expect(targets.filter(({ kind }) => kind === 'opening').length).toBe(4)
    for (const target of targets) {
      const snap = snapSpigot(context, spigot.equipment.id, spigot.spigot.id, target)
      expect(snap).toHaveProperty('by')
      // within the bay or the next one, never across the room
      if ('by' in snap) expect(Math.hypot(...snap.by)).toBeLessThan(700)
    }
  })
})

describe('starting voids', () => {
  test.each(STARTING_VOIDS.map(({ name, make }) => [name, make] as const))('%s is a whole job that reads back the same', (_, make) => {
    const job = make()
    expect(parseJob(formatJob(job))).toEqual({ ok: true, job })
    expect(job.ductTypes.length).toBeGreaterThan(0)
  })

  test('joists bear on the walls and their ceiling lies between the joists\u2019 undersides and tops', () => {
    const job = start('open-web')
    expect(job.joistFields[0]).toMatchObject({ lengthMm: 4_200, bearingMm: 100 })
    expect(job.zones[0]).toMatchObject({ undersideMm: job.joistFields[0].origin[2], topMm: job.joistFields[0].origin[2] + job.sections[0].depthMm })
  })
})
