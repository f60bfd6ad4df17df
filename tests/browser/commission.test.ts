/** A round with the meter on a phone, by thumb and by keys, read back from the job itself; and what the air's place says and takes. */
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { FAMILY, houseOf } from '../air/airHouse.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { lighten, newPage, textOf } from './workbench.ts'
import { parseJob, type JobInput } from '#model/index.ts'

const TERMINALS = ['living-1', 'living-2', 'bed1-1', 'bed2-1', 'bed3-1', 'kitchen-1', 'kitchen-2', 'bath-1', 'ensuite-1', 'wc-1', 'utility-1']
let browser: Browser
let page: Page
const faults: string[] = []
beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, serviceWorkers: 'block' })
  page = await newPage(await lighten(context, houseOf(FAMILY, { air: { floorAreaM2: 92 } }) as JobInput), url)
  page.on('pageerror', (error) => faults.push(error.message))
})
afterAll(async () => { await browser?.close() })

async function air() {
  const read = parseJob(await textOf(page))
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.job.air!
}
const inHand = () => page.locator('.cm-card').getAttribute('data-terminal')

describe('commissioning on a phone', () => {
  test('a pass is started by thumb, with a tolerance that the user names', async () => {
    await page.locator('[data-place="commission"]').tap()
    await page.waitForSelector('.cm-stage')
    expect(await page.locator('.cm-card').textContent()).toContain('names no tolerance')
    await page.getByLabel('Tolerance on each terminal, %').first().fill('10')
    await page.getByLabel('Who holds the meter').fill('B. Fitter')
    await page.getByLabel('Day').first().fill('2026-04-02')
    expect(await complaints(page)).toEqual([])
    await page.getByRole('button', { name: 'Start pass 1' }).tap()
    await page.waitForSelector('#cm-reading')
    expect((await air()).commissioning).toMatchObject({ tolerancePercent: 10, rounds: [{ speed: 'normal', by: 'B. Fitter', day: '2026-04-02', readings: [] }] })
    expect(await complaints(page)).toEqual([])
  })

  test('by keys: a number, Enter, and the next terminal is in hand; by thumb: Take it', async () => {
    // the field has the focus by itself
    for (const [i, id] of TERMINALS.entries()) {
      expect(await inHand()).toBe(id)
      const wrong = { 'bed1-1': 1.5, 'bath-1': 0.5 }[id] ?? 1
      const target = Number((await page.locator('.cm-target').first().textContent())!.split(' ')[0])
      await page.keyboard.type((target * wrong).toFixed(1))
      if (id === 'bed1-1') expect(await page.locator('#cm-live').textContent()).toMatch(/Out: (?:49|50|51) % over, 10 % allowed/)
      if (i % 2 === 0) await page.keyboard.press('Enter')
      else await page.getByRole('button', { name: 'Take it' }).tap()
    }
    const { rounds } = (await air()).commissioning!
    expect(rounds[0].readings.map(({ terminal }) => terminal)).toEqual(TERMINALS)
    expect(rounds[0].readings.every(({ lps }) => lps > 0)).toBe(true)
  })

  test('then what to turn next and which way, read again in m³/h as another meter shows it', async () => {
    expect(await inHand()).toBe('bath-1')
    expect(await page.locator('.cm-turn').textContent()).toContain('Open it: it has')
    await page.getByRole('button', { name: 'm³/h' }).tap()
    expect(await page.locator('.cm-aim').textContent()).toMatch(/^\d+\.\d m³\/h$/)
    await page.locator('#cm-reading').fill('21.6')
    await page.keyboard.press('Enter')
    const reading = (await air()).commissioning!.rounds[0].readings.find(({ terminal }) => terminal === 'bath-1')
    expect(reading).toEqual({ terminal: 'bath-1', lps: 6, turned: true })
    expect(await inHand()).not.toBe('bath-1')
    await page.getByRole('button', { name: 'l/s', exact: true }).tap()
  })

  test('what cannot be read is refused beside the field, and nothing is kept', async () => {
    const before = await textOf(page)
    await page.locator('#cm-reading').fill('five')
    await page.keyboard.press('Enter')
    expect(await page.locator('#cm-why').textContent()).toContain('is no flow')
    await page.keyboard.press('Escape')
    expect(await textOf(page)).toBe(before)
  })

  test('the second pass stands beside the first; undo takes the last reading back', async () => {
    await page.evaluate(() => joistway.perform({ do: 'together', commands: [{ do: 'edit-pass', pass: 0, set: { ended: true } }, { do: 'start-pass', speed: 'normal' }] }))
    await page.waitForSelector('[data-passes="2"] #cm-reading')
    await page.keyboard.type('4.4')
    await page.keyboard.press('Enter')
    const cells = page.locator('[data-row="living-1"] .cm-cell')
    expect(await cells.count()).toBe(3)
    expect(await cells.nth(2).textContent()).toContain('4.4')
    await page.getByRole('button', { name: /^Undo Read 4.4/ }).tap()
    await page.waitForFunction(() => !document.querySelector('[data-row="living-1"]')!.textContent!.includes('4.4'))
    expect((await air()).commissioning!.rounds.map(({ readings }) => readings.length)).toEqual([TERMINALS.length, 0])
  })

  test('fan settings, sound and filters are written down, days as they were typed', async () => {
    const fold = async (title: string) => page.locator('.cm-panel summary', { hasText: title }).tap()
    await fold('Fan settings')
    await page.getByLabel('Supply, boost, %').fill('72')
    await page.keyboard.press('Enter')
    await fold('Sound')
    await page.getByLabel('Level read, dB(A)').fill('27,5')
    await page.keyboard.press('Enter')
    await fold('Filters')
    await page.getByRole('button', { name: 'Fresh air' }).tap()
    await page.getByLabel('Clean or change by').fill('2026-10-02')
    const { fans, sound, filters } = (await air()).commissioning!
    expect([fans, sound, filters]).toEqual([
      [{ speed: 'boost', supplyPercent: 72 }], [{ room: 'living', speed: 'normal', levelDbA: 27.5 }], [{ name: 'Fresh air', cleanBy: '2026-10-02' }],
    ])
    expect(await complaints(page)).toEqual([])
  })

  test('the sheet has both passes and lines to sign, and is all that is printed', async () => {
    await page.getByRole('button', { name: 'See and print the sheet' }).tap()
    const sheet = page.locator('.sheet-paper')
    expect(await sheet.textContent()).toMatch(/Pass 1.*Pass 2.*Signatures/s)
    expect(await page.locator('.sheet-signatures tbody tr').count()).toBe(3)
    expect(await complaints(page)).toEqual([])
    await page.emulateMedia({ media: 'print' })
    expect(await page.locator('#desk').isVisible()).toBe(false)
    expect(await sheet.isVisible()).toBe(true)
    expect(await page.locator('.sheet-buttons').isVisible()).toBe(false)
    await page.emulateMedia({ media: 'screen' })
    await page.getByRole('button', { name: 'Back to the meter' }).tap()
  })
})

