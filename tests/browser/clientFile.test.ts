/** The client's file as a client opens it: from disk, on a machine without a network. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { clientTemplate } from '#cli/clientTemplate.ts'
import { parseJob } from '#model/parse.ts'
import { clientFile } from '#sheets/client/clientFile.ts'
import { clientModelOf } from '#sheets/client/clientModelOf.ts'
import { USUAL } from '#sheets/options.ts'
import { planSheet } from '#sheets/setOut/planSheet.ts'
import { svgOf } from '#sheets/svgOf.ts'
import { openBrowser } from '../setup/launchBrowser.ts'
import { hostileJob } from '../sheets/hostileJob.ts'

const COLUMNS = 32, ROWS = 26
/** Average colours of the picture's fields, as they were when it was last looked at and found good; written anew with JOISTWAY_NEW_PICTURE=1. */
const KEPT = new URL('./clientPicture.json', import.meta.url)

let browser: Browser, folder: string, offline: BrowserContext
beforeAll(async () => {
  browser = await openBrowser()
  folder = mkdtempSync(path.join(tmpdir(), 'joistway-client-'))
  offline = await browser.newContext({ offline: true, viewport: { width: 1100, height: 650 }, deviceScaleFactor: 1 })
})
afterAll(async () => {
  await browser?.close()
  rmSync(folder, { recursive: true, force: true })
})

interface Opened { readonly page: Page, readonly asked: string[], readonly wrong: string[] }

async function open(name: string, content: string): Promise<Opened> {
  const file = path.join(folder, name)
  writeFileSync(file, content)
  const page = await offline.newPage(), asked: string[] = [], wrong: string[] = []
  page.on('request', (request) => { if (request.url() !== pathToFileURL(file).href) asked.push(request.url()) })
  page.on('console', (message) => { if (message.type() === 'error') wrong.push(message.text()) })
  page.on('pageerror', (error) => wrong.push(error.message))
  page.on('dialog', (dialog) => {
    wrong.push(`dialog: ${dialog.message()}`)
    void dialog.dismiss()
  })
  await page.goto(pathToFileURL(file).href)
  return { page, asked, wrong }
}

async function settled(page: Page): Promise<void> {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 50)))))
}

/** Red, green, blue of each field of the picture, row by row. */
async function fieldsOf(page: Page): Promise<number[]> {
  await settled(page)
  const picture = (await page.locator('canvas').screenshot()).toString('base64')
  return page.evaluate(async ({ picture, columns, rows }) => {
    const image = new Image()
    image.src = `data:image/png;base64,${picture}`
    await image.decode()
    const pen = new OffscreenCanvas(columns, rows).getContext('2d')!
    pen.imageSmoothingQuality = 'high'
    pen.drawImage(image, 0, 0, columns, rows)
    return Array.from(pen.getImageData(0, 0, columns, rows).data).filter((_, i) => i % 4 !== 3)
  }, { picture, columns: COLUMNS, rows: ROWS })
}

/** Mean and largest difference of two pictures' fields, 0..255. */
const unlike = (a: readonly number[], b: readonly number[]): { mean: number, most: number } => ({
  mean: a.reduce((sum, value, i) => sum + Math.abs(value - b[i]), 0) / a.length, most: Math.max(...a.map((value, i) => Math.abs(value - b[i]))),
})

async function clientPage(assembly: ReturnType<typeof assemble>): Promise<string> {
  return clientFile(await clientTemplate(), clientModelOf(assembly, { date: '1 May 2031', revision: 'C' }))
}

