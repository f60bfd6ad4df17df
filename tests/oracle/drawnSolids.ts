/** Seeded random solids in the packed layout of src, for tests; sizes about `size` mm, thin, long and flat ones included. */
import { type Draw, type Vec, between, pick } from './drawnElements.ts'

type Ring = [number, number][]
type Frame = [Vec, Vec, Vec]

export const packBox = (centre: Vec, half: Vec, frame: Frame): Float64Array => Float64Array.from([...centre, ...half, ...frame.flat()])
export const packCylinder = (centre: Vec, axis: Vec, radius: number, halfLength: number): Float64Array =>
  Float64Array.from([...centre, ...axis, radius, halfLength])
export const packPrism = (origin: Vec, frame: Frame, bottom: number, top: number, rings: Ring[]): Float64Array =>
  Float64Array.from([...origin, ...frame.flat(), bottom, top, rings.length, ...rings.flatMap((ring) => [ring.length, ...ring.flat()])])

export const drawBox = (draw: Draw, centre: Vec, size: number, frame: Frame): Float64Array =>
  packBox(centre, [0, 1, 2].map(() => size * pick(draw, [1, 0.5, between(draw, 0.01, 1), 0.001, 0])) as Vec, frame)

export const drawCylinder = (draw: Draw, centre: Vec, size: number, frame: Frame): Float64Array =>
  packCylinder(centre, frame[2], size * pick(draw, [1, 0.5, between(draw, 0.01, 1), 0.001]), size * pick(draw, [1, 0.5, between(draw, 0.01, 1), 0.001, 0]))

/** Outlines about 2 x 2: a square, an L, a C, a square with a square hole, and a star of drawn radii with a small hole. */
const outlines = (draw: Draw): Ring[] => {
  const square = (r: number): Ring => [[-r, -r], [r, -r], [r, r], [-r, r]]
  return pick<() => Ring[]>(draw, [
    () => [square(1)],
    () => [[[-1, -1], [1, -1], [1, 0], [0, 0], [0, 1], [-1, 1]]],
    () => [[[-1, -1], [1, -1], [1, -0.4], [-0.2, -0.4], [-0.2, 0.4], [1, 0.4], [1, 1], [-1, 1]]],
    () => [square(1), square(0.5).reverse()],
    () => {
      const count = 3 + Math.floor(draw() * 12)
      return [
        Array.from({ length: count }, (_, i) => {
          const r = between(draw, 0.4, 1.2), turn = 2 * Math.PI * (i + between(draw, 0, 0.8)) / count
          return [r * Math.cos(turn), r * Math.sin(turn)] as [number, number]
        }),
        ...(count > 5 ? [[[0.05, 0.05], [0.05, -0.05], [-0.05, -0.05], [-0.05, 0.05]] as Ring] : []),
      ]
    },
  ])()
}
export const drawPrism = (draw: Draw, origin: Vec, size: number, frame: Frame): Float64Array => {
  const across = size * pick(draw, [1, 1, 0.2, 0.01]), bottom = -size * between(draw, 0, 1)
  return packPrism(origin, frame, bottom, bottom + size * pick(draw, [1, between(draw, 0.01, 2), 0.001, 0]), outlines(draw)
    .map((ring) => ring.map(([u, v]) => [u * across, v * size] as [number, number])))
}
