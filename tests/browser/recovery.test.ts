import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Command } from '#commands/index.ts'
import { formatJob } from '#model/index.ts'
import { smallVoidInput, smallVoidJob } from '../scene/smallVoid.ts'
import { openBrowser, openBrowserIn, startApp } from '../setup/serve.ts'
import { openJob } from './page.ts'
import { benchReady, doIt, drag, dragNoted, jobOf, kept, lighten, newPage, notice, openBench, textOf } from './workbench.ts'

let url: string
let browser: Browser
beforeAll(async () => {
  ({ url } = await startApp())
  browser = await openBrowser()
})
afterAll(async () => { await browser?.close() })

const move = (x: number): Command => ({ do: 'shift-waypoints', run: 'R1', points: [0, 1], by: [x, 0, 0] })
const firstX = async (page: Page) => (await jobOf(page)).runs[0].waypoints[0].at[0]

/** A browser of its own with the small void open in it, before anything was changed. */
async function inSmallVoid(prepare: (context: BrowserContext) => Promise<unknown> = async () => {}): Promise<Page> {
  const context = await lighten(await browser.newContext({ viewport: { width: 900, height: 700 }, serviceWorkers: 'block' }), smallVoidInput())
  await prepare(context)
  const page = await newPage(context, url)
  await openSmallVoid(page)
  return page
}

async function openSmallVoid(page: Page): Promise<void> {
  await openJob(page, 'small.json', JSON.stringify(smallVoidInput()))
  await page.waitForSelector('[data-job="small.json"]')
  await page.waitForFunction(() => joistway.text().includes('Weaver'))
}

describe('work survives', () => {
  test('a reload in the middle of a drag: the job stands as it was last drawn, says so, and undo takes it back', async () => {
    const page = await inSmallVoid()
    await kept(page)
    await doIt(page, { do: 'edit-run', id: 'R1', set: { name: 'Bath' } })
    await drag(page, move(20))
    await drag(page, move(60))
    await dragNoted(page, move(60))
    await page.reload()
    await benchReady(page)
    await notice(page, 'recovered').getByText('in the middle of “Move 2 points of Bath”').waitFor()
    expect(await firstX(page)).toBe(1_035) // 975 and the 60 of the drag
    await page.getByRole('button', { name: 'Undo Move 2 points of Bath' }).click()
    expect(await firstX(page)).toBe(975)
    await kept(page)
    await page.reload()
    await benchReady(page)
    expect(await firstX(page)).toBe(975)
    expect((await jobOf(page)).runs[0]).toMatchObject({ name: 'Bath' })
    expect(await notice(page, 'recovered').count()).toBe(0)
    await page.context().close()
  })

  test('the death of the page in the middle of a drag, and of the browser after it', async () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'joistway-kept-'))
    try {
      const first = await lighten(await openBrowserIn(folder), smallVoidInput())
      const page = await newPage(first, url)
      await openSmallVoid(page)
      await kept(page)
      await drag(page, move(40))
      await dragNoted(page, move(40))
      const died = page.waitForEvent('crash')
      page.goto('chrome://crash').catch(() => {})
      await died
      await first.close()
      const second = await lighten(await openBrowserIn(folder), smallVoidInput())
      const again = await newPage(second, url)
      await notice(again, 'recovered').waitFor()
      expect(await firstX(again)).toBe(1_015)
      await second.close()
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  })

  test('a file that is no job: what was changed is still there, to be undone and kept', async () => {
    const page = await inSmallVoid()
    await doIt(page, move(10))
    await openJob(page, 'torn.json', formatJob(smallVoidJob()).slice(0, 900))
    await page.getByRole('dialog', { name: 'torn.json was not opened' }).getByRole('button', { name: 'Back to the job' }).click()
    expect(await firstX(page)).toBe(985)
    await kept(page)
    await page.getByRole('button', { name: 'Undo Move 2 points of Run 1' }).click()
    expect(await firstX(page)).toBe(975)
    await page.reload()
    await benchReady(page)
    expect(await textOf(page)).toBe(formatJob(smallVoidJob()))
    await page.context().close()
  })
})

