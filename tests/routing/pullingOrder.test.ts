/** The order in which ducts are drawn in, and from which end: hand-made cases, and the canal house. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { parseJob } from '#model/parse.ts'
import { pullingOrder } from '#routing/pullingOrder.ts'
import { labelOf, ringWords, stepNotes, goesInWords } from '#routing/pullingWords.ts'
import { box, freeRun, jobOf, together, type EquipmentInput, type Point } from '../checks/smallJob.ts'

type Fields = Parameters<typeof jobOf>[0]
const contextOf = (...parts: readonly Fields[]) => contextFor(assemble(jobOf(together(...parts))))
const idsIn = (context: ReturnType<typeof contextFor>, order = pullingOrder(context)): string[] => order.steps.map(({ runIndex }) => context.runs[runIndex].placed.run.id)
const across = (id: string, x: number, z: number) => freeRun(id, [[x, -800, z], [x, 800, z]])
const along = (id: string, y: number, z: number) => freeRun(id, [[-800, y, z], [3000, y, z]])

describe('the pulling order', () => {
  it('the lower of two goes in first, whatever their order in the job', () => {
    expect(idsIn(contextOf(along('HIGH', 0, 300), across('LOW', 500, 100)))).toEqual(['LOW', 'HIGH'])
    expect(idsIn(contextOf(along('LOW', 0, 100), across('HIGH', 500, 300)))).toEqual(['LOW', 'HIGH'])
  })

  it('a pile of three is laid from below, and what crosses nothing keeps its place in the job', () => {
    const context = contextOf(across('TOP', 0, 500), along('MIDDLE', 0, 300), across('ALONE', 5000, 100), across('BOTTOM', 1000, 100))
    const order = pullingOrder(context)
    expect(idsIn(context, order)).toEqual(['ALONE', 'BOTTOM', 'MIDDLE', 'TOP'])
    expect(order.steps.map(({ place }) => place)).toEqual([1, 2, 3, 4])
    expect(order.rings).toEqual([])
    expect(order.steps.every(({ under }) => under.length === 0)).toBe(true)
    expect(labelOf(context, order.steps[1])).toBe('2 / BOTTOM Run BOTTOM')
  })

  it('rigid duct goes before bendable where nothing else decides', () => {
    const rigid = freeRun('RIGID', [[0, 5000, 0], [2000, 5000, 0]], { type: 'r125' })
    expect(idsIn(contextOf(across('SOFT', 0, 0), rigid))).toEqual(['RIGID', 'SOFT'])
  })

  it('three runs each lying under the next, like a woven mat, are told as a ring with its crossings, and one has to go in under another', () => {
    // a triangle in plan: A falls along one side from over C to under B, and so on round
    const corners: Point[] = [[0, 0, 0], [3000, 0, 0], [1500, 2600, 0]]
    const side = (id: string, k: number) => {
      const [x0, y0] = corners[k], [x1, y1] = corners[(k + 1) % 3]
      const at = (share: number, z: number): Point => [x0 + share * (x1 - x0), y0 + share * (y1 - y0), z]
      return freeRun(id, [at(-0.2, 300), at(1.2, 100)])
    }
    const context = contextOf(side('A', 0), side('B', 1), side('C', 2))
    const order = pullingOrder(context)
    expect(order.passes).toHaveLength(3)
    expect(order.rings).toHaveLength(1)
    const [{ runs, passes }] = order.rings
    expect([...runs].sort((a, b) => a - b)).toEqual([0, 1, 2])
    passes.forEach(({ lower, upper }, k) => expect([lower, upper]).toEqual([runs[k], runs[(k + 1) % 3]]))
    const broken = order.steps.filter(({ under }) => under.length > 0)
    expect(broken).toHaveLength(1)
    expect(broken[0].under).toEqual([passes[2]])
    expect(order.isLeast).toBe(true)
    expect(ringWords(context, order.rings[0])).toContain('3 ducts each lie under the next')
    expect(stepNotes(context, broken[0])[0]).toContain('goes in under')
    // no order of three does better: a ring breaks at least once
    expect(order.steps.reduce((sum, { under }) => sum + under.length, 0)).toBe(1)
  })

  it('in the canal house no run goes in under one already there, but at the crossings that it reports', () => {
    const read = parseJob(readFileSync(join(import.meta.dirname, '../../fixtures/good/canal-house.json'), 'utf8'))
    if (!read.ok) throw new Error('the canal house is read')
    const context = contextFor(assemble(read.job)), order = pullingOrder(context)
    expect(order.steps.map(({ place }) => place)).toEqual(Array.from({ length: 23 }, (_, k) => k + 1))
    expect(new Set(order.steps.map(({ runIndex }) => runIndex)).size).toBe(23)
    const placeOf = new Map(order.steps.map(({ runIndex, place }) => [runIndex, place]))
    const against = order.passes.filter(({ lower, upper }) => placeOf.get(lower)! > placeOf.get(upper)!)
    expect(order.steps.flatMap(({ under }) => under)).toEqual(against)
    expect(against.length).toBe(order.rings.length)
    expect(order.passes.length).toBeGreaterThan(20)
  })
})

/** A box with one spigot of 90 mm looking along +x or -x. */
const stand = (id: string, x: number, way: 1 | -1, more: Partial<EquipmentInput> = {}): EquipmentInput => ({
  id, name: id, kind: 'plenum', centre: [x, 0, 2500], sizeMm: [200, 200, 200], spigots: [{ id: 'S', at: [way * 140, 0, 0], axis: [way, 0, 0], diameterMm: 90, lengthMm: 40 }], ...more,
})
/** From spigot to spigot 3,720 mm apart; the course between is given, its ends are not. */
const between = (inner: readonly Point[], more: Fields = {}) => {
  const context = contextOf(more, {
    equipment: [stand('west', 0, 1), stand('east', 4000, -1)],
    runs: [{ id: 'R', name: 'Run R', type: 'd90', from: { equipment: 'west', spigot: 'S' }, to: { equipment: 'east', spigot: 'S' }, waypoints: [[140, 0, 2500], ...inner, [3860, 0, 2500]].map((at) => ({ at: at as Point })) }],
  })
  const [step] = pullingOrder(context).steps
  return { context, step, of: (end: 'from' | 'to') => step.ends.find((one) => one.end === end)! }
}

