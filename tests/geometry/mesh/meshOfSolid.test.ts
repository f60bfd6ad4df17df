import { describe, expect, test } from 'vitest'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { meshOfSolid, type MeshOptions } from '#geometry/mesh/meshOfSolid.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { distanceToSolid } from '#geometry/solid/inside.ts'
import { measureSolid } from '#geometry/solid/measure.ts'
import { UPRIGHT, axesOfRotation } from '#geometry/solid/rotation.ts'
import { axes, between, seeded } from '../../oracle/drawnElements.ts'

const SEED = 61
/** Positions are floats of 24 bits: at 3 m a unit in the last place is 0.00024 mm. */
const FLOAT_MM = 5e-4

/** Corners joined by position, so that an edge belongs to the triangles on both its sides. */
const joined = ({ positions, indices }: ReturnType<typeof meshOfSolid>) => {
  const names = new Map<string, number>()
  const corner = Array.from({ length: positions.length / 3 }, (_, i) => {
    const key = `${positions[3 * i]} ${positions[3 * i + 1]} ${positions[3 * i + 2]}`
    if (!names.has(key)) names.set(key, names.size)
    return names.get(key)!
  })
  return Array.from(indices, (i) => corner[i])
}
/** How often each directed edge occurs less its reverse: none left over in a closed surface whose triangles agree which way is out. */
const openEdges = (mesh: ReturnType<typeof meshOfSolid>) => {
  const corners = joined(mesh), balance = new Map<string, number>()
  for (let t = 0; t < corners.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = corners[t + k], b = corners[t + (k + 1) % 3]
      if (a === b) continue
      const key = a < b ? `${a} ${b}` : `${b} ${a}`
      balance.set(key, (balance.get(key) ?? 0) + (a < b ? 1 : -1))
    }
  }
  return [...balance.values()].filter((n) => n !== 0).length
}
const volumeAndArea = ({ positions: p, indices }: ReturnType<typeof meshOfSolid>) => {
  let volume = 0, area = 0
  const [ox, oy, oz] = p
  for (let t = 0; t < indices.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => [p[3 * indices[t + k]] - ox, p[3 * indices[t + k] + 1] - oy, p[3 * indices[t + k] + 2] - oz])
    volume += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])) / 6
    const u = b.map((x, k) => x - a[k]), v = c.map((x, k) => x - a[k])
    area += Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2
  }
  return { volume, area }
}
/** Normals are unit and on the outer side of each of their triangles. */
const wrongNormals = ({ positions: p, normals: n, indices }: ReturnType<typeof meshOfSolid>) => {
  let wrong = 0
  for (let t = 0; t < indices.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => Array.from(p.subarray(3 * indices[t + k], 3 * indices[t + k] + 3)))
    const u = b.map((x, k) => x - a[k]), v = c.map((x, k) => x - a[k])
    const face = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
    if (Math.hypot(...face) < 1e-2) continue
    for (let k = 0; k < 3; k++) {
      const normal = n.subarray(3 * indices[t + k], 3 * indices[t + k] + 3)
      if (Math.abs(Math.hypot(...normal) - 1) > 1e-6 || normal.reduce((sum, x, i) => sum + x * face[i], 0) <= 0) wrong++
    }
  }
  return wrong
}

const bentRun = centrelineThrough([0, 0, 0, 1000, 0, 0, 1000, 800, 0, 400, 800, 600], [0, 180, 150, 0]).centreline
const shapes: [string, (b: SolidSetBuilder) => unknown, MeshOptions][] = [
  ['a web plate', (b) => b.addBox([100, 200, 300], [1, 20, 150], axesOfRotation(30, 40, 50)), {}],
  ['an L-shaped zone', (b) => b.addPrism([0, 0, 50], axesOfRotation(0, 0, 30), -10, 300, [[0, 0, 900, 0, 900, 300, 300, 300, 300, 800, 0, 800]]), {}],
  ['a slab with two holes', (b) => b.addPrism([0, 0, 0], UPRIGHT, 0, 200, [[0, 0, 1000, 0, 1000, 600, 0, 600], [100, 100, 300, 100, 300, 200, 100, 200], [500, 300, 700, 300, 600, 450]]), {}],
  ['a soil stack', (b) => b.addCylinder([10, 20, 30], [0, 0, 1], 55, 700), { chordErrorMm: 0.2 }],
  ['a slanting hood', (b) => b.addCylinder([10, 20, 30], axesOfRotation(20, 30, 40).slice(0, 3), 80, 60), { chordErrorMm: 0.2 }],
  ['a bent run with round ends', (b) => b.addTube(bentRun, 45), { chordErrorMm: 0.2 }],
  ['a bent run cut flat', (b) => b.addTube(bentRun, 45), { chordErrorMm: 0.2, tubeEnds: 'flat' }],
  ['a run with sharp corners', (b) => b.addTube(centrelineThrough([0, 0, 0, 500, 0, 0, 500, 400, 0, 200, 100, 300], [0, 0, 0, 0]).centreline, 45), { chordErrorMm: 0.2 }],
  ['a run that turns straight back', (b) => b.addTube(centrelineThrough([0, 0, 0, 500, 0, 0, 200, 0, 0], [0, 0, 0]).centreline, 45), { chordErrorMm: 0.2 }],
  ['a run of no length: a ball', (b) => b.addTube(centrelineThrough([5, 6, 7], [0]).centreline, 45), { chordErrorMm: 0.2 }],
]