describe('the client file of the canal house, opened from disk with the network off', () => {
  const read = parseJob(readFileSync(new URL('../../fixtures/good/canal-house.json', import.meta.url), 'utf8'))
  if (!read.ok) throw new Error('the canal house cannot be read')
  const { job } = read
  // what a client is shown beside the three ways of looking that every job has
  job.views.push({ id: 'v1' as never, name: 'By the plant cupboard', note: 'Where the air comes in.', eye: [-3000, -1000, 5000], target: [1000, 3500, 2500], up: [0, 0, 1], hidden: ['joist', 'chord', 'web'] })
  let opened: Opened, whole: number[]
  beforeAll(async () => {
    const html = await clientPage(assemble(job))
    expect(html.length).toBeLessThan(4e6)
    opened = await open('canal-house.html', html)
    await opened.page.waitForSelector('canvas[data-drawn]')
  })

  test('says its name, date, revision and that it is for information, and names every run', async () => {
    const words = await opened.page.locator('.side').innerText()
    for (const each of ['Canal house', '1 May 2031, revision C', 'For information only. Not to be built from']) expect(words).toContain(each)
    for (const { name } of job.runs) expect(words).toContain(name)
    expect(await opened.page.title()).toBe('Canal house')
  })
  test('shows the picture that it showed when it was last looked at', async () => {
    whole = await fieldsOf(opened.page)
    if (process.env['JOISTWAY_NEW_PICTURE'] === '1') writeFileSync(KEPT, `${JSON.stringify(whole)}\n`)
    const { mean, most } = unlike(whole, JSON.parse(readFileSync(KEPT, 'utf8')) as number[])
    expect(mean).toBeLessThan(2)
    expect(most).toBeLessThan(40)
  })
  test('lifts the ceiling away to show what runs above it, and puts it back', async () => {
    const { page } = opened
    for (let i = 0; i < 2; i++) await page.getByRole('button', { name: 'Next stop' }).click()
    expect(await page.locator('.stop').innerText()).toBe('3 of 4: From the rooms below')
    const closed = await fieldsOf(page)
    await page.getByLabel('Lift the ceiling away').fill('100')
    const lifted = await fieldsOf(page)
    expect(unlike(closed, lifted).mean).toBeGreaterThan(4)
    await page.getByLabel('Lift the ceiling away').fill('0')
    expect(unlike(closed, await fieldsOf(page)).most).toBeLessThan(2)
  })
  test('goes round the saved views as a tour, each with its note, and comes back to the first', async () => {
    const { page } = opened
    await page.getByRole('button', { name: 'Next stop' }).click()
    expect(await page.locator('.stop').innerText()).toBe('4 of 4: By the plant cupboard')
    expect(await page.locator('.stop-note').innerText()).toBe('Where the air comes in.')
    expect(unlike(whole, await fieldsOf(page)).mean).toBeGreaterThan(4)
    await page.getByRole('button', { name: 'Next stop' }).click()
    expect(unlike(whole, await fieldsOf(page)).most).toBeLessThan(2)
  })
  test('picks a run out by its name and lets it go again', async () => {
    const { page } = opened, button = page.getByRole('button', { name: /Run 22/ })
    await button.click()
    expect(await page.locator('.named').innerText()).toBe(job.runs.find(({ name }) => name.startsWith('Run 22'))!.name)
    expect(unlike(whole, await fieldsOf(page)).mean).toBeGreaterThan(0.2)
    await button.click()
    expect(unlike(whole, await fieldsOf(page)).most).toBeLessThan(2)
  })
  test('has asked for nothing, and nothing went wrong under its own strict rules', () => {
    expect(opened.asked).toEqual([])
    expect(opened.wrong).toEqual([])
  })
  test('could not send or run anything if it wanted to: its rules stop a request and a script that is put in', async () => {
    const { page, wrong } = opened
    const stopped = await page.evaluate(async () => {
      const seen: string[] = []
      document.addEventListener('securitypolicyviolation', ({ effectiveDirective }) => seen.push(effectiveDirective))
      const script = document.createElement('script')
      script.textContent = 'document.title = "hit"'
      document.body.append(script)
      document.body.insertAdjacentHTML('beforeend', '<img src="x" onerror="document.title=\'hit\'">')
      const sent = await fetch('https://example.com/').then(() => 'sent', () => 'stopped')
      await new Promise((done) => setTimeout(done, 100))
      return { sent, seen: [...new Set(seen)].sort(), title: document.title }
    })
    expect(stopped).toEqual({ sent: 'stopped', seen: expect.arrayContaining(['connect-src', 'img-src', 'script-src-elem']) as string[], title: 'Canal house' })
    expect(wrong.length).toBeGreaterThan(0)
  })
})

describe('a job whose names are scripts', () => {
  test('shows them as words in the client file and runs none of them', async () => {
    const job = hostileJob()
    const { page, asked, wrong } = await open('hostile.html', await clientPage(assemble(job)))
    await page.waitForSelector('canvas[data-drawn]')
    expect(await page.title()).toBe(job.name)
    expect(await page.locator('h1').textContent()).toBe(job.name)
    const marks = await page.evaluate(() => ({ scripts: document.scripts.length, images: document.images.length, links: document.links.length, names: [...document.querySelectorAll('.run-name')].map(({ textContent }) => textContent) }))
    expect(marks).toMatchObject({ scripts: 2, images: 0, links: 0 })
    expect(marks.names.slice(0, 5)).toEqual(job.runs.slice(0, 5).map(({ name }) => name))
    expect([asked, wrong]).toEqual([[], []])
  })
  test('shows them as words in a drawing', async () => {
    const { page, asked, wrong } = await open('hostile.svg', svgOf(planSheet(contextFor(assemble(hostileJob())), USUAL)))
    const found = await page.evaluate(() => ({ root: document.documentElement.nodeName, scripts: document.querySelectorAll('script, image, a, foreignObject').length, hit: document.title === 'hit' }))
    expect(found).toEqual({ root: 'svg', scripts: 0, hit: false })
    expect([asked, wrong]).toEqual([[], []])
  })
})