describe('the air on a phone', () => {
  test('every tab passes the accessibility rules and nothing sticks out', async () => {
    await page.locator('[data-place="air"]').tap()
    await page.waitForSelector('.air-tabs')
    const found: string[] = []
    for (const tab of ['rates', 'pressure', 'balance', 'speed', 'places', 'care']) {
      await page.locator(`#air-tab-${tab}`).tap()
      await page.waitForSelector(`[data-air-tab="${tab}"]`)
      for (const words of await complaints(page)) found.push(`${tab}: ${words}`)
      const wide = await page.evaluate(() => document.documentElement.scrollWidth)
      if (wide > 390) found.push(`${tab}: ${wide} px wide`)
    }
    expect(found).toEqual([])
  })

  test('a figure that is entered takes the place of the table’s, and cleared it comes back', async () => {
    await page.locator('#air-tab-rates').tap()
    const field = page.getByLabel('Whole dwelling, l/s', { exact: true })
    await field.fill('40')
    await page.keyboard.press('Enter')
    expect((await air()).wholeLps).toBe(40)
    expect(await page.locator('.air-entered').textContent()).toContain('40.0 l/s')
    await field.fill('')
    await page.keyboard.press('Enter')
    expect((await air()).wholeLps).toBeUndefined()
  })

  test('nothing went wrong unseen', () => {
    expect(faults).toEqual([])
  })
})
