/** Every place at a laptop's, a tablet's and a phone's size: nothing that accessibility rules complain of, nothing that sticks out, nothing too small to press. */
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { clashing } from './jobs.ts'
import { lighten, newPage } from './workbench.ts'

const SIZES = [['a laptop', 1440, 900], ['a tablet', 820, 1180], ['a phone', 390, 844]] as const
const PLACES = ['check', 'measure-up', 'set-down', 'thread', 'strip', 'joist', 'trial', 'pull-in', 'air', 'commission', 'sheets', 'looking']

let browser: Browser
let page: Page
const faults: string[] = []
beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  page = await newPage(await lighten(await browser.newContext({ serviceWorkers: 'block' }), clashing()), url)
  page.on('pageerror', (error) => faults.push(error.message))
  await page.waitForSelector('[data-verdict="ready"]')
})
afterAll(async () => { await browser?.close() })

async function goTo(place: string): Promise<void> {
  await page.locator(`[data-place="${place}"]`).click()
  if (place !== 'check') await page.waitForSelector(`[data-open-place="${place}"]`)
}

/** What is to be pressed but is less than 44 px either way, and what is wider than the window. */
async function faultsOfSize(): Promise<string[]> {
  return page.evaluate(() => [
    ...document.documentElement.scrollWidth > innerWidth ? [`the page is ${document.documentElement.scrollWidth} px wide`] : [],
    ...[...document.querySelectorAll<HTMLElement>('button, select, input:not([type=checkbox], [type=radio], [hidden])')]
      .filter((one) => one.checkVisibility({ visibilityProperty: true }) && (one.getBoundingClientRect().width < 44 || one.getBoundingClientRect().height < 44))
      .map((one) => `too small: ${one.getAttribute('aria-label') ?? one.textContent}`),
  ])
}

describe('every place', () => {
  test.for(SIZES)('at the size of %s', async ([, width, height]) => {
    await page.setViewportSize({ width, height })
    const found: string[] = []
    for (const place of PLACES) {
      await goTo(place)
      for (const words of [...await complaints(page), ...await faultsOfSize()]) found.push(`${place}: ${words}`)
    }
    expect(found).toEqual([])
  })

  test('with more contrast asked for, the paper is white and nothing is written in grey', async () => {
    await page.emulateMedia({ contrast: 'more' })
    await goTo('check')
    expect(await page.evaluate(() => getComputedStyle(document.querySelector('.picture')!).backgroundColor)).toBe('rgb(255, 255, 255)')
    expect(await page.evaluate(() => getComputedStyle(document.querySelector('.row-more')!).color)).toBe('rgb(0, 0, 0)')
    expect(await complaints(page)).toEqual([])
    await page.emulateMedia({ contrast: 'no-preference' })
  })

  test('in the few colours of the device itself, what is chosen is told by a line, and marks keep their own', async () => {
    await page.emulateMedia({ forcedColors: 'active' })
    await page.locator('.row').first().click()
    const chosen = await page.locator('.place[aria-current]').evaluate((one) => getComputedStyle(one).outlineStyle)
    const other = await page.locator('.place:not([aria-current])').first().evaluate((one) => getComputedStyle(one).outlineStyle)
    expect([chosen, other]).toEqual(['solid', 'none'])
    expect(await page.locator('.row .mark polygon').first().evaluate((one) => getComputedStyle(one).fill)).toBe('rgb(194, 19, 107)')
    await page.emulateMedia({ forcedColors: 'none' })
  })

  test('nothing went wrong unseen', () => {
    expect(faults).toEqual([])
  })
})
