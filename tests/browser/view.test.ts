import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { verdictOf } from '#routing/verdict.ts'
import { inPicture } from '../scene/inPicture.ts'
import { smallVoidInput, smallVoidJob } from '../scene/smallVoid.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { clashing, crowded } from './jobs.ts'
import { coloursOf, drawn, openJob, openView, openedJob, pictureBox, rest } from './page.ts'

const FOV_DEG = 32
const MARKER_PINK = [0xc2, 0x13, 0x6b]
const SUPPLY_BLUE = [0x3d, 0x86, 0xc6]

let url: string
let close: () => Promise<void>
let browser: Browser
let context: BrowserContext
let page: Page
const faults: string[] = []

beforeAll(async () => {
  ({ url, close } = await startApp())
  browser = await openBrowser()
  context = await browser.newContext({ viewport: { width: 1440, height: 900 } })
  context.setDefaultTimeout(90_000)
  page = await context.newPage()
  page.on('pageerror', (error) => faults.push(error.message))
  page.on('console', (message) => { if (message.type() === 'error') faults.push(message.text()) })
  await openView(page, url)
})
afterAll(async () => {
  await browser?.close()
  await close?.()
})

/** Where a site point is on the screen, px. */
async function onScreen(placeMm: readonly number[]): Promise<{ x: number, y: number }> {
  const box = await pictureBox(page)
  const { eye, target } = await drawn(page)
  const [across, up] = inPicture(eye, target, FOV_DEG, box.width / box.height, placeMm)
  return { x: box.x + (across + 1) / 2 * box.width, y: box.y + (1 - up) / 2 * box.height }
}
const card = () => page.getByRole('region', { name: 'Picked out' })

