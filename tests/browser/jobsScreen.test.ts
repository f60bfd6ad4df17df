import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { bare } from '#app/places/measureUp/voids.ts'
import { type Job, formatJob, parseJob } from '#model/index.ts'
import { smallVoidInput } from '../scene/smallVoid.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { clashing } from './jobs.ts'
import { openJob } from './page.ts'
import { benchReady, doIt, jobOf, kept, lighten, newPage, notice, textOf } from './workbench.ts'

let browser: Browser
let context: BrowserContext
let page: Page
const faults: string[] = []
beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  context = await lighten(await browser.newContext({ viewport: { width: 900, height: 700 }, serviceWorkers: 'block' }), smallVoidInput())
  page = await newPage(context, url)
  page.on('pageerror', error => faults.push(error.message))
})
afterAll(async () => { await browser?.close() })

const sheet = () => page.getByRole('dialog', { name: 'Your jobs' })
const openSheet = async () => {
  await page.getByRole('button', { name: 'Jobs', exact: true }).click()
  await sheet().waitFor()
}
const listed = (count: number) => page.waitForSelector(`.jobs-list[data-jobs="${count}"]`)
const names = () => page.locator('.job-name').allTextContents()
const valid = (text: string): Job => {
  const read = parseJob(text)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.job
}

describe('your jobs', () => {
  test('a newcomer has none, and is told how to get one', async () => {
    await openSheet()
    await sheet().getByText('No jobs kept yet').waitFor()
    expect(await complaints(page)).toEqual([])
  })
  test('an empty job is started, and is what the next visit opens with', async () => {
    await sheet().getByRole('button', { name: 'Start an empty job' }).click()
    await page.getByRole('heading', { name: 'New job' }).waitFor()
    await kept(page)
    await page.reload()
    await benchReady(page)
    await page.getByRole('heading', { name: 'New job' }).waitFor()
    expect(await textOf(page)).toBe(formatJob(bare('New job')))
  })
  test('a file becomes a job of the list; the same file twice is one job', async () => {
    await openJob(page, 'small.json', JSON.stringify(smallVoidInput()))
    await page.getByRole('heading', { name: 'Weaver’s loft' }).waitFor()
    await kept(page)
    await openJob(page, 'second.json', JSON.stringify(clashing()))
    await page.getByRole('heading', { name: 'second try' }).waitFor()
    await kept(page)
    await openJob(page, 'small.json', JSON.stringify(smallVoidInput()))
    await page.waitForSelector('[data-job="small.json"]')
    await kept(page)
    await openSheet()
    await listed(3)
    expect((await names()).sort()).toEqual(['New job', 'Weaver’s loft', 'Weaver’s loft, second try'])
    expect(await page.locator('.job[data-open="true"] .job-name').textContent()).toBe('Weaver’s loft')
    await sheet().getByText(/3 joists, 1 run, changed today at \d\d:\d\d, \d+ kB/).first().waitFor()
    expect(await complaints(page)).toEqual([])
  })
  test('one is renamed by keys alone, another copied, a third thrown away and put back', async () => {
    await page.getByRole('button', { name: 'Rename New job' }).focus()
    await page.keyboard.press('Enter')
    await page.keyboard.type('Attic survey')
    await page.keyboard.press('Enter')
    await sheet().getByText('Attic survey', { exact: true }).waitFor()
    await page.getByRole('button', { name: 'Copy Attic survey' }).click()
    await listed(4)
    await page.getByRole('button', { name: 'Throw away Attic survey', exact: true }).click()
    await listed(3)
    expect(await names()).not.toContain('Attic survey')
    await sheet().getByRole('button', { name: 'Put it back' }).click()
    await listed(4)
    expect(await names()).toContain('Attic survey')
  })
  test('a job of the list is opened, with what was changed in it', async () => {
    await page.getByRole('button', { name: /^Weaver’s loft, second try/ }).click()
    await page.getByRole('heading', { name: 'second try' }).waitFor()
    await page.waitForFunction(() => joistway.text().includes('second try'))
    expect((await jobOf(page)).runs).toHaveLength(2)
  })
  test('on a phone every way of it can be hit with a thumb', async () => {
    await page.setViewportSize({ width: 390, height: 844 })
    await openSheet()
    const small = await page.locator('.top button:visible, dialog button:visible, dialog input:visible').evaluateAll(all => all
      .map(one => ({ words: one.textContent, size: one.getBoundingClientRect() })).filter(({ size }) => size.width < 44 || size.height < 44).map(({ words }) => words))
    expect(small).toEqual([])
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390)
    expect(await complaints(page)).toEqual([])
    await page.keyboard.press('Escape')
    await sheet().waitFor({ state: 'detached' })
    expect(await complaints(page)).toEqual([])
    await page.setViewportSize({ width: 1_400, height: 800 })
  })
})

