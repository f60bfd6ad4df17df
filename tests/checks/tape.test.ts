import { describe, expect, test } from 'vitest'
import { contextFor } from '#checks/index.ts'
import { nearestToRun } from '#checks/nearest.ts'
import { tape, type Tape, type TapeEnd } from '#checks/tape.ts'
import { assemblyOf, box, freeRun, oneJoist, together } from './smallJob.ts'

const contextOf = (...fields: Parameters<typeof assemblyOf>[0][]) => contextFor(assemblyOf(together(...fields)))
const zone = { zones: [{ id: 'Z', name: 'hall', outline: [[-500, -2000], [2500, -2000], [2500, 2000], [-500, 2000]] as [number, number][], undersideMm: -120, topMm: 400 }] }
const run = (runIndex: number): TapeEnd => ({ kind: 'run', runIndex })
const solid = (solidIndex: number): TapeEnd => ({ kind: 'solid', solidIndex })

describe('a tape', () => {
  test('between two runs: their axes apart less both radii, at the points nearest', () => {
    const context = contextOf(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), freeRun('R2', [[1200, -800, 150], [1200, 800, 150]]))
    const measured = tape(context, run(0), run(1)) as Tape
    expect(measured).toMatchObject({ clearanceMm: expect.closeTo(60, 9), overlap: false })
    expect(measured.onFrom).toEqual({ x: expect.closeTo(1200, 6), y: expect.closeTo(0, 6), z: expect.closeTo(45, 6) })
    expect(measured.onTo).toEqual({ x: expect.closeTo(1200, 6), y: expect.closeTo(0, 6), z: expect.closeTo(105, 6) })
    expect(measured.words).toBe('Run R1 to Run R2: 60.0 mm.')
  })

  test('from a run to every part says what the list of near parts says', () => {
    const context = contextOf(freeRun('R1', [[300, -1000, 118], [300, 1000, 118]]), oneJoist())
    const near = nearestToRun(context, 0, 12)
    expect(near).toHaveLength(12)
    for (const { part, clearanceMm } of near) {
      const index = Array.from({ length: context.assembly.solids.count }, (_, i) => i).find((i) => context.assembly.parts.describe(i).name === part.name)!
      expect((tape(context, run(0), solid(index)) as Tape).clearanceMm).toBeCloseTo(clearanceMm, 9)
      expect((tape(context, solid(index), run(0)) as Tape).clearanceMm).toBeCloseTo(clearanceMm, 9)
    }
  })

  test('between chords of a joist: what lies between them', () => {
    const context = contextOf(oneJoist())
    // 254 less two chords of 47
    expect((tape(context, solid(0), solid(1)) as Tape).clearanceMm).toBeCloseTo(160, 9)
  })

  test('to the faces of the ceiling void', () => {
    const context = contextOf(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), box('beam', 'beam', [1000, 0, 200], [200, 400, 100]), zone)
    expect((tape(context, run(0), { kind: 'zone', zoneId: 'Z', face: 'underside' }) as Tape).clearanceMm).toBeCloseTo(75, 9)
    expect((tape(context, solid(0), { kind: 'zone', zoneId: 'Z', face: 'top' }) as Tape).clearanceMm).toBeCloseTo(150, 9)
    expect((tape(context, solid(0), { kind: 'zone', zoneId: 'Z', face: 'side' }) as Tape).clearanceMm).toBeCloseTo(1400, 9)
    expect((tape(context, { kind: 'zone', zoneId: 'Z', face: 'underside' }, { kind: 'zone', zoneId: 'Z', face: 'top' }) as Tape).clearanceMm).toBeCloseTo(520, 9)
    const low = contextOf(box('beam', 'beam', [1000, 0, -120], [200, 400, 100]), zone)
    expect(tape(low, solid(0), { kind: 'zone', zoneId: 'Z', face: 'underside' })).toMatchObject({ clearanceMm: null, overlap: true, words: 'beam and the underside of hall cross or touch.' })
  })

  test('an overlap has a depth where it is known exactly, and only there', () => {
    const context = contextOf(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), box('one', 'beam', [1000, 0, 80], [200, 400, 100]), box('two', 'beam', [1050, 0, 80], [200, 400, 100]), box('three', 'beam', [1000, 0, 180], [200, 400, 100]),
      { solids: [{ id: 'pipe', name: 'pipe', class: 'soil-stack', shape: { kind: 'cylinder', from: [1000, 0, -370], to: [1000, 0, 530], diameterMm: 110 } }] })
    expect(tape(context, run(0), solid(0))).toMatchObject({ clearanceMm: expect.closeTo(-15, 9), overlap: true, words: 'Run R1 and one overlap by 15.0 mm.' })
    expect(tape(context, solid(0), solid(1))).toMatchObject({ clearanceMm: expect.closeTo(-100, 9), overlap: true, words: 'one and two overlap by 100.0 mm.' })
    expect(tape(context, solid(0), solid(3))).toMatchObject({ clearanceMm: null, overlap: true, words: 'one and pipe overlap.' })
    // boards that lie on each other touch
    expect(tape(context, solid(0), solid(2))).toMatchObject({ clearanceMm: 0, overlap: false })
  })

  test('what is not there is said', () => {
    const context = contextOf(box('beam', 'beam', [1000, 0, 80], [200, 400, 100]))
    expect(tape(context, run(3), solid(0))).toEqual({ why: 'There is no such run.' })
    expect(tape(context, solid(0), solid(9))).toEqual({ why: 'There is no such part.' })
    expect(tape(context, solid(0), { kind: 'zone', zoneId: 'Z', face: 'top' })).toEqual({ why: 'The job has no ceiling zone Z.' })
  })
})
