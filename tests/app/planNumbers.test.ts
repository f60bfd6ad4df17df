import { expect, test } from 'vitest'
import { numbersWithRoom } from '#app/plan/RunPoints.tsx'

test('of points too close together in plan the first is numbered, and the one that is held always', () => {
  const places: [number, number][] = [[0, 0], [10, 5], [40, 0], [45, 40], [60, 60]]
  expect(numbersWithRoom(places)).toEqual([true, false, true, true, false])
  expect(numbersWithRoom(places, 1)).toEqual([false, true, true, true, false])
})
