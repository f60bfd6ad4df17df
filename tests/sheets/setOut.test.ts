import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { knownCrossings } from '#checks/openingUse.ts'
import { parseJob } from '#model/parse.ts'
import { PAPERS } from '#sheets/framed.ts'
import { textWidthMm } from '#sheets/letters.ts'
import { USUAL } from '#sheets/options.ts'
import { line } from '#sheets/page.ts'
import { pdfOf } from '#sheets/pdfOf.ts'
import { crossedJoists, elevationSheet } from '#sheets/setOut/elevationSheets.ts'
import { equipmentSheets } from '#sheets/setOut/equipmentSheets.ts'
import { standingOf } from '#sheets/setOut/fromWalls.ts'
import { planSheet } from '#sheets/setOut/planSheet.ts'
import { setOutTables } from '#sheets/setOut/setOutTables.ts'
import { svgOf } from '#sheets/svgOf.ts'
import { tableSheets } from '#sheets/tableSheets.ts'
import { PDFDocument, StandardFonts } from '@cantoo/pdf-lib'
import { assemblyOf, freeRun, jobOf, oneJoist, together } from '../checks/smallJob.ts'
import { pointsOf, readSvg } from './readSvg.ts'
import { readPdf, strokeMm } from './readPdf.ts'

const canal = parseJob(readFileSync(new URL('../../fixtures/good/canal-house.json', import.meta.url), 'utf8'))
if (!canal.ok) throw new Error('the canal house cannot be read')
const house = contextFor(assemble(canal.job))
const options = { ...USUAL, date: '25 November 2026', revision: 'B' }

/** one duct square through the first full opening of a joist: bottom nodes at 600 and 1200, middle of the opening at x 900 */
const crossed = contextFor(assemblyOf(together(oneJoist(), freeRun('A', [[900, -400, 110], [900, 400, 110]]))))

describe('a joist drawn for marking out', () => {
  const [sheet] = elevationSheet(crossed, options, 0)
  test('tells the crossing by its distance, its height and its spare as the checks have them', () => {
    const [crossing] = knownCrossings(crossed, 0)
    expect([crossing.x, crossing.y]).toEqual([900, 110])
    const words = sheet.marks.flatMap((mark) => mark.kind === 'text' ? [mark.text] : [])
    expect(words).toEqual(expect.arrayContaining(['900', '110', '90.0', crossing.spareMm!.toFixed(1)]))
    expect(words).toEqual(expect.arrayContaining(['0 datum end', '110 up']))
    expect(words.join('\n')).toMatch(/Datum end on the left: the west end, x 0 y 0\./)
    const [own] = knownCrossings(crossed, 0)
    expect(words).toContain(String(own.opening))
  })
  test('comes out of the PDF at true scale: the joist, the chord and the scale bar within 0.1 mm, on A4', async () => {
    const { pages: [page], title } = await readPdf(await pdfOf('Set-out', [sheet]))
    expect(title).toBe('Set-out')
    expect(page.widthMm).toBeCloseTo(297, 3)
    expect(page.heightMm).toBeCloseTo(210, 3)
    const scaleWords = page.texts.find(({ text }) => text.startsWith('Scale 1:'))!.text
    const scale = Number(/1:(\d+)/.exec(scaleWords)![1])
    expect([5, 10]).toContain(scale)
    const longest = page.strokes.filter(([, y0, , y1]) => Math.abs(y0 - y1) < 1e-6).map(strokeMm)
    // 2400 mm of chord, whole or in equal strips
    const strips = Math.round(2400 / scale / Math.max(...longest.filter((mm) => mm < 275)))
    expect(longest.some((mm) => Math.abs(mm - 2400 / scale / strips) < 0.1)).toBe(true)
    // 47 mm of chord upright
    expect(page.strokes.some((stroke) => Math.abs(stroke[0] - stroke[2]) < 1e-6 && Math.abs(strokeMm(stroke) - 47 / scale) < 0.1)).toBe(true)
    expect(page.texts.map(({ text }) => text)).toEqual(expect.arrayContaining(['Measure on site before you cut.', 'Date 25 November 2026', 'Revision B']))
  })
  test('has the circle where the duct is and as wide as it is, in the SVG', () => {
    const elements = readSvg(svgOf(sheet))
    const scale = Number(/Scale 1:(\d+)/.exec(elements.map(({ text }) => text).join('\n'))![1])
    const svg = elements.find(({ name }) => name === 'svg')!
    expect([svg.attributes['width'], svg.attributes['height'], svg.attributes['viewBox']]).toEqual(['297mm', '210mm', '0 0 297 210'])
    const round = elements.filter(({ name }) => name === 'ellipse')
    expect(round).toHaveLength(1)
    expect(Number(round[0].attributes['rx'])).toBeCloseTo(45 / scale, 3)
    const chord = elements.filter(({ name }) => name === 'polygon').map(pointsOf).find((points) => points.length === 4)!
    const bottom = Math.max(...chord.map(([, y]) => y))
    expect(Number(round[0].attributes['cy'])).toBeCloseTo(bottom - 110 / scale, 3)
  })
})

