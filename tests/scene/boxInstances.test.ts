import { describe, expect, test } from 'vitest'
import { BOX } from '#geometry/solid/solidSet.ts'
import { MOST_WHOLE_PLATES, boxChunkOf, boxChunksOf } from '#scene/boxInstances.ts'
import { frameOf, toScene } from '#scene/frame.ts'
import { MOST_OUTLINED, pencilLinesOf } from '#scene/pencilLines.ts'
import { assemble } from '#assembly/assemble.ts'
import { smallVoid, smallVoidJob } from './smallVoid.ts'

/** Where the instance puts a corner of the drawn shape. */
function placed(matrices: Float32Array, n: number, x: number, y: number, z: number): number[] {
  return [0, 1, 2].map((row) => [x, y, z, 1].reduce((sum, value, column) => sum + value * matrices[16 * n + 4 * column + row], 0))
}

describe('boxes as instances', () => {
  const assembly = smallVoid()
  const frame = frameOf(assembly)

  test('every box is drawn once and nothing else is', () => {
    const drawn = [...boxChunksOf(assembly, frame), ...boxChunksOf(assembly, frame, true)].flatMap(({ solidIndices }) => [...solidIndices]).sort((a, b) => a - b)
    const boxes = Array.from({ length: assembly.solids.count }, (_, i) => i).filter((i) => assembly.solids.kind[i] === BOX)
    expect(boxes.length).toBeGreaterThan(60)
    expect(drawn).toEqual(boxes)
  })

  test('the corners of each drawn box reach the bounds of its solid', () => {
    for (const chunk of boxChunksOf(assembly, frame)) {
      for (let n = 0; n < chunk.count; n++) {
        const corners = [-0.5, 0.5].flatMap((x) => [-0.5, 0.5].flatMap((y) => [-0.5, 0.5].map((z) => placed(chunk.matrices, n, x, y, z))))
        const six = assembly.solids.bounds.subarray(6 * chunk.solidIndices[n], 6 * chunk.solidIndices[n] + 6)
        const low = toScene(frame, six[0], six[1], six[2]), high = toScene(frame, six[3], six[4], six[5])
        for (let k = 0; k < 3; k++) {
          expect(Math.min(...corners.map((corner) => corner[k]))).toBeCloseTo(low[k], 5)
          expect(Math.max(...corners.map((corner) => corner[k]))).toBeCloseTo(high[k], 5)
        }
      }
    }
  })

  test('boxes are not turned inside out: their axes stay right-handed', () => {
    for (const form of ['box', 'plate'] as const) {
      const { matrices: m, count } = boxChunkOf(assembly, frame, form, [0, 1, 2, 3, 4, 5])
      for (let i = 0; i < count * 16; i += 16) {
        const turn = m[i] * (m[i + 5] * m[i + 10] - m[i + 6] * m[i + 9]) - m[i + 4] * (m[i + 1] * m[i + 10] - m[i + 2] * m[i + 9]) + m[i + 8] * (m[i + 1] * m[i + 6] - m[i + 2] * m[i + 5])
        expect(turn).toBeGreaterThan(0)
      }
    }
  })

  test('a sheet lies square to the thin way of its plate', () => {
    const web = Array.from({ length: assembly.solids.count }, (_, i) => i).find((i) => assembly.parts.kindOf(i) === 'web')!
    const { matrices } = boxChunkOf(assembly, frame, 'plate', [web])
    // the joists run along x, so that the thin way of a web plate is y; its 2 mm are column z of the instance
    expect(Math.abs(matrices[9])).toBeCloseTo(0.002, 6)
    expect(Math.abs(matrices[8]) + Math.abs(matrices[10])).toBeLessThan(1e-6)
  })

  test('a hundred houses stay within sixty draws, and their web plates are sheets of two triangles', () => {
    const job = smallVoidJob()
    const field = job.joistFields[0]
    const joists = Array.from({ length: 3_000 }, (_, i) => ({ ...field.joists[0], id: `J${i}` as never, webFree: [] }))
    const many = assemble({ ...job, joistFields: [{ ...field, lengthMm: 10_000, joists }], runs: [], equipment: [] })
    expect(many.solids.count).toBeGreaterThan(136_000)
    const chunks = boxChunksOf(many, frameOf(many))
    // what else is drawn: ceilings and their edges, pencil lines, shapes, runs, markers, and what is picked out
    expect(chunks.length).toBeLessThanOrEqual(60 - 14)
    expect(chunks.reduce((sum, { count }) => sum + count, 0)).toBe(many.solids.kind.filter((kind) => kind === BOX).length)
    const sheets = chunks.filter(({ form }) => form === 'plate').reduce((sum, { count }) => sum + count, 0)
    expect(sheets).toBeGreaterThan(MOST_WHOLE_PLATES)
    expect(pencilLinesOf(many, frameOf(many)).length).toBe(0)
    expect(many.solids.count).toBeGreaterThan(MOST_OUTLINED)
  })

  test('pencil lines run along the twelve edges of a box', () => {
    const lines = pencilLinesOf(assembly, frame, [0])
    const { data, offset } = assembly.solids
    const sizes = [0, 1, 2].map((k) => 2 * data[offset[0] + 3 + k] / 1_000).sort((a, b) => a - b)
    const lengths = Array.from({ length: lines.length / 6 }, (_, i) => Math.hypot(lines[6 * i + 3] - lines[6 * i], lines[6 * i + 4] - lines[6 * i + 1], lines[6 * i + 5] - lines[6 * i + 2])).sort((a, b) => a - b)
    expect(lengths).toHaveLength(12)
    lengths.forEach((length, i) => { expect(length).toBeCloseTo(sizes[Math.floor(i / 4)], 5) })
  })
})