describe.each(shapes)('%s', (_, add, options) => {
  const builder = new SolidSetBuilder()
  add(builder)
  const set = builder.build(), mesh = meshOfSolid(set, 0, options)

  test('is watertight and faces outward', () => {
    expect(mesh.indices.length).toBeGreaterThan(0)
    expect(openEdges(mesh)).toBe(0)
    expect(volumeAndArea(mesh).volume).toBeGreaterThan(0)
  })

  test('has the volume of the solid, within what its facets cut off', () => {
    const { volumeMm3, areaMm2, endsVolumeMm3, endsAreaMm2 } = measureSolid(set, 0)
    const round = options.tubeEnds !== 'flat'
    const volume = volumeMm3 + (round ? endsVolumeMm3 : 0), area = areaMm2 + (round ? endsAreaMm2 : 0)
    // facets lie inside a convex surface, outside on the inner side of a bend; never by more than the chord error
    const allowed = area * ((options.chordErrorMm ?? 0) + FLOAT_MM)
    expect(Math.abs(volumeAndArea(mesh).volume - volume)).toBeLessThan(allowed)
  })

})

/** Where a run turns a sharp corner, the inner side of the turn is strung through the run itself. */
const isStrungThrough = (name: string) => /sharp|back/.test(name)

// a flat end is cut across the solid, whose own end is round
describe.each(shapes.filter(([, , options]) => options.tubeEnds !== 'flat'))('%s', (name, add, options) => {
  test('lies within its chord error of the surface, at corners and in the middle of every triangle', () => {
    const builder = new SolidSetBuilder()
    add(builder)
    const set = builder.build()
    const { positions: p, indices } = meshOfSolid(set, 0, options), out = [0, 0, 0]
    let corners = -Infinity, lowest = Infinity, highest = -Infinity
    for (let i = 0; i < p.length; i += 3) corners = Math.max(corners, distanceToSolid(set, 0, p[i], p[i + 1], p[i + 2], out))
    for (let t = 0; t < indices.length; t += 3) {
      const middle = [0, 1, 2].map((k) => (p[3 * indices[t] + k] + p[3 * indices[t + 1] + k] + p[3 * indices[t + 2] + k]) / 3)
      const distance = distanceToSolid(set, 0, middle[0], middle[1], middle[2], out)
      lowest = Math.min(lowest, distance)
      highest = Math.max(highest, distance)
    }
    const allowed = (options.chordErrorMm ?? 0) + FLOAT_MM
    expect(corners).toBeLessThan(FLOAT_MM)
    expect(highest).toBeLessThan(allowed)
    if (!isStrungThrough(name)) expect(lowest).toBeGreaterThan(-allowed)
  })

})

test.each(shapes.filter(([name]) => !isStrungThrough(name)))('%s has normals that point outward', (_, add, options) => {
  const builder = new SolidSetBuilder()
  add(builder)
  expect(wrongNormals(meshOfSolid(builder.build(), 0, options))).toBe(0)
})

test('half the chord error takes more triangles; the facets\' loss of volume shrinks with it', () => {
  const builder = new SolidSetBuilder()
  builder.addTube(bentRun, 45)
  const set = builder.build(), { volumeMm3, endsVolumeMm3 } = measureSolid(set, 0)
  const losses = [2, 1, 0.5, 0.1, 0.02].map((chordErrorMm) => volumeMm3 + endsVolumeMm3 - volumeAndArea(meshOfSolid(set, 0, { chordErrorMm })).volume)
  losses.forEach((loss, i) => {
    expect(loss).toBeGreaterThan(0)
    if (i > 0) expect(loss).toBeLessThan(losses[i - 1])
  })
  expect(losses[4]).toBeLessThan(volumeMm3 * 1e-3)
})

test(`drawn runs and boxes anywhere are watertight (seed ${SEED})`, () => {
  const draw = seeded(SEED)
  for (let i = 0; i < 40; i++) {
    const builder = new SolidSetBuilder()
    builder.addTube(centrelineThrough(Array.from({ length: 15 }, () => between(draw, -3000, 3000)), [0, 180, 0, 90, 0]).centreline, between(draw, 20, 90))
    builder.addBox([between(draw, -3000, 3000), 0, 0], [between(draw, 1, 500), 20, 50], axes(draw).flat())
    const set = builder.build()
    expect(openEdges(meshOfSolid(set, 0))).toBe(0)
    expect(openEdges(meshOfSolid(set, 1))).toBe(0)
  }
})