describe('the canal house on paper', () => {
  test('has an elevation for each joist that is crossed and no other, and every crossing is on one', () => {
    const joists = crossedJoists(house)
    const onSheets = joists.flatMap((joistIndex) => elevationSheet(house, options, joistIndex).flatMap(({ marks }) => marks)).filter((mark) => mark.kind === 'ellipse').length
    expect(onSheets).toBe(house.runs.reduce((sum, _, runIndex) => sum + knownCrossings(house, runIndex).length, 0))
    expect(joists.length).toBeGreaterThan(15)
  })
  test.each(['a4', 'a3'] as const)('keeps everything inside the border, on %s', (paper) => {
    const own = { ...options, paper }, [widthMm, heightMm] = PAPERS[paper]
    const sheets = [planSheet(house, own), ...elevationSheet(house, own, crossedJoists(house)[0]), ...equipmentSheets(house, own), ...setOutTables(house, own).flatMap((table) => tableSheets(canal.job, own, table))]
    expect(sheets.length).toBeGreaterThan(8)
    const astray: string[] = []
    for (const sheet of sheets) {
      expect([sheet.widthMm, sheet.heightMm]).toEqual([widthMm, heightMm])
      for (const mark of sheet.marks) {
        if (mark.kind === 'ellipse') continue
        const points = mark.kind === 'text' ? [mark.at, [mark.at[0] + (mark.align === 'start' && (mark.turnDeg ?? 0) === 0 ? textWidthMm(mark.text, mark.sizeMm, mark.isBold) : 0), mark.at[1]] as const] : mark.points
        for (const [x, y] of points) if (!(x >= 7.9 && x <= widthMm - 7.9 && y >= 7.9 && y <= heightMm - 7.9)) astray.push(`${sheet.id}: ${JSON.stringify(mark)}`)
      }
    }
    expect(astray).toEqual([])
  })
  test('shows every run and every joist by its number on the plan, and the datum', () => {
    const words = new Set(planSheet(house, options).marks.flatMap((mark) => mark.kind === 'text' ? [mark.text] : []))
    for (const { id } of canal.job.runs) expect(words).toContain(id)
    for (const { id } of house.assembly.joists) expect(words).toContain(id)
    expect(words).toContain('datum 0,0')
  })
  test('tells a centreline on the plan at true scale: run 1 from manifold to plenum', () => {
    const sheet = planSheet(house, options)
    const scale = Number(/Scale 1:(\d+)/.exec(sheet.marks.flatMap((mark) => mark.kind === 'text' ? [mark.text] : []).join('\n'))![1])
    const ways = sheet.marks.flatMap((mark) => mark.kind === 'line' && mark.ink === 'black' && mark.isRound === true ? [mark.points] : [])
    const first = ways[0][0], last = ways[0][ways[0].length - 1], { waypoints } = canal.job.runs[0]
    const [a, b] = [waypoints[0].at, waypoints[waypoints.length - 1].at]
    expect(last[0] - first[0]).toBeCloseTo((b[0] - a[0]) / scale, 6)
    expect(first[1] - last[1]).toBeCloseTo((b[1] - a[1]) / scale, 6)
  })
  test('sets the supply manifold out from two walls of the plant cupboard: 375 from the east, 160 from the south', () => {
    const table = setOutTables(house, options).find(({ id }) => id === 'positions')!
    // 320 x 1080 about x 965 y 3000; inside faces at x 1500 and y 2300
    expect(table.rows.find(([, name]) => name === 'Supply manifold')!.slice(3, 12)).toEqual(['Plant cupboard', 'east wall', 375, 535, 'south wall', 160, 700, 2000, 2200])
  })
  test('has the packer as drawn for every terminal, and a height for the middle or the reason why there is none', () => {
    const { rows } = setOutTables(house, options).find(({ id }) => id === 'packers')!
    expect(rows).toHaveLength(canal.job.equipment.filter(({ kind }) => kind === 'plenum').length)
    for (const [id, , drawnMm, , levelMm, , , , remark] of rows) {
      const { centre, sizeMm } = canal.job.equipment.find((each) => each.id === id)!
      // none of the canal house's terminals is tilted
      expect(drawnMm as number + (levelMm as number)).toBeCloseTo(centre[2] - sizeMm[2] / 2, 6)
      expect(remark).not.toBe('')
    }
  })
  test('has the two fascia holes with centre, clear diameter and what to cut', () => {
    const { rows } = setOutTables(house, options).find(({ id }) => id === 'holes')!
    expect(rows.map((row) => row.slice(0, 1).concat(row.slice(2, 8)))).toEqual([
      ['Intake sleeve', -140, 2600, 2567, 225, 231, 'towards +x'], ['Exhaust sleeve', -140, 5400, 2567, 225, 231, 'towards +x'],
    ])
  })
})

