import { expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { frameOf, toSiteMm } from '#scene/frame.ts'
import { holeMouthsOf } from '#scene/holeMouths.ts'
import { smallVoidInput, smallVoidJob } from './smallVoid.ts'

test('a drilled hole shows a mouth of its own diameter on each face of the joist', () => {
  const input = smallVoidInput()
  const solid = { kind: 'solid-timber' as const, id: 'S1', name: '47 x 220', depthMm: 220, widthMm: 47 }
  const assembly = assemble(smallVoidJob({ ...input, sections: [solid], holes: [{ id: 'H1', joist: 'J2', alongMm: 975, heightMm: 100, diameterMm: 100 }] }))
  const frame = frameOf(assembly)
  const { positions, indices } = holeMouthsOf(assembly, frame)
  const points = Array.from({ length: positions.length / 3 }, (_, i) => toSiteMm(frame, positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]))
  const each = points.length / 2
  for (const [mouth, side] of [[0, -1], [1, 1]] as const) {
    const [middle, ...rim] = points.slice(mouth * each, (mouth + 1) * each)
    // joist J2 stands at y = 400 + 600, half of 47 mm to each face, and the mouth is 0.6 mm proud
    expect(Math.abs(middle[1] - 1_000)).toBeCloseTo(24.1, 2)
    expect(Math.sign(middle[1] - 1_000)).toBe(side * Math.sign(assembly.holes[0].axis[1]))
    expect(middle[0]).toBeCloseTo(975, 2)
    expect(middle[2]).toBeCloseTo(2_500, 2) // 2,400 + 100
    for (const point of rim) expect(Math.hypot(point[0] - middle[0], point[2] - middle[2])).toBeCloseTo(50, 2)
  }
  expect(indices.length).toBe(2 * 3 * (each - 1))
})