describe('a browser that cannot keep', () => {
  test('anything says so, lets a person work on, and offers a file', async () => {
    const page = await inSmallVoid(context => context.addInitScript(() => {
      indexedDB.open = () => { throw new DOMException('refused', 'SecurityError') }
    }))
    await notice(page, 'refused').getByText('only in this window').waitFor()
    await doIt(page, move(10))
    expect(await firstX(page)).toBe(985)
    await page.waitForSelector('.work-strip [data-kept="no"]')
    await page.evaluate(() => { Object.assign(window, { showSaveFilePicker: undefined }) })
    const download = page.waitForEvent('download')
    await notice(page, 'refused').getByRole('button', { name: 'Save to a file' }).click()
    expect((await download).suggestedFilename()).toBe('Weaver’s loft.json')
    await page.context().close()
  })

  test('any more keeps what it had, says so, and goes on when there is room again', async () => {
    const page = await inSmallVoid()
    await kept(page)
    await page.evaluate(() => {
      const { put } = IDBObjectStore.prototype
      Object.assign(window, { isFull: true })
      IDBObjectStore.prototype.put = function (...given) {
        if ((window as unknown as { isFull: boolean }).isFull) throw new DOMException('no room', 'QuotaExceededError')
        return put.apply(this, given)
      }
    })
    await doIt(page, move(10))
    await notice(page, 'full').getByText('no more room').waitFor()
    expect(await firstX(page)).toBe(985)
    // another window finds the job as it was
    const other = await page.context().newPage()
    await openBench(other, url)
    await other.waitForFunction(() => joistway.text().includes('Weaver'))
    expect(await firstX(other)).toBe(975)
    await other.close()
    await page.evaluate(() => { Object.assign(window, { isFull: false }) })
    await doIt(page, move(10))
    await kept(page)
    await notice(page, 'full').waitFor({ state: 'detached' })
    await page.reload()
    await benchReady(page)
    expect(await firstX(page)).toBe(995)
    await page.context().close()
  })
})

describe('the same job in two windows', () => {
  test('is changed in one; the other looks on, and may change it once the first has closed', async () => {
    const first = await inSmallVoid()
    await kept(first)
    const second = await newPage(first.context(), url)
    await notice(second, 'elsewhere').waitFor()
    expect(await doIt(second, move(5))).toMatchObject({ ok: false, why: expect.stringContaining('another window') })
    await doIt(first, move(10))
    await second.waitForFunction(() => joistway.text().includes('985'))
    await first.close()
    await notice(second, 'held-here').waitFor()
    expect(await doIt(second, move(10))).toEqual({ ok: true })
    await kept(second)
    expect(await firstX(second)).toBe(995)
    await second.context().close()
  })

  test('is never written over without a word, even where the browser has no locks', async () => {
    const first = await inSmallVoid(context => context.addInitScript(() => { Object.defineProperty(navigator, 'locks', { value: undefined }) }))
    await kept(first)
    const second = await newPage(first.context(), url)
    await kept(second)
    await doIt(first, move(10))
    await kept(first)
    await doIt(second, move(30))
    await notice(second, 'changed-elsewhere').waitFor()
    await first.reload()
    await benchReady(first)
    expect(await firstX(first)).toBe(985)
    await notice(second, 'changed-elsewhere').getByRole('button', { name: 'Keep mine as a copy' }).click()
    await kept(second)
    expect(await firstX(second)).toBe(1_005)
    await second.getByRole('button', { name: 'Jobs' }).click()
    await second.waitForSelector('.jobs-list[data-jobs="2"]')
    const names = await second.locator('.job-name').allTextContents()
    expect(names.sort()).toEqual(['Weaver’s loft', 'Weaver’s loft (copy)'])
    await second.context().close()
  })
})
