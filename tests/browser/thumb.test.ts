/** Threading with a thumb on a phone: what a first tap shows, a second takes. */
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Job } from '#model/index.ts'
import { inPicture } from '../scene/inPicture.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { emptyLoftInput } from './openLoft.ts'
import { drawn, pictureBox, rest } from './page.ts'
import { lighten, openDrawn, textOf } from './workbench.ts'

const FOV_DEG = 32
let browser: Browser
let page: Page
const faults: string[] = []

beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  const context = await lighten(await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, reducedMotion: 'reduce' }), emptyLoftInput(100, [{ id: 'V', name: 'Valve box', x: 1_275 }]), { withoutPicture: false })
  page = await context.newPage()
  page.on('pageerror', (error) => faults.push(error.message))
  await openDrawn(page, url)
  await page.locator('[data-place="thread"]').tap()
  await page.waitForSelector('.thread')
  await rest(page)
})
afterAll(async () => { await browser?.close() })

const panel = () => page.locator('.thread')

async function spotOf(placeMm: readonly number[]): Promise<{ x: number, y: number }> {
  const box = await pictureBox(page)
  const { eye, target } = await drawn(page)
  const [across, up] = inPicture(eye, target, FOV_DEG, box.width / box.height, placeMm)
  return { x: box.x + (across + 1) / 2 * box.width, y: box.y + (1 - up) / 2 * box.height }
}

async function tap(placeMm: readonly number[]): Promise<void> {
  const { x, y } = await spotOf(placeMm)
  await page.touchscreen.tap(x, y)
  await rest(page)
}

describe('threading with a thumb', () => {
  test('spigots that lie on one another are asked about by name, and both ends are in the picture once one is taken', async () => {
    await tap([975, -60, 2_500])
    await panel().getByRole('heading', { name: '3 ends in one place: which?' }).waitFor()
    expect(await complaints(page)).toEqual([])
    await panel().getByRole('region', { name: 'Which of them' }).getByRole('button', { name: /spigot s2/ }).tap()
    await panel().getByRole('heading', { name: /From Manifold, spigot s2/ }).waitFor()
    await rest(page)
    const box = await pictureBox(page)
    const buttons = (await page.locator('.view-buttons').boundingBox())!
    for (const place of [[975, -60, 2_500], [1_275, 2_160, 2_500]]) {
      const { x, y } = await spotOf(place)
      expect(x).toBeGreaterThan(box.x)
      expect(x).toBeLessThan(box.x + box.width)
      expect(y).toBeGreaterThan(box.y)
      expect(y).toBeLessThan(buttons.y)
    }
    expect(await page.locator('.void-label-end').allTextContents()).toEqual(expect.arrayContaining(['Valve box', 'Manifold']))
  })

  test('an opening is shown by the first tap and passed by the second, and so is the end', async () => {
    const passed = panel().getByRole('list', { name: 'Passed so far' }).getByRole('listitem')
    for (const [n, place] of [[1_050, 400, 2_540], [1_200, 1_000, 2_540], [1_275, 1_600, 2_540]].entries()) {
      await tap(place)
      await panel().getByText(new RegExp(`^Joist J${n + 1}, opening \\d+ takes `)).waitFor()
      expect(await passed.count()).toBe(n)
      await tap(place)
      await expect.poll(() => passed.count()).toBe(n + 1)
    }
    await tap([1_275, 2_160, 2_500])
    await panel().getByText('End at Valve box, spigot a.').waitFor()
    await panel().getByRole('button', { name: 'End here' }).tap()
    await panel().getByRole('button', { name: 'Lay it', exact: true }).tap()
    await panel().getByRole('heading', { name: 'Run 1' }).waitFor()
    const { runs } = JSON.parse(await textOf(page)) as Job
    expect(runs).toMatchObject([{ from: { spigot: 's2' }, to: { equipment: 'V' } }])
    expect(faults).toEqual([])
  })
})
