import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { drawn, openView, pictureBox, rest } from './page.ts'

let browser: Browser
let page: Page
beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true })
  context.setDefaultTimeout(90_000)
  page = await context.newPage()
  await openView(page, url)
})
afterAll(async () => { await browser?.close() })

/** What is to be pressed but is less than 44 px either way. */
async function tooSmall(): Promise<(string | null)[]> {
  return page.locator('button:visible, input:visible').evaluateAll((all) => all
    .map((one) => ({ words: one.textContent, size: one.getBoundingClientRect() }))
    .filter(({ size }) => size.width < 44 || size.height < 44).map(({ words }) => words))
}

describe('the view on a phone under the joists', () => {
  test('the picture is above and the list below, and nothing sticks out at the side', async () => {
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390)
    const picture = await pictureBox(page)
    const list = await page.locator('.panel').boundingBox()
    expect(picture.height).toBeGreaterThan(300)
    expect(list!.y).toBeGreaterThanOrEqual(picture.y + picture.height - 1)
    expect((await drawn(page)).drawCalls).toBeLessThanOrEqual(30)
  })

  test('everything to be pressed is at least 44 px either way, and nothing written is smaller than 16 px', async () => {
    expect(await tooSmall()).toEqual([])
    const least = await page.locator('body *').evaluateAll((all) => Math.min(...all
      .filter((one) => one.closest('svg') === null && [...one.childNodes].some((child) => child.nodeType === 3 && child.textContent!.trim() !== ''))
      .map((one) => Number.parseFloat(getComputedStyle(one).fontSize))))
    expect(least).toBeGreaterThanOrEqual(16)
    expect(await complaints(page)).toEqual([])
  })

  test('a finding that is tapped takes the place of the list until it is put away', async () => {
    await page.locator('.row').first().tap()
    await page.waitForSelector('.void-tag')
    await rest(page)
    const picture = await pictureBox(page)
    const card = await page.locator('.card').boundingBox()
    expect(card!.y).toBeGreaterThanOrEqual(picture.y + picture.height - 1)
    expect(await page.locator('.panel').isVisible()).toBe(false)
    expect(await tooSmall()).toEqual([])
    expect(await complaints(page)).toEqual([])
    await page.getByRole('button', { name: 'Put away' }).tap()
    await page.waitForSelector('.card', { state: 'detached' })
    expect(await page.locator('.row').first().isVisible()).toBe(true)
  })

  test('one finger turns the void', async () => {
    const { x, y, width, height } = await pictureBox(page)
    const before = await drawn(page)
    const touch = await page.context().newCDPSession(page)
    const at = (along: number) => [{ x: x + width / 2 + along, y: y + height * 0.7 }]
    await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: at(0) })
    for (let along = 10; along <= 80; along += 10) await touch.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: at(along) })
    await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
    await rest(page)
    const after = await drawn(page)
    expect(after.eye).not.toEqual(before.eye)
    expect(after.target).toEqual(before.target)
  })
})