describe('standing in a room that is not square', () => {
  test('measures square from walls that face the body and are not in line, by hand: 3-4-5', () => {
    const job = jobOf({ rooms: [{ id: 'r', name: 'Attic', outline: [[0, 0], [4000, 0], [4000, 3000]] }] })
    const { walls } = standingOf(job, [[3100, 1100], [3300, 1100], [3300, 1300], [3100, 1300]], [3200, 1200])
    // the slope runs from 0,0 to 4000,3000: its distance from x, y is (3x - 4y) / 5; to the south it is 1200, further than both
    expect(walls.map(({ name }) => name)).toEqual(['east wall', 'north-west wall'])
    expect([walls[0].middleMm, walls[0].sideMm]).toEqual([800, 700])
    expect(walls[1].middleMm).toBeCloseTo((3 * 3200 - 4 * 1200) / 5, 6)
    expect(walls[1].sideMm).toBeCloseTo((3 * 3100 - 4 * 1300) / 5, 6)
  })
})

describe('widths of letters', () => {
  test('are those of the printed font, never less', async () => {
    const document = await PDFDocument.create()
    const fonts = [await document.embedFont(StandardFonts.Helvetica), await document.embedFont(StandardFonts.HelveticaBold)]
    for (const words of ['Measure on site before you cut.', 'R12 {x} ~|@ 0123456789', 'WiMlj çéß']) {
      expect(textWidthMm(words, 10)).toBeGreaterThanOrEqual(fonts[0].widthOfTextAtSize(words, 10) - 1e-6)
      expect(textWidthMm(words, 10, true)).toBeGreaterThanOrEqual(fonts[1].widthOfTextAtSize(words, 10) * 0.999)
    }
    expect(textWidthMm('Measure', 10)).toBeCloseTo(fonts[0].widthOfTextAtSize('Measure', 10), 6)
  })
})

describe('a sheet with more on it than fits one call', () => {
  test('is written whole: 40,000 lines of an estate', async () => {
    const bytes = await pdfOf('Estate', [{ id: 'big', title: 'Big', widthMm: 420, heightMm: 297, marks: Array.from({ length: 40_000 }, (_, i) => line([[i % 400, 10], [i % 400, 20]])) }])
    const { pages } = await readPdf(bytes)
    expect(pages[0].strokes).toHaveLength(40_000)
  })
})
