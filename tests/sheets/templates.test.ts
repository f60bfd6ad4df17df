import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { parseJob } from '#model/parse.ts'
import { USUAL } from '#sheets/options.ts'
import { pdfOf } from '#sheets/pdfOf.ts'
import { svgOf } from '#sheets/svgOf.ts'
import { templatesOf, type Template } from '#sheets/templates/templatesOf.ts'
import { MEASURE_FIRST, OVERLAP_MM, tiledSheets, wholeTemplate } from '#sheets/templates/tiled.ts'
import { pointsOf, readSvg } from './readSvg.ts'
import { readPdf, strokeMm } from './readPdf.ts'

const read = parseJob(readFileSync(new URL('../../fixtures/good/canal-house.json', import.meta.url), 'utf8'))
if (!read.ok) throw new Error('the canal house cannot be read')
const templates = templatesOf(contextFor(assemble(read.job)), USUAL)
const unitTop = templates.find(({ title }) => title === 'Heat-recovery unit, top')!

describe('templates of the canal house', () => {
  test('are the unit\'s top, the manifolds\' faces, the plenums\' sides and both fascia holes, alike ones once', () => {
    expect(templates.map(({ id }) => id)).toEqual(expect.arrayContaining(['template-unit-top', 'template-supply-manifold-top', 'template-hole-intake-sleeve']))
    // twelve plenums of one size: few templates
    expect(templates.length).toBeLessThan(14)
    for (const { name } of read.job.equipment.filter(({ kind, spigots }) => kind === 'plenum' && spigots.length > 0)) expect(templates.some(({ title }) => title.includes(name)), name).toBe(true)
    expect(templates.map(({ title }) => title).join()).toContain('Exhaust sleeve')
  })
  test('have the unit\'s four spigots where they are: 900 x 700, the intake 330 left and 200 below the middle', () => {
    expect([unitTop.widthMm, unitTop.heightMm, unitTop.rounds.length]).toEqual([900, 700, 4])
    expect(unitTop.rounds.find(({ name }) => name === 'intake')).toMatchObject({ x: 120, y: 150, diameterMm: 160 })
  })
  test('show a side from outside: what lies to the north of the east side is on the right, and of the west side on the left', () => {
    const job = structuredClone(read.job)
    const plenum = job.equipment.find(({ kind }) => kind === 'plenum')!
    for (const [axis, right] of [[1, true], [-1, false]] as const) {
      const own = { ...plenum, id: 'only' as never, name: 'Only', spigots: [{ id: 'S' as never, at: [axis * 120, 40, 0] as [number, number, number], axis: [axis, 0, 0] as [number, number, number], diameterMm: 75, lengthMm: 5 }] }
      const made = templatesOf(contextFor(assemble({ ...job, equipment: [own], runs: [], sleeves: [] })), USUAL)
      expect(made).toHaveLength(1)
      expect(made[0].rounds[0].x).toBeCloseTo(made[0].widthMm / 2 + (right ? 40 : -40), 9)
    }
  })
})

describe.each(['a4', 'a3'] as const)('the unit\'s top on %s', (paper) => {
  const sheets = tiledSheets(unitTop, { paper })
  test('has on every page a line of 100 mm and the words to measure it, read back from the PDF', async () => {
    const { pages } = await readPdf(await pdfOf('Templates', sheets))
    expect(pages).toHaveLength(sheets.length)
    for (const page of pages) {
      expect(page.texts.map(({ text }) => text).join(' ')).toContain(`100 mm: ${MEASURE_FIRST}`)
      const foot = page.strokes.filter(([, y0, , y1]) => Math.abs(y0 - y1) < 1e-6 && y0 < 24)
      expect(foot.some((stroke) => Math.abs(strokeMm(stroke) - 100) < 0.1)).toBe(true)
    }
  })
  test('covers the whole with overlap, and each register mark of a seam is on the two pages that share it at one place of the template', () => {
    const rows = Number(/-(\d+)-\d+$/.exec(sheets.at(-1)!.id)![1]), columns = Number(/-(\d+)$/.exec(sheets.at(-1)!.id)![1])
    const { widthMm, heightMm } = sheets[0], stepX = widthMm - 20 - OVERLAP_MM, stepY = heightMm - 36 - OVERLAP_MM
    expect(columns * stepX + OVERLAP_MM).toBeGreaterThanOrEqual(900)
    expect(rows * stepY + OVERLAP_MM).toBeGreaterThanOrEqual(700)
    expect((columns - 1) * stepX + OVERLAP_MM).toBeLessThan(900)
    const places = new Map<string, number>()
    sheets.forEach(({ marks }, n) => marks.forEach((mark) => {
      if (mark.kind !== 'ellipse') return
      const key = [mark.at[0] - 10 + n % columns * stepX, mark.at[1] - 10 + Math.floor(n / columns) * stepY].map((value) => value.toFixed(4)).join(' ')
      places.set(key, (places.get(key) ?? 0) + 1)
    }))
    expect(places.size).toBe(2 * ((columns - 1) * rows + (rows - 1) * columns))
    for (const [place, count] of places) expect(count, place).toBeGreaterThanOrEqual(2)
  })
  test('has each spigot\'s circle whole, when the pages are laid together: its lengths add up to its girth, overlaps counted once', () => {
    const columns = Number(/-(\d+)$/.exec(sheets.at(-1)!.id)![1])
    const { widthMm, heightMm } = sheets[0], stepX = widthMm - 20 - OVERLAP_MM, stepY = heightMm - 36 - OVERLAP_MM
    // directions from the middle of the intake that some page draws at its radius
    const seen = new Set<number>()
    sheets.forEach(({ marks }, n) => marks.forEach((mark) => {
      if (mark.kind !== 'line' || mark.widthMm !== 0.35 || mark.dashMm !== undefined) return
      for (const [px, py] of mark.points) {
        const x = px - 10 + n % columns * stepX - 120, y = 700 - (py - 10 + Math.floor(n / columns) * stepY) - 150
        if (Math.abs(Math.hypot(x, y) - 80) < 0.05) seen.add(Math.round((Math.atan2(y, x) * 180 / Math.PI + 360) % 360 / 10) % 36)
      }
    }))
    expect([...seen].sort((a, b) => a - b)).toEqual(Array.from({ length: 36 }, (_, k) => k))
  })
})

describe('a template on a page of its own', () => {
  test('is at full size in the SVG: a hole of 231 mm to cut and 225 clear', () => {
    const hole: Template = templates.find(({ id }) => id === 'template-hole-intake-sleeve')!
    const rounds = readSvg(svgOf(wholeTemplate(hole))).filter(({ name }) => name === 'polyline').map(pointsOf).filter((points) => points.length > 20)
    const across = rounds.map((points) => Math.max(...points.map(([x]) => x)) - Math.min(...points.map(([x]) => x)))
    expect(across[0]).toBeCloseTo(231, 1)
    expect(across[1]).toBeCloseTo(225, 1)
  })
})