describe('the view at a bench', () => {
  test('the demo building is drawn as it opens, in at most thirty draws, with a marker to every finding', async () => {
    const { drawCalls, markers } = await drawn(page)
    expect(drawCalls).toBeGreaterThan(3)
    expect(drawCalls).toBeLessThanOrEqual(30)
    const { all, notPaper, kinds } = await coloursOf(page, await pictureBox(page), MARKER_PINK)
    expect(notPaper / all).toBeGreaterThan(0.15)
    expect(kinds).toBeGreaterThan(100)
    const listed = Number(await page.locator('#tab-findings .tab-count').textContent())
    expect(listed).toBeGreaterThan(0)
    expect(markers).toBe(listed)
    expect(await page.getByRole('list', { name: 'What to change, worst first' }).getByRole('listitem').count()).toBe(Math.min(listed, 150))
    expect(await complaints(page)).toEqual([])
  })

  test('once loaded it asks nothing more of the network', async () => {
    const asked: string[] = []
    page.on('request', (request) => { if (request.url().startsWith('http')) asked.push(request.url()) })
    await context.setOffline(true)
    await page.locator('.row').first().click()
    await page.waitForSelector('.void-tag')
    await page.getByRole('tab', { name: 'Runs' }).click()
    await page.locator('.row').first().click()
    await page.getByRole('tab', { name: 'To change' }).click()
    await openJob(page, 'clashing.json', JSON.stringify(clashing()))
    await openedJob(page, 'clashing.json')
    await context.setOffline(false)
    expect(asked).toEqual([])
  })

  test('a finding that is clicked is flown to: its mark comes to the middle of the picture', async () => {
    const { findings } = verdictOf(smallVoidJob(clashing()))
    const clash = findings.find(({ code }) => code === 'clash')!
    const { x, y, z } = clash.mark
    await page.locator(`[data-finding="${clash.id}"]`).click()
    await page.waitForSelector('.void-tag')
    await rest(page)
    const { target } = await drawn(page)
    expect(Math.hypot(target[0] - x, target[1] - y, target[2] - z)).toBeLessThan(1)
    const box = await pictureBox(page)
    const at = await onScreen([x, y, z])
    expect(Math.hypot(at.x - box.x - box.width / 2, at.y - box.y - box.height / 2)).toBeLessThan(4)
    // and its marker is there to be seen: a diamond some 45 px across, less its white rim and its number
    expect((await coloursOf(page, { x: at.x - 40, y: at.y - 40, width: 80, height: 80 }, MARKER_PINK)).nearColour).toBeGreaterThan(400)
    await card().getByText(/cuts [\d.]+ mm into/).waitFor()
    expect(await complaints(page)).toEqual([])
  })

  test('a marker that is clicked in the picture opens the same finding as its row in the list', async () => {
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'From above' }).click()
    await rest(page)
    const { findings } = verdictOf(smallVoidJob(clashing()))
    const at = await onScreen([findings[0].mark.x, findings[0].mark.y, findings[0].mark.z])
    await page.mouse.click(at.x, at.y)
    const id = await page.locator('.row[aria-current="true"]').getAttribute('data-finding')
    // others may lie within a fingertip of it: the one that opens is under the pointer too
    const { mark } = findings.find((finding) => finding.id === id)!
    const there = await onScreen([mark.x, mark.y, mark.z])
    expect(Math.hypot(there.x - at.x, there.y - at.y)).toBeLessThan(21)
  })

  test('a tube that is clicked says which run it is, and how large', async () => {
    await openJob(page, 'clean.json', JSON.stringify(smallVoidInput()))
    await openedJob(page, 'clean.json')
    await page.getByRole('button', { name: 'From above' }).click()
    await rest(page)
    // the top of Run 1 between joists J1 and J2: nothing stands over it
    const at = await onScreen([975, 700, 2_545])
    expect((await coloursOf(page, { x: at.x - 2, y: at.y - 2, width: 4, height: 4 }, SUPPLY_BLUE)).nearColour).toBeGreaterThan(8)
    await page.mouse.click(at.x, at.y)
    await card().getByRole('heading', { name: 'Run 1' }).waitFor()
    expect(await card().textContent()).toContain('90 mm across')
    expect(await card().textContent()).toContain('SUP, supply air')
  })

  test('a chord that is clicked says its joist, its section and its length; an opening its largest duct', async () => {
    const chord = await onScreen([2_400, 1_000, 2_704])
    await page.mouse.click(chord.x, chord.y)
    await card().getByRole('heading', { name: 'Joist J2, top chord' }).waitFor()
    expect(await card().textContent()).toContain('97 × 47 mm, 4,000 mm long')
    expect(await card().textContent()).toContain('2,657 mm above datum') // 2,400 + 304 - 47
    await page.keyboard.press('Escape')
    await page.waitForSelector('.card', { state: 'detached' })
  })

  test('a clean job says so, with the room that its tightest run has', async () => {
    await page.getByRole('heading', { name: 'Everything goes in' }).waitFor()
    const job = smallVoidJob()
    const [run] = verdictOf(job, assemble(job)).runs
    const spareMm = Math.round((run.trialDiameterMm! - run.outerDiameterMm) * 5) / 10
    expect(await page.locator('.verdict').textContent()).toContain(`1 run checked and clear. The tightest is Run 1, with ${spareMm} mm all round before it meets ${run.touchesFirst!.name}.`)
    expect((await drawn(page)).markers).toBe(0)
    await page.getByText('Nothing touches, nothing is too tight').waitFor()
  })

  test('a file with faults is turned away with each of them, and the open job stays', async () => {
    const bad = { ...smallVoidInput(), runs: 7, zones: [{ id: 'Z1', name: 'Loft', outline: [[0, 0]], undersideMm: 'low', topMm: 5 }] }
    await openJob(page, 'bad.json', JSON.stringify(bad))
    const dialog = page.getByRole('dialog', { name: 'bad.json was not opened' })
    await dialog.waitFor()
    const words = await dialog.textContent()
    for (const path of ['runs', 'zones[0].outline', 'zones[0].undersideMm']) expect(words).toContain(path)
    expect(words).toContain('Weaver’s loft is still open')
    expect(await complaints(page)).toEqual([])
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'detached' })
    await openJob(page, 'nonsense.json', 'not a job at all')
    await page.getByRole('dialog', { name: 'nonsense.json was not opened' }).getByRole('button', { name: 'Back to the job' }).click()
    expect(await page.locator('.desk').getAttribute('data-job')).toBe('clean.json')
    expect(await page.getByRole('heading', { name: 'Everything goes in' }).isVisible()).toBe(true)
  })

  test('a file that is dropped is opened', async () => {
    await page.evaluate((text) => {
      const carried = new DataTransfer()
      carried.items.add(new File([text], 'dropped.json', { type: 'application/json' }))
      for (const kind of ['dragover', 'drop']) document.body.dispatchEvent(new DragEvent(kind, { dataTransfer: carried, bubbles: true, cancelable: true }))
    }, JSON.stringify(clashing()))
    await openedJob(page, 'dropped.json')
    expect((await drawn(page)).markers).toBe(verdictOf(smallVoidJob(clashing())).findings.length)
  })

  test('the list is walked by keys alone: down, Enter flies there, Escape puts it away', async () => {
    await page.getByRole('searchbox').focus()
    for (let i = 0; i < 6 && !await page.evaluate(() => document.activeElement!.classList.contains('row')); i++) await page.keyboard.press('Tab')
    const before = await drawn(page)
    await page.keyboard.press('ArrowDown')
    const id = await page.evaluate(() => (document.activeElement as HTMLElement).dataset['finding'])
    expect(id).toBe(await page.locator('.row').nth(1).getAttribute('data-finding'))
    expect(await page.evaluate(() => getComputedStyle(document.activeElement!).outlineStyle)).toBe('solid')
    await page.keyboard.press('Enter')
    await page.waitForSelector(`[data-finding="${id}"][aria-current="true"]`)
    await rest(page)
    expect((await drawn(page)).target).not.toEqual(before.target)
    await page.keyboard.press('Escape')
    await page.waitForSelector('.card', { state: 'detached' })
  })

  test('the picture itself is turned and brought nearer by keys', async () => {
    await page.locator('.void-view').focus()
    const distance = ({ eye, target }: Awaited<ReturnType<typeof drawn>>) => Math.hypot(...eye.map((value, k) => value - target[k]))
    const first = await drawn(page)
    await page.keyboard.press('ArrowLeft')
    await rest(page)
    const turned = await drawn(page)
    expect(turned.eye).not.toEqual(first.eye)
    expect(distance(turned)).toBeCloseTo(distance(first), 0)
    await page.keyboard.press('+')
    await rest(page)
    expect(distance(await drawn(page))).toBeLessThan(0.9 * distance(turned))
  })

  test('words and buttons leave in the list, and in the picture, only what they ask for', async () => {
    const all = (await drawn(page)).markers
    await page.getByRole('searchbox').fill('joist j3')
    await rest(page)
    const left = await page.locator('.row').count()
    expect(left).toBeGreaterThan(0)
    expect(left).toBeLessThan(all)
    expect((await drawn(page)).markers).toBe(left)
    await page.getByRole('searchbox').fill('')
    await page.getByRole('button', { name: /^Won’t fit \d+$/ }).click()
    await rest(page)
    expect((await drawn(page)).markers).toBe(await page.locator('.row').count())
    expect((await drawn(page)).markers).toBeLessThan(all)
    await page.getByRole('button', { name: /^Won’t fit \d+$/ }).click()
    await rest(page)
    expect((await drawn(page)).markers).toBe(all)
  })

  test('a picture that the browser takes away comes back', async () => {
    await page.getByRole('button', { name: 'All of it' }).click()
    await rest(page)
    const box = await pictureBox(page)
    const before = await coloursOf(page, box, MARKER_PINK)
    const { frames } = await drawn(page)
    await page.evaluate(() => {
      const taken = document.querySelector('canvas')!.getContext('webgl2')!.getExtension('WEBGL_lose_context')!
      Object.assign(window, { taken })
      taken.loseContext()
    })
    await page.waitForSelector('[data-picture="lost"]')
    await page.evaluate(() => { (window as unknown as { taken: WEBGL_lose_context }).taken.restoreContext() })
    await page.waitForSelector('[data-picture="restored"]')
    await rest(page)
    expect((await drawn(page)).frames).toBeGreaterThan(frames)
    const after = await coloursOf(page, box, MARKER_PINK)
    expect(before.nearColour).toBeGreaterThan(400)
    expect(Math.abs(after.notPaper - before.notPaper) / before.notPaper).toBeLessThan(0.02)
    expect(Math.abs(after.nearColour - before.nearColour) / before.nearColour).toBeLessThan(0.05)
  })

  test('checking that takes long says how far it is, and can be stopped without losing the job', async () => {
    await openJob(page, 'long.json', JSON.stringify(crowded(1_500)))
    await page.waitForSelector('[data-job="long.json"]')
    await page.locator('progress').waitFor()
    await page.getByRole('button', { name: 'Stop' }).click({ force: true })
    await page.getByText('Checking was stopped').waitFor()
    await page.getByRole('heading', { name: 'Not checked' }).waitFor()
    expect(await page.locator('.desk').getAttribute('data-job')).toBe('long.json')
    await page.getByRole('button', { name: 'Check it now' }).click()
    await page.locator('progress').waitFor()
    // another file puts an end to it
    await openJob(page, 'clean.json', JSON.stringify(smallVoidInput()))
    await openedJob(page, 'clean.json')
  })

  test('job after job, the graphics card holds no more than for the first', async () => {
    const held: string[] = []
    for (let round = 0; round < 3; round++) {
      await openJob(page, `other-${round}.json`, JSON.stringify(clashing()))
      await openedJob(page, `other-${round}.json`)
      await page.locator('.row').first().click()
      await page.waitForSelector('.void-tag')
      await page.keyboard.press('Escape')
      await openJob(page, `round-${round}.json`, JSON.stringify(smallVoidInput()))
      await openedJob(page, `round-${round}.json`)
      held.push((await drawn(page)).held)
    }
    expect(held[2]).toBe(held[0])
    expect(held[0]).toMatch(/^[1-9]\d* \d+$/)
  })

  test('nothing was complained of in the console', () => {
    expect(faults.filter((fault) => !/CONTEXT_LOST/i.test(fault))).toEqual([])
  })
})