describe('the end from which a duct is drawn in', () => {
  it('a level first leg must be as long as the bend that brings the duct up into it: one radius for a quarter turn', () => {
    // bends of 45 degrees and radius 180 take 74.56 of straight: the first starts 200 - 74.56 = 125.4 from the west spigot, the last 900 - 74.56 from the east one
    const { context, step, of } = between([[340, 0, 2500], [540, 200, 2500], [2760, 200, 2500], [2960, 0, 2500]])
    const tangent = 180 * Math.tan(Math.PI / 8)
    expect(of('from')).toMatchObject({ verdict: 'first-bend', blockedBy: null })
    expect(of('from').straightMm).toBeCloseTo(200 - tangent, 6)
    expect(of('from').neededMm).toBeCloseTo(180, 9)
    expect(of('to').verdict).toBe('free')
    expect(of('to').straightMm).toBeCloseTo(900 - tangent, 6)
    expect(step.ends[0].end).toBe('to')
    expect(goesInWords(context, step)).toBe('from east, spigot S')
    expect(stepNotes(context, step)).toEqual(['Feed it from the east, spigot S end only: at west, spigot S its first bend starts 125.4 mm from the end, and turning in from below takes 180.0 mm of straight.'])
  })

  it('bends early on cost less force than bends late: of two free ends the one nearer the bends is taken', () => {
    const { step, of } = between([[700, 0, 2500], [900, 200, 2500], [1100, 200, 2500], [1300, 0, 2500]])
    expect([of('from').verdict, of('to').verdict]).toEqual(['free', 'free'])
    expect(step.ends[0].end).toBe('from')
    // belt equation by hand: 1,000 held back, then straight and bends in turn, friction 0.4, four bends of pi/4
    const tangent = 180 * Math.tan(Math.PI / 8), grow = Math.exp(0.4 * Math.PI / 4)
    const chord = 2 * 180 * Math.sin(Math.PI / 8), slant = Math.hypot(200, 200)
    const legs = [560 - tangent, slant - 2 * tangent, 200 - 2 * tangent, slant - 2 * tangent, 2560 - tangent]
    const pull = (order: readonly number[]): number => order.reduce((sum, leg, k) => (k === 0 ? sum : sum * grow + 0.4 * chord) + 0.4 * leg, 1000)
    expect(of('from').pullMm).toBeCloseTo(pull(legs), 4)
    expect(of('to').pullMm).toBeCloseTo(pull([...legs].reverse()), 4)
  })

  it('something under the whole first leg bars that end, and is named', () => {
    const { context, step, of } = between([[900, 0, 2500], [1100, 200, 2500], [2900, 200, 2500], [3100, 0, 2500]], box('shelf', 'other', [500, 0, 2300], [1400, 400, 100]))
    expect(of('from')).toMatchObject({ verdict: 'no-room' })
    expect(stepNotes(context, step)).toEqual([`Feed it from the east, spigot S end only: at west, spigot S it meets ${of('from').blockedBy!.name} as it comes up from below.`])
    expect(of('to').verdict).toBe('free')
    // a shelf with a gap of 150 mm to the spigot’s right leaves room for 90 mm to come up
    const gap = between([[900, 0, 2500], [1100, 200, 2500], [2900, 200, 2500], [3100, 0, 2500]], box('shelf', 'other', [900, 0, 2300], [1200, 400, 100]))
    expect(gap.of('from').verdict).toBe('free')
  })

  it('barred at both ends it goes in from neither, and the notes say what to do', () => {
    const { context, step } = between([[340, 0, 2500], [540, 200, 2500], [3460, 200, 2500], [3660, 0, 2500]])
    expect(step.ends.map(({ verdict }) => verdict)).toEqual(['first-bend', 'first-bend'])
    expect(goesInWords(context, step)).toBe('from neither end')
    expect(stepNotes(context, step).at(-1)).toContain('give it more straight at one end')
  })

  it('up into a spigot that looks down, and through a sleeve, it comes as it will lie', () => {
    const context = contextOf(freeRun('SLEEVED', [[0, 0, 0], [100, 0, 0], [900, 800, 0]]), {
      equipment: [{ ...stand('below', 0, 1), centre: [5000, 0, 1000], spigots: [{ id: 'S', at: [0, 0, 140], axis: [0, 0, 1], diameterMm: 90 }] }, stand('far', 8000, -1)],
      runs: [{ id: 'UP', name: 'Run UP', type: 'd90', from: { equipment: 'below', spigot: 'S' }, to: { equipment: 'far', spigot: 'S' }, waypoints: [{ at: [5000, 0, 1140] }, { at: [5000, 0, 2500] }, { at: [7860, 0, 2500] }] }],
    })
    const { steps } = pullingOrder(context)
    const verdicts = steps.map(({ runIndex, ends }) => [context.runs[runIndex].placed.run.id, ...ends.map(({ end, verdict, neededMm }) => `${end} ${verdict} ${neededMm.toFixed(0)}`).sort()])
    expect(verdicts).toEqual([['SLEEVED', 'from free 0', 'to free 0'], ['UP', 'from free 0', 'to free 180']])
  })
})