describe('steps', () => {
  test('go back to the start and forth to the end by keys and by buttons, to the very same file', async () => {
    const start = await textOf(page)
    for (const x of [1_000, 1_050, 1_100]) await doIt(page, { do: 'move-waypoint', run: 'R2', point: 1, to: [x, 700, 2_500] })
    await doIt(page, { do: 'edit-run', id: 'R2', set: { name: 'Kitchen' } })
    const end = await textOf(page)
    await page.getByRole('button', { name: 'Undo Rename Run 2 to Kitchen' }).waitFor()
    for (let i = 0; i < 3; i++) await page.keyboard.press('Control+z')
    await page.getByRole('button', { name: 'Undo Move point 2 of Run 2' }).click()
    await page.waitForSelector('.work-strip[data-undo=""]')
    expect(await textOf(page)).toBe(start)
    await page.keyboard.press('Control+Shift+Z')
    await page.keyboard.press('Control+y')
    await page.getByRole('button', { name: 'Redo Move point 2 of Run 2' }).click()
    await page.getByRole('button', { name: 'Redo Rename Run 2 to Kitchen' }).click()
    await page.waitForSelector('.work-strip[data-redo=""]')
    expect(await textOf(page)).toBe(end)
  })
  test('are not taken back while words are typed', async () => {
    const before = await textOf(page)
    const search = page.getByRole('searchbox')
    await search.fill('joist')
    await search.press('Control+z')
    expect(await textOf(page)).toBe(before)
    await search.fill('')
    await search.evaluate(box => { (box as HTMLElement).blur() })
  })
  test('are followed by the list of findings', async () => {
    const shown = () => page.locator('#tab-findings .tab-count').textContent()
    const before = Number(await shown())
    await doIt(page, { do: 'remove-run', id: 'R2' })
    await page.getByRole('heading', { name: 'Everything goes in' }).waitFor()
    await page.keyboard.press('Control+z')
    await page.waitForFunction(count => document.querySelector('#tab-findings .tab-count')?.textContent === String(count), before)
    expect(before).toBeGreaterThan(0)
  })
})

describe('saving', () => {
  test('by key writes the very file that was picked, again and again, and what it writes reads back the same', async () => {
    await page.evaluate(() => Object.assign(window, {
      // the browser's own private folder stands in for the disk: its files are written in the same way
      showSaveFilePicker: async ({ suggestedName }: { suggestedName: string }) => (await navigator.storage.getDirectory()).getFileHandle(suggestedName, { create: true }),
    }))
    const onDisk = () => page.evaluate(async () => {
      const handle = await (await navigator.storage.getDirectory()).getFileHandle('Weaver’s loft, second try.json')
      return (await handle.getFile()).text()
    })
    await page.keyboard.press('Control+s')
    await notice(page, 'saved').getByText('Saved to Weaver’s loft, second try.json').waitFor()
    expect(await onDisk()).toBe(await textOf(page))
    expect(formatJob(valid(await onDisk()))).toBe(await onDisk())
    await notice(page, 'saved').getByRole('button').click()
    await doIt(page, { do: 'edit-run', id: 'R1', set: { name: 'Bedroom' } })
    await page.keyboard.press('Control+s')
    await notice(page, 'saved').waitFor()
    expect(await onDisk()).toContain('Bedroom')
  })
  test('leaves a file alone that something else has changed meanwhile', async () => {
    await page.evaluate(async () => {
      const handle = await (await navigator.storage.getDirectory()).getFileHandle('Weaver’s loft, second try.json')
      const stream = await handle.createWritable()
      await stream.write('theirs')
      await stream.close()
    })
    await page.keyboard.press('Control+s')
    await notice(page, 'not-saved').getByText('changed by something else').waitFor()
    expect(await page.evaluate(async () => {
      const handle = await (await navigator.storage.getDirectory()).getFileHandle('Weaver’s loft, second try.json')
      return (await handle.getFile()).text()
    })).toBe('theirs')
  })
  test('nothing went wrong behind the page', () => { expect(faults).toEqual([]) })
})
