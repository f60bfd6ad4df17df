/** The view in a browser that draws by software: its first picture, what each way of looking draws, dragging, and the longest that the window stands still. */
import { readFileSync } from 'node:fs'
import path from 'node:path'
import { gzipSync } from 'node:zlib'
import type { Browser, Page, Request } from 'playwright-core'
import { formatJob } from '#model/write.ts'
import type { Job } from '#model/index.ts'
import { largeJob } from '../../fixtures/generate/largeJob.ts'
import { buildApp } from '../setup/buildApp.ts'
import { openBrowser } from '../setup/launchBrowser.ts'
import type { Bench } from './bench.ts'
import { instanceOf } from './instance.ts'
import { summary } from './measure.ts'
import type { Cell, Table } from './table.ts'

const LOADS = 5, DRAG_STEPS = 60
/** of a laptop at the bench */
const SIZE = { width: 1440, height: 900 }

export const view: Bench = {
  name: 'view',
  async run({ isQuick }) {
    const app = await buildApp()
    const browser = await openBrowser()
    try {
      const jobs: [string, Job | null][] = [['demo building', null], ['one house', instanceOf('S', 'threaded').job], ['ten houses', instanceOf('M', 'threaded').job]]
      if (!isQuick) jobs.push(['estate of a hundred', largeJob({ seed: 1, houses: 100 })])
      const views: Cell[][] = [], still: Cell[][] = [], drags: Cell[][] = []
      const first = await firstPictures(browser, app.url, app.folder, isQuick ? 2 : LOADS)
      for (const [name, job] of jobs) {
        const page = await freshPage(browser, app.url)
        await page.waitForSelector('[data-verdict="ready"]')
        await atRest(page)
        const act = async (what: string, doIt: () => Promise<unknown>): Promise<void> => {
          await page.evaluate(() => { longTasks.length = 0 })
          await doIt()
          await atRest(page)
          const longest = await page.evaluate(() => Math.max(0, ...longTasks))
          const { calls, triangles } = await drawnNow(page)
          views.push([name, what, calls, triangles])
          still.push([name, what, longest])
        }
        if (job !== null) await act('open the file', async () => {
          await page.setInputFiles('input[type=file]', { name: 'bench.json', mimeType: 'application/json', buffer: Buffer.from(formatJob(job)) })
          await page.waitForSelector('[data-job="bench.json"][data-verdict="ready"]', { timeout: 240_000 })
        })
        await act('the whole', () => page.getByRole('button', { name: 'All of it' }).click())
        if (await page.locator('.row').count() > 0) await act('a finding picked out', () => page.locator('.row').first().click())
        await act('a run picked out', async () => {
          await page.keyboard.press('Escape')
          await page.getByRole('tab', { name: 'Runs' }).click()
          await page.locator('.row').first().click()
        })
        drags.push([name, ...await dragged(page)])
        for (const place of ['measure-up', 'thread', 'strip', 'joist', 'trial', 'looking', 'check']) await act(`go to ${place}`, () => page.locator(`[data-place="${place}"]`).click())
        await page.close()
      }
      return [first, {
        title: 'Dragging a point of a run', head: ['job', 'frames a second', 'geometry and findings of a step: median ms', '99th of 100', 'draw calls', 'triangles'], rows: drags,
        notes: [`${DRAG_STEPS} steps of 2 mm at ${SIZE.width} x ${SIZE.height}, each with its own drawn frame; the step is the bench’s whole answer, the picture not counted`],
      }, { title: 'Drawn', head: ['job', 'view', 'draw calls', 'triangles'], rows: views }, {
        title: 'Longest that the window stands still, ms', head: ['job', 'while', 'longest task'], rows: still, notes: ['tasks below 50 ms are not told by the browser and count as 0'],
      }]
    } finally {
      await browser.close()
      await app.close()
    }
  },
}

declare global {
  // eslint-disable-next-line no-var
  var longTasks: number[], firstPictureMs: number | undefined
}

