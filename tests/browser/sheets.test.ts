/** The place where a job becomes paper and files, as a person uses it. */
import { readFileSync } from 'node:fs'
import { validateBytes } from 'gltf-validator'
import Papa from 'papaparse'
import type { Browser, BrowserContext, Download, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { ifcOf } from '#sheets/ifc/ifcOf.ts'
import { formatJob } from '#model/index.ts'
import { jobOf } from '../checks/smallJob.ts'
import { HARM, hostileJob } from '../sheets/hostileJob.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { readPdf } from '../sheets/readPdf.ts'
import { readSvg } from '../sheets/readSvg.ts'
import { complaints } from './axe.ts'
import { drawn, openView, openedJob, rest } from './page.ts'
import './workbench.ts'

const MILL = readFileSync(new URL('../../fixtures/good/mill-on-two-levels.json', import.meta.url), 'utf8')

let browser: Browser, context: BrowserContext, page: Page, url: string
const faults: string[] = []
beforeAll(async () => {
  ({ url } = await startApp())
  browser = await openBrowser()
  context = await browser.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true })
  context.setDefaultTimeout(60_000)
  page = await context.newPage()
  page.on('pageerror', (error) => faults.push(error.message))
  page.on('console', (message) => { if (message.type() === 'error') faults.push(message.text()) })
  await openView(page, url)
  await page.setInputFiles('input[type=file]', { name: 'mill.json', mimeType: 'application/json', buffer: Buffer.from(MILL) })
  await openedJob(page, 'mill.json')
  await page.getByRole('button', { name: 'Sheets', exact: true }).click()
  await page.waitForSelector('[data-sheet="plan"]')
})
afterAll(async () => { await browser?.close() })

async function downloaded(press: () => Promise<void>): Promise<{ name: string, bytes: Uint8Array }> {
  const [download] = await Promise.all([page.waitForEvent('download'), press()]) as [Download, void]
  return { name: download.suggestedFilename(), bytes: new Uint8Array(readFileSync(await download.path())) }
}
const part = (name: string) => page.getByRole('region', { name, exact: true })

