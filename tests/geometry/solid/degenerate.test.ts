import { expect, test } from 'vitest'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { whyDegenerate } from '#geometry/solid/degenerate.ts'
import { UPRIGHT, axesOfRotation } from '#geometry/solid/rotation.ts'

const square = [0, 0, 100, 0, 100, 100, 0, 100]
const bend = centrelineThrough([0, 0, 0, 500, 0, 0, 500, 600, 0], [0, 100, 0]).centreline
const nowhere = centrelineThrough([1, 1, 1], [0]).centreline
const prism = (...rings: number[][]) => (b: SolidSetBuilder) => b.addPrism([0, 0, 0], UPRIGHT, 0, 10, rings)

test.each<[string, (b: SolidSetBuilder) => unknown, RegExp | null]>([
  ['a web plate', (b) => b.addBox([0, 0, 0], [1, 20, 150], axesOfRotation(10, 20, 30)), null],
  ['a plate of no thickness', (b) => b.addBox([0, 0, 0], [0, 20, 150], UPRIGHT), /0 mm thick/],
  ['a box of negative size', (b) => b.addBox([0, 0, 0], [5, -20, 150], UPRIGHT), /negative size/],
  ['a box nowhere', (b) => b.addBox([0, NaN, 0], [5, 20, 150], UPRIGHT), /not a number/],
  ['an endless box', (b) => b.addBox([0, 0, 0], [5, Infinity, 150], UPRIGHT), /not a number/],
  ['a box on axes that are too long', (b) => b.addBox([0, 0, 0], [5, 5, 5], [2, 0, 0, 0, 1, 0, 0, 0, 1]), /not of length 1/],
  ['a box on mirrored axes', (b) => b.addBox([0, 0, 0], [5, 5, 5], [1, 0, 0, 0, 1, 0, 0, 0, -1]), /right-handed/],
  ['a box on skew axes', (b) => b.addBox([0, 0, 0], [5, 5, 5], [1, 0, 0, Math.SQRT1_2, Math.SQRT1_2, 0, 0, 0, 1]), /square/],
  ['a zone', prism(square), null],
  ['a zone with a hole', prism(square, [20, 20, 80, 20, 50, 70]), null],
  ['a zone with two holes', prism(square, [20, 20, 40, 20, 30, 40], [60, 60, 80, 60, 70, 80]), null],
  ['a zone of no height', (b) => b.addPrism([0, 0, 0], UPRIGHT, 10, 10, [square]), /0 mm high/],
  ['a zone upside down', (b) => b.addPrism([0, 0, 0], UPRIGHT, 10, 0, [square]), /top below its bottom/],
  ['a zone without an outline', prism(), /no outline/],
  ['two corners', prism([0, 0, 100, 0]), /fewer than three/],
  ['all corners in one line', prism([0, 0, 50, 0, 100, 0, 200, 0]), /crosses or touches itself/],
  ['three corners in one line', prism([0, 0, 100, 0, 30, 0]), /no area/],
  ['a whisker on a zone', prism([0, 0, 100, 0, 100, 100, 100, 140, 100, 100.5, 0, 100]), /crosses or touches itself/],
  ['a bow tie', prism([0, 0, 100, 100, 100, 0, 0, 100]), /crosses or touches itself/],
  ['an outline that runs back along itself', prism([0, 0, 100, 0, 50, 0, 50, 80]), /crosses or touches itself/],
  ['an outline that touches its own side', prism([0, 0, 100, 0, 100, 100, 50, 0, 0, 100]), /crosses or touches itself/],
  ['a hole outside', prism(square, [200, 200, 220, 200, 210, 220]), /hole 1 is not inside/],
  ['a hole across the outline', prism(square, [50, 50, 150, 50, 100, 80]), /hole 1 is not inside/],
  ['holes that overlap', prism(square, [20, 20, 60, 20, 40, 60], [50, 30, 80, 30, 60, 50]), /holes 1 and 2 overlap/],
  ['a hole in a hole', prism(square, [40, 40, 50, 40, 45, 50], [10, 10, 90, 10, 90, 90, 10, 90]), /holes 1 and 2 overlap/],
  ['a soil stack', (b) => b.addCylinder([0, 0, 0], [0, 0, 1], 55, 1200), null],
  ['a stack of no radius', (b) => b.addCylinder([0, 0, 0], [0, 0, 1], 0, 1200), /radius of 0 mm/],
  ['a stack of no length', (b) => b.addCylinder([0, 0, 0], [0, 0, 1], 55, 0), /0 mm long/],
  ['a stack without direction', (b) => b.addCylinder([0, 0, 0], [0, 0, 0], 55, 100), /not of length 1/],
  ['a run', (b) => b.addTube(bend, 45), null],
  ['a run as thick as its bend is tight', (b) => b.addTube(bend, 100), null],
  ['a run that folds into itself', (b) => b.addTube(bend, 101), /folds into itself: its radius 101 mm is more than its bend radius 100 mm/],
  ['a run of no radius', (b) => b.addTube(bend, 0), /radius of 0 mm/],
  ['a run of no length', (b) => b.addTube(nowhere, 45), /0 mm long/],
])('%s', (_, add, why) => {
  const builder = new SolidSetBuilder()
  add(builder)
  const told = whyDegenerate(builder.build(), 0)
  if (why === null) expect(told).toBeNull()
  else expect(told).toMatch(why)
})
