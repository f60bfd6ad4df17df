import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { knownCrossings } from '#checks/openingUse.ts'
import { parseJob } from '#model/parse.ts'
import { pullingOrder } from '#routing/pullingOrder.ts'
import { csvOf } from '#sheets/csvOf.ts'
import { bookletsOf } from '#sheets/index.ts'
import { USUAL } from '#sheets/options.ts'
import { cellWords, decimalsOf } from '#sheets/table.ts'
import { tableSheets } from '#sheets/tableSheets.ts'

const canal = parseJob(readFileSync(new URL('../../fixtures/good/canal-house.json', import.meta.url), 'utf8'))
if (!canal.ok) throw new Error('the canal house cannot be read')
const house = contextFor(assemble(canal.job))
const tables = new Map(bookletsOf(house, USUAL).flatMap((booklet) => booklet.tables.map((table) => [table.id, table])))

test.each(['a4', 'a3'] as const)('no figure and no word of a heading is broken over two lines of a schedule, on %s', (paper) => {
  const broken: string[] = []
  for (const table of tables.values()) {
    const lines = tableSheets(canal.job, { ...USUAL, paper }, table).flatMap(({ marks }) => marks.flatMap((mark) => mark.kind === 'text' ? [mark.text] : []))
    const printed = new Set(lines.flatMap((line) => line.split(' ')))
    const cells = table.rows.flatMap((row) => row.flatMap((cell, c) => typeof cell === 'number' ? [cellWords(cell, decimalsOf(table.columns[c]))] : []))
    for (const word of [...table.columns.flatMap(({ name }) => name.split(' ')), ...cells]) if (!printed.has(word)) broken.push(`${table.id}: ${word}`)
  }
  expect(broken).toEqual([])
  expect(tables.size).toBe(11)
})

test('a run of several rigid pieces has them side by side on paper, and no sum to cut in the file', () => {
  const table = tables.get('cut-lengths')!, cut = table.columns.findIndex(({ name }) => name === 'Cut mm')
  expect(table.rows.find(([id]) => id === 'R20')![cut]).toBe('550 + 100')
  const line = csvOf(table).split('\r\n').find((each) => each.startsWith('"R20"'))!
  expect(line).toMatch(/,50,0,,,"2 pieces: see rigid pieces"$/)
  expect(tables.get('pulling')!.fileRows!.find(([, id]) => id === 'R20')![5]).toBeNull()
})

test('the pulling sheet has the joists in the order in which the duct meets them', () => {
  const { rows } = tables.get('pulling')!, { joists } = house.assembly
  let fromFarEnd = 0
  for (const { place, runIndex, ends } of pullingOrder(house).steps) {
    const own = knownCrossings(house, runIndex).map(({ joistIndex }) => joists[joistIndex].id)
    const isFar = ends.length > 0 && ends[0].verdict === 'free' && ends[0].end === 'to'
    if (isFar && own.length > 1) fromFarEnd++
    const row = rows.find((each) => each[0] === place)!
    expect(row[1]).toBe(house.runs[runIndex].placed.run.id)
    expect((row[7] as string).split(', ').map((each) => each.split(' ')[0]).filter((each) => each !== '')).toEqual(isFar ? own.reverse() : own)
  }
  expect(fromFarEnd).toBeGreaterThan(0)
})

test('the packer to cut is the one drawn; another height is offered only where one height suits and nothing is in its way', () => {
  const row = new Map(tables.get('packers')!.rows.map((each) => [each[0], each]))
  expect([row.get('P1')![2], row.get('P1')![5], row.get('P1')![8]]).toEqual([expect.closeTo(10, 6), expect.closeTo(41, 0), 'only after the run is laid again and checked'])
  expect([row.get('P3')![5], row.get('P3')![8]]).toEqual([null, 'S1 and S2 want different heights'])
  expect([row.get('P4')![5], row.get('P4')![8]]).toEqual([null, expect.stringMatching(/^at the height for the middle it would stand in the duct of Run 7/)])
})
