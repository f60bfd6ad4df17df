import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import type { PlacedJoist } from '#assembly/assembly.ts'
import { contextFor } from '#checks/context.ts'
import { knownCrossings } from '#checks/openingUse.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { parseJob } from '#model/parse.ts'
import { USUAL } from '#sheets/options.ts'
import { setOutTables } from '#sheets/setOut/setOutTables.ts'

const canal = parseJob(readFileSync(new URL('../../fixtures/good/canal-house.json', import.meta.url), 'utf8'))
if (!canal.ok) throw new Error('the canal house cannot be read')
const house = contextFor(assemble(canal.job))

type Vec = [number, number, number]

/** Signed distance of a point to a box, from its centre, half sizes and three axes alone. */
function toBox(box: Float64Array, [x, y, z]: Vec): number {
  let outside = 0, inside = -Infinity
  for (let k = 0; k < 3; k++) {
    const a = 6 + 3 * k, over = Math.abs((x - box[0]) * box[a] + (y - box[1]) * box[a + 1] + (z - box[2]) * box[a + 2]) - box[3 + k]
    if (over > 0) outside += over * over
    inside = Math.max(inside, over)
  }
  return outside > 0 ? Math.sqrt(outside) : inside
}

/** The duct walked in steps of 1 mm while any of it can be within the joist's thickness, then each member's nearest place closed in on by thirds. */
function walked(runIndex: number, joist: PlacedJoist, stationMm: number): number {
  const { centreline, outerRadiusMm } = house.runs[runIndex].placed, { section } = joist
  if (section.kind !== 'open-web') throw new Error('the canal house has open-web joists only')
  const reachMm = section.chordWidthMm / 2 + section.webThicknessMm + outerRadiusMm
  const at = (station: number): Vec => {
    const point: Vec = [0, 0, 0]
    pointAt(centreline, Math.min(Math.max(station, 0), centreline.lengthMm), point)
    return point
  }
  const isNear = (station: number): boolean => {
    const [x, y] = at(station)
    return station >= 0 && station <= centreline.lengthMm && Math.abs((x - joist.origin[0]) * joist.across[0] + (y - joist.origin[1]) * joist.across[1]) <= reachMm
  }
  let low = stationMm, high = stationMm
  while (isNear(low - 1)) low -= 1
  while (isNear(high + 1)) high += 1
  const steps = Array.from({ length: Math.round(high - low) + 1 }, (_, k) => ({ station: low + k, point: at(low + k) }))
  let least = Infinity
  for (let i = joist.firstSolid; i < joist.endSolid; i++) {
    const from = house.assembly.solids.offset[i], box = house.assembly.solids.data.subarray(from, from + 15)
    let best = Infinity, where = low
    for (const { station, point } of steps) {
      const mm = toBox(box, point)
      if (mm < best) [best, where] = [mm, station]
    }
    if (best > least + 1) continue
    let a = where - 1, b = where + 1
    for (let k = 0; k < 40; k++) {
      const p = a + (b - a) / 3, q = b - (b - a) / 3
      if (toBox(box, at(p)) < toBox(box, at(q))) b = q
      else a = p
    }
    least = Math.min(least, best, toBox(box, at((a + b) / 2)))
  }
  return least - outerRadiusMm
}

test('every spare on the schedule of crossings is the least the duct has from the joist\'s members, bends and all', () => {
  const { rows } = setOutTables(house, USUAL).find(({ id }) => id === 'crossings')!
  const told = new Map(rows.map((row) => [`${row[0]} ${row[1]} ${(row[2] as number).toFixed(3)}`, row[8] as number]))
  const wrong: string[] = []
  let count = 0
  house.runs.forEach(({ placed: { run } }, runIndex) => {
    for (const { joistIndex, stationMm, x, opening } of knownCrossings(house, runIndex)) {
      if (opening === null) continue
      const joist = house.assembly.joists[joistIndex], spare = told.get(`${joist.id} ${run.id} ${x.toFixed(3)}`)!, own = walked(runIndex, joist, stationMm)
      count++
      // the walk ends up to 1 mm short of where the duct leaves the joist
      if (!(Math.abs(spare - own) < 0.02)) wrong.push(`${joist.id} ${run.id}: told ${spare}, walked ${own}`)
    }
  })
  expect(wrong).toEqual([])
  expect(count).toBeGreaterThan(60)
  const spareOf = (joist: string, run: string): number => rows.find((row) => row[0] === joist && row[1] === run)![8] as number
  // as the clash check measures them; a straight duct along the tangent would have 1.0 and 9.2
  expect([spareOf('J12', 'R18'), spareOf('J5', 'R5')]).toEqual([expect.closeTo(4.6, 1), expect.closeTo(5.6, 1)])
})
