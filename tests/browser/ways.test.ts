import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import { parseJob, type Job } from '#model/index.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { openLoftInput } from './openLoft.ts'
import { coloursOf, pictureBox, rest } from './page.ts'
import { lighten, openDrawn, textOf } from './workbench.ts'

let browser: Browser
let page: Page
let start = ''
const faults: string[] = []

beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  const context = await lighten(await browser.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' }), openLoftInput(), { withoutPicture: false })
  page = await context.newPage()
  page.on('pageerror', (error) => faults.push(error.message))
  await openDrawn(page, url)
  await page.locator('[data-place="thread"]').click()
  await page.waitForSelector('.thread')
  start = await textOf(page)
})
afterAll(async () => { await browser?.close() })

const jobNow = async (): Promise<Job> => {
  const read = parseJob(await textOf(page))
  if (!read.ok) throw new Error('the job that the page holds cannot be read')
  return read.job
}
const wrongIn = (job: Job) => checkJob(assemble(job)).filter(({ severity }) => severity !== 'advice')

describe('the ways of runs that no one has threaded', () => {
  test('looking for them can be stopped, and nothing has changed', async () => {
    expect(wrongIn(await jobNow()).length).toBeGreaterThan(4)
    // two runs are found sooner than a button is pressed: the worker's script is held back until it is
    let letGo = (): void => {}
    const pressed = new Promise<void>((resolve) => { letGo = resolve })
    let isHeld = false
    await page.route(/router\.worker/, async (route) => {
      isHeld = true
      await pressed
      await route.continue().catch(() => {})
    })
    await page.getByRole('button', { name: 'Find the ways…' }).click()
    await page.getByRole('button', { name: 'Find the ways of 2 runs' }).click()
    await page.getByRole('button', { name: 'Cancel' }).click()
    await page.getByText('Stopped: every run lies as it did.').waitFor()
    expect(isHeld).toBe(true)
    letGo()
    await page.unroute(/router\.worker/)
    expect(await textOf(page)).toBe(start)
  })

  test('what would change is shown before anything does: new courses in full, old ones faint', async () => {
    const box = await pictureBox(page)
    await page.getByRole('button', { name: 'Find the ways…' }).click()
    await page.getByRole('button', { name: 'Find the ways of 2 runs' }).click()
    await page.getByRole('heading', { name: '2 runs would lie otherwise' }).waitFor()
    const rows = page.getByRole('list', { name: 'Changes, run by run' }).getByRole('button')
    expect(await rows.count()).toBe(2)
    expect(await rows.first().textContent()).toMatch(/^Run 1Length 2,427 mm → .* [\d,]+ mmBends 0 → .* \d+, passes over or under 1 → .* 0To spare none/)
    // their ducts would cross as they are wired
    expect(await page.locator('.ways-swap').count()).toBeGreaterThan(0)
    expect(await page.getByText('Nothing is changed yet.').count()).toBe(1)
    expect(await textOf(page)).toBe(start)
    await rest(page)
    // supply air in full, and paper seen through the old courses
    expect((await coloursOf(page, box, [0x3d, 0x86, 0xc6])).nearColour).toBeGreaterThan(1_000)
    expect((await coloursOf(page, box, [0xc8, 0xd8, 0xe4])).nearColour).toBeGreaterThan(1_000)
    expect(await complaints(page)).toEqual([])
  })

  test('accepted it is one step, and every check finds the runs in order', async () => {
    await page.getByRole('button', { name: 'Accept all 2' }).click()
    await page.getByText('2 runs laid, as one step').waitFor()
    expect(wrongIn(await jobNow())).toEqual([])
    expect(await page.locator('.work-strip').getAttribute('data-undo')).toBe('Find the ways of 2 runs')
  })

  test('then the order of pulling them in is gone through in the picture, first to last', async () => {
    await page.locator('[data-place="pull-in"]').click()
    const rows = page.getByRole('list', { name: 'The ducts in the order in which they go in' }).getByRole('button')
    await rows.first().waitFor()
    expect(await rows.count()).toBe(2)
    await page.getByRole('button', { name: 'Begin with the first' }).click()
    const first = await page.getByRole('heading', { name: /^Step 1 of 2: / }).textContent()
    await rest(page)
    const box = await pictureBox(page)
    // the tape's yellow stands out, and the one that comes later is seen through
    expect((await coloursOf(page, box, [0xf4, 0xc5, 0x31])).nearColour).toBeGreaterThan(800)
    const blueBefore = (await coloursOf(page, box, [0x3d, 0x86, 0xc6])).nearColour
    await page.getByRole('button', { name: 'Next' }).click()
    const second = await page.getByRole('heading', { name: /^Step 2 of 2: / }).textContent()
    expect([first, second].map((text) => text!.slice(-5)).sort()).toEqual(['Run 1', 'Run 2'])
    await rest(page)
    expect((await coloursOf(page, box, [0x3d, 0x86, 0xc6])).nearColour).toBeGreaterThan(blueBefore + 800)
    expect(await complaints(page)).toEqual([])
    await page.locator('[data-place="thread"]').click()
    await page.waitForSelector('.thread')
  })

  test('one undo gives the very document that there was', async () => {
    await page.keyboard.press('Control+z')
    expect(await page.locator('.work-strip').getAttribute('data-undo')).toBe('')
    expect(await textOf(page)).toBe(start)
    expect(faults).toEqual([])
  })
})