describe('the sheets of the mill', () => {
  test('are shown as they will be printed, one picked by its name after another', async () => {
    await part('Set-out').getByRole('button', { name: /Elevation of/ }).first().click()
    await page.waitForSelector('[data-sheet^="joist-"]')
    const box = await page.locator('.sheet-paper img').boundingBox()
    expect(box!.width / box!.height).toBeCloseTo(297 / 210, 1)
    expect(await page.locator('.sheet-paper img').evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(500)
  })
  test('come as a PDF on the paper, with the date and the revision that were asked for', async () => {
    await page.getByLabel('Paper').selectOption('a3')
    await page.getByLabel('Date').fill('1 May 2031')
    await page.getByLabel('Revision').fill('C')
    const { name, bytes } = await downloaded(() => part('Pulling sheet').getByRole('button', { name: 'All as PDF' }).click())
    expect(name).toBe('mill-on-two-levels-pulling-sheet.pdf')
    const { pages } = await readPdf(bytes)
    expect(pages[0].widthMm).toBeCloseTo(420, 2)
    expect(pages[0].texts.map(({ text }) => text).join(' ')).toMatch(/Date 1 May 2031 +Revision C/)
  })
  test('come as SVG one by one and as CSV for a spreadsheet', async () => {
    await page.waitForFunction(() => document.querySelector<HTMLImageElement>('.sheet-paper img')?.style.aspectRatio.startsWith('420'))
    const svg = await downloaded(() => part('Set-out').getByRole('button', { name: 'This sheet as SVG' }).click())
    expect(readSvg(new TextDecoder().decode(svg.bytes)).find(({ name }) => name === 'svg')!.attributes['width']).toBe('420mm')
    await part('Cut list').getByText('For a spreadsheet').click()
    const csv = await downloaded(() => part('Cut list').getByRole('button', { name: 'Cut list: every run, as CSV' }).click())
    const { data } = Papa.parse<string[]>(new TextDecoder('utf-8', { ignoreBOM: false }).decode(csv.bytes), { delimiter: ',', skipEmptyLines: true })
    expect(data).toHaveLength(1 + (JSON.parse(MILL) as { runs: unknown[] }).runs.length)
  })
  test('take the trim that is typed into every bendable length', async () => {
    await page.getByText('Lengths for the cut list').click()
    const box = page.getByLabel('Trim on bendable duct')
    await box.fill('250')
    await box.press('Enter')
    const csv = await downloaded(() => part('Cut list').getByRole('button', { name: 'Cut list: every run, as CSV' }).click())
    const { data: [heads, ...rows] } = Papa.parse<string[]>(new TextDecoder().decode(csv.bytes), { delimiter: ',', skipEmptyLines: true })
    expect(new Set(rows.map((row) => row[heads.indexOf('Trim mm')]))).toEqual(new Set(['250']))
  })
  test('the model comes as glTF that the standard\'s validator accepts, as IFC4, and as the client\'s page', async () => {
    const glb = await downloaded(() => page.getByRole('button', { name: '3D model, glTF' }).click())
    expect((await validateBytes(glb.bytes)).issues).toMatchObject({ numErrors: 0, numWarnings: 0 })
    const ifc = await downloaded(() => page.getByRole('button', { name: '3D model, IFC' }).click())
    expect(new TextDecoder().decode(ifc.bytes.subarray(0, 400))).toMatch(/^ISO-10303-21;[\s\S]*FILE_SCHEMA\(\('IFC4'\)\)/)
    const client = await downloaded(() => page.getByRole('button', { name: 'Page for the client' }).click())
    expect(client.name).toBe('mill-on-two-levels-for-information.html')
    const shown = await (await browser.newContext({ offline: true })).newPage()
    await shown.setContent(new TextDecoder().decode(client.bytes))
    await shown.waitForSelector('canvas[data-drawn]')
    expect(await shown.locator('.issue').innerText()).toBe('1 May 2031, revision C')
    await shown.close()
  })
  test('compared with an older file: the run that moved, by how much, in the void as it was and is, and what to print again', async () => {
    const older = JSON.parse(MILL) as { runs: { name: string, waypoints: { at: number[] }[] }[] }
    older.runs[0].waypoints[1].at[2] += 7
    await page.setInputFiles('.older-file', { name: 'mill-last-week.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(older)) })
    await page.getByText('1 run changed').waitFor()
    const row = part('Changes').getByRole('button', { name: new RegExp(older.runs[0].name.slice(0, 8)) })
    expect(await row.innerText()).toMatch(/moved [4-7]\.\d mm/)
    expect(await part('Changes').innerText()).toMatch(/Print again[\s\S]*Where ducts cross joists/)
    const whole = await drawn(page)
    await row.click()
    await page.waitForFunction(() => document.querySelector('[aria-label="The void"]') !== null)
    await rest(page)
    // it has flown near, and both courses are drawn besides
    const near = await drawn(page), away = ({ eye, target }: typeof near): number => Math.hypot(...eye.map((value, k) => value - target[k]))
    expect(away(near)).toBeLessThan(away(whole) / 2)
    expect(near.drawCalls).toBeGreaterThanOrEqual(whole.drawCalls + 4)
    if (process.env['JOISTWAY_SHOTS'] !== undefined) await page.screenshot({ path: `${process.env['JOISTWAY_SHOTS']}/changes.png` })
    const changes = await downloaded(() => part('Changes').getByRole('button', { name: 'Changes as PDF' }).click())
    expect((await readPdf(changes.bytes)).pages[0].texts.map(({ text }) => text).join(' ')).toContain('Runs that are other than before')
  })
  test('a file that is no job is turned away in words', async () => {
    await page.setInputFiles('.older-file', { name: 'photo.json', mimeType: 'application/json', buffer: Buffer.from('{}') })
    await page.getByText('That file is no job that can be read').waitFor()
  })
  test('someone else\'s building is read from IFC, told first, then brought in as one step that undo takes out', async () => {
    const girder = jobOf({ solids: [
      { id: 'girder', name: 'Girder', class: 'steel', shape: { kind: 'box', centre: [1000, 1000, 3000], sizeMm: [2000, 100, 200] } },
      { id: 'bend', name: 'Bent pipe', class: 'pipe', shape: { kind: 'tube', points: [[0, 0, 3000], [1000, 0, 3000], [1000, 1000, 3000]], diameterMm: 50, bendRadiusMm: 200 } },
    ] })
    await page.setInputFiles('.ifc-file', { name: 'structure.ifc', mimeType: 'application/x-step', buffer: Buffer.from(ifcOf(contextFor(assemble(girder)), '2031-05-01T00:00:00')) })
    const place = part('A building to check against')
    await place.getByText('2 solids in structure.ifc.').waitFor()
    expect(await place.innerText()).toMatch(/Taken as the upright box round them[\s\S]*Bent pipe: its surface is no straight prism/)
    const solids = () => page.evaluate(() => (JSON.parse(joistway.text()) as { solids: { name: string }[] }).solids.map(({ name }) => name))
    const before = await solids()
    await place.getByRole('button', { name: 'Bring them in' }).click()
    await place.getByText('Brought in.').waitFor()
    expect(await solids()).toEqual([...before, 'Girder', 'Bent pipe'])
    await page.getByRole('button', { name: /^Undo/ }).click()
    expect(await solids()).toEqual(before)
  })
  test('of a job whose names are scripts show them as words, on the paper and in the list', async () => {
    const job = hostileJob()
    await page.setInputFiles('input[type=file]', { name: 'hostile.json', mimeType: 'application/json', buffer: Buffer.from(formatJob(job)) })
    await openedJob(page, 'hostile.json')
    await part('Set-out').getByRole('button', { name: /^Elevation/ }).first().waitFor()
    expect(await page.evaluate(() => [document.title === 'hit', document.querySelectorAll('.sheets-panel script, .sheets-panel img').length])).toEqual([false, 0])
    expect(await part('Set-out').innerText()).toContain(`Elevation of ${HARM[0]}`)
    const pdf = await downloaded(() => part('Set-out').getByRole('button', { name: 'All as PDF' }).click())
    expect(pdf.name).toMatch(/^[a-z0-9-]+\.pdf$/)
    expect((await readPdf(pdf.bytes)).title).toContain('<script>')
    await page.setInputFiles('input[type=file]', { name: 'mill.json', mimeType: 'application/json', buffer: Buffer.from(MILL) })
    await openedJob(page, 'mill.json')
    await part('Set-out').getByRole('button', { name: /^Elevation of joist LJ1/ }).click()
    await page.waitForSelector('[data-sheet="joist-LJ1"]')
  })
  test('break no rule of accessibility, and nothing went wrong', async () => {
    expect(await complaints(page)).toEqual([])
    expect(faults).toEqual([])
  })
  test.each([[1440, 900], [820, 1180], [390, 844]])('at %i x %i nothing runs over the side', async (width, height) => {
    await page.setViewportSize({ width, height })
    await part('Set-out').getByRole('button', { name: /^Plan/ }).click()
    await page.waitForSelector('[data-sheet="plan"]')
    const over = await page.evaluate(() => [...document.querySelectorAll<HTMLElement>('.sheets-panel *')].filter((each) => {
      const { right } = each.getBoundingClientRect()
      return right > innerWidth + 1
    }).map((each) => each.className || each.tagName))
    expect(over).toEqual([])
    if (process.env['JOISTWAY_SHOTS'] !== undefined) await page.screenshot({ path: `${process.env['JOISTWAY_SHOTS']}/sheets-${width}.png` })
  })
})
