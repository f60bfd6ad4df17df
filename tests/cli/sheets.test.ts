import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Papa from 'papaparse'
import { afterAll, describe, expect, test } from 'vitest'
import { formatJob } from '#model/index.ts'
import { hostileJob } from '../sheets/hostileJob.ts'
import { readPdf } from '../sheets/readPdf.ts'
import { readSvg } from '../sheets/readSvg.ts'
import { said } from './said.ts'

const folder = mkdtempSync(join(tmpdir(), 'joistway-sheets-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('joistway sheets', () => {
  test('writes three PDFs, the drawings and the schedules of a job, with paper, date and revision', async () => {
    const out = join(folder, 'new', 'mill')
    const { code, out: words } = await said(['sheets', 'fixtures/good/mill-on-two-levels.json', '--out', out, '--paper', 'a3', '--date', '1 May 2031', '--revision', 'C', '--json'])
    expect(code).toBe(0)
    const { files } = JSON.parse(words) as { files: string[] }
    expect(readdirSync(out).sort()).toEqual([...files].sort())
    expect(files).toEqual(expect.arrayContaining(['set-out.pdf', 'cut-list.pdf', 'pulling.pdf', 'plan.svg', 'cut-lengths.csv', 'crossings.csv', 'pulling.csv']))
    const { pages } = await readPdf(readFileSync(join(out, 'pulling.pdf')))
    expect(pages[0].widthMm).toBeCloseTo(420, 3)
    expect(pages[0].texts.map(({ text }) => text).join(' ')).toMatch(/Date 1 May 2031 +Revision C/)
  })
  test('a job whose names are scripts, formulas and ways out of the folder leaves nothing outside it and nothing that runs', async () => {
    const out = join(folder, 'inner', 'hostile')
    const { code } = await said(['sheets', '-', '--out', out], formatJob(hostileJob()))
    expect(code).toBe(0)
    expect(readdirSync(join(folder, 'inner'))).toEqual(['hostile'])
    const printed = (await readPdf(readFileSync(join(out, 'set-out.pdf')))).pages.flatMap(({ texts }) => texts.map(({ text }) => text)).join('\n')
    expect(printed).toContain('<script>document.title=\'hit\'</script>')
    for (const name of readdirSync(out)) {
      expect(name).toMatch(/^[a-z0-9][a-z0-9-]*\.(?:pdf|svg|csv|html|glb|ifc)$/)
      const text = readFileSync(join(out, name), 'utf8')
      if (name.endsWith('.svg')) {
        for (const { name: element, attributes } of readSvg(text)) {
          expect(['?xml', 'svg', 'title', 'rect', 'polyline', 'polygon', 'ellipse', 'text']).toContain(element)
          for (const key of Object.keys(attributes)) expect(key).not.toMatch(/^on|href/)
        }
      }
      if (name.endsWith('.csv')) {
        for (const row of Papa.parse<string[]>(text.slice(1), { delimiter: ',', skipEmptyLines: true }).data) {
          for (const cell of row) expect(/^\s*[=+\-@|]/.test(cell) && !Number.isFinite(Number(cell)), cell).toBe(false)
        }
      }
      if (name.endsWith('.pdf')) expect(readFileSync(join(out, name), 'latin1')).not.toMatch(/\/JavaScript|\/JS\b|\/OpenAction|\/URI/)
    }
  })
  test('--since an older version tells which run moved, by how much, and which sheets to print again', async () => {
    const older = JSON.parse(readFileSync('fixtures/good/mill-on-two-levels.json', 'utf8')) as { runs: { name: string, waypoints: { at: number[] }[] }[] }
    const middle = older.runs[0].waypoints[1]
    middle.at[2] += 7
    const { code, out } = await said(['sheets', 'fixtures/good/mill-on-two-levels.json', '--out', join(folder, 'since'), '--since', '-'], JSON.stringify(older))
    expect(code).toBe(0)
    expect(out).toMatch(new RegExp(`${older.runs[0].name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}: moved [4567]\\.\\d mm`))
    expect(out).toMatch(/Other than in the older version: 1 runs, 0 other things\.[\s\S]*Sheets to print again: .*Where ducts cross joists\./)
    expect(readdirSync(join(folder, 'since'))).toEqual(expect.arrayContaining(['changes.pdf', 'moved-runs.csv', 'print-again.csv']))
  })
  test.each<[string[], RegExp]>([
    [['sheets', 'fixtures/good/mill-on-two-levels.json', '--out', 'x', '--since', 'fixtures/none.json'], /no such file/],
    [['sheets', 'fixtures/good/mill-on-two-levels.json'], /name the folder to write into with --out/],
    [['sheets', 'fixtures/good/mill-on-two-levels.json', '--out', 'x', '--paper', 'a5'], /--paper takes a4 or a3; it was given 'a5'/],
    [['sheets', 'fixtures/good/mill-on-two-levels.json', '--out', 'x', '--stock', '2'], /--stock takes a number of millimetres/],
    [['sheets', 'fixtures/none.json', '--out', 'x'], /no such file/],
    [['sheets', 'fixtures/good/mill-on-two-levels.json', '--out', 'package.json'], /cannot be written into .* name another folder/],
  ])('%j is refused in words', async (argv, words) => {
    const { code, err } = await said(argv)
    expect(code).toBe(2)
    expect(err).toMatch(words)
    expect(existsSync('x')).toBe(false)
  })
  test.skipIf(process.platform === 'win32')('does not write through a link that waits in the folder', async () => {
    const out = join(folder, 'links')
    expect((await said(['sheets', 'fixtures/good/mill-on-two-levels.json', '--out', out])).code).toBe(0)
    rmSync(join(out, 'holes.csv'))
    symlinkSync(join(folder, 'elsewhere.csv'), join(out, 'holes.csv'))
    const { code, err } = await said(['sheets', 'fixtures/good/mill-on-two-levels.json', '--out', out])
    expect(code).toBe(2)
    expect(err).toMatch(/is a link/)
    expect(existsSync(join(folder, 'elsewhere.csv'))).toBe(false)
  })
})