async function freshPage(browser: Browser, url: string, hear: (request: Request) => void = () => {}): Promise<Page> {
  const context = await browser.newContext({ viewport: SIZE })
  context.setDefaultTimeout(120_000)
  const page = await context.newPage()
  await page.addInitScript(() => {
    globalThis.longTasks = []
    new PerformanceObserver((list) => { for (const { duration } of list.getEntries()) longTasks.push(duration) }).observe({ type: 'longtask' })
    const watch = new MutationObserver(() => {
      if (document.querySelector('.void-view[data-drawn]') === null) return
      globalThis.firstPictureMs = performance.now()
      watch.disconnect()
    })
    watch.observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-drawn'] })
  })
  page.on('requestfinished', hear)
  await page.goto(url)
  return page
}

async function firstPictures(browser: Browser, url: string, folder: string, loads: number): Promise<Table> {
  const times: number[] = []
  let before = 0, after = 0
  for (let n = 0; n < loads; n++) {
    const asked: Request[] = []
    const page = await freshPage(browser, url, (request) => { asked.push(request) })
    await page.waitForFunction(() => globalThis.firstPictureMs !== undefined)
    await page.waitForSelector('[data-verdict="ready"]')
    const { origin, firstMs } = await page.evaluate(() => ({ origin: performance.timeOrigin, firstMs: globalThis.firstPictureMs! }))
    before = after = 0
    for (const request of asked) {
      const { pathname } = new URL(request.url())
      if (!pathname.endsWith('.js') || pathname.startsWith('/sw') || pathname.startsWith('/workbox')) continue
      const bytes = gzipSync(readFileSync(path.join(folder, pathname))).length
      if (request.timing().startTime - origin < firstMs) before += bytes
      else after += bytes
    }
    times.push(firstMs)
    await page.context().close()
  }
  const { medianMs, leastMs, mostMs } = summary(times)
  return {
    title: 'First picture of the demo building, cold, from a local server',
    head: ['loads', 'least ms', 'median ms', 'most ms', 'JavaScript before it, kB gzip', 'after it'], rows: [[loads, leastMs, medianMs, mostMs, before / 1e3, after / 1e3]],
  }
}

async function drawnNow(page: Page): Promise<{ calls: number, triangles: number, frames: number }> {
  const data = await page.locator('.void-view').evaluate((element) => ({ ...(element as HTMLElement).dataset }))
  return { calls: Number(data['drawCalls']), triangles: Number(data['triangles']), frames: Number(data['drawn']) }
}

/** Until no frame has come for a while. */
async function atRest(page: Page): Promise<void> {
  for (let before = -1; ;) {
    const { frames } = await drawnNow(page)
    if (frames === before) return
    before = frames
    await page.waitForTimeout(900)
  }
}

async function dragged(page: Page): Promise<Cell[]> {
  await page.waitForSelector('.work-strip', { state: 'attached' })
  await page.waitForFunction(() => 'joistway' in globalThis)
  const { stepsMs, framesPerS } = await page.evaluate(async (steps) => {
    const bench = (globalThis as unknown as { joistway: { text: () => string, updateDrag: (command: unknown) => unknown, cancelDrag: () => void } }).joistway
    const { runs } = JSON.parse(bench.text()) as { runs: { id: string, waypoints: { at: number[] }[] }[] }
    const chosen = document.querySelector('[data-run][aria-current="true"]')?.getAttribute('data-run')
    const run = runs.find(({ id, waypoints }) => id === chosen && waypoints.length > 2) ?? runs.find(({ waypoints }) => waypoints.length > 2)!
    const [x, y, z] = run.waypoints[1].at
    const picture = document.querySelector<HTMLElement>('.void-view')!
    const stepsMs: number[] = []
    const start = performance.now()
    for (let i = 1; i <= steps; i++) {
      const drawn = picture.dataset['drawn']
      const from = performance.now()
      bench.updateDrag({ do: 'move-waypoint', run: run.id, point: 1, to: [x, y + 2 * i, z] })
      stepsMs.push(performance.now() - from)
      while (picture.dataset['drawn'] === drawn) await new Promise((done) => { requestAnimationFrame(done) })
    }
    const framesPerS = steps / (performance.now() - start) * 1_000
    bench.cancelDrag()
    return { stepsMs, framesPerS }
  }, DRAG_STEPS)
  const { calls, triangles } = await drawnNow(page)
  const sorted = stepsMs.toSorted((a, b) => a - b)
  return [framesPerS, summary(stepsMs).medianMs, sorted[Math.floor(0.99 * (sorted.length - 1))], calls, triangles]
}
