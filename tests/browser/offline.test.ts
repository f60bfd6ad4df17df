import { appendFileSync, cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { type Server, createServer } from 'node:http'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, describe, expect, inject, test } from 'vitest'
import type { Command } from '#commands/index.ts'
import { smallVoidInput } from '../scene/smallVoid.ts'
import { openBrowser } from '../setup/serve.ts'
import { openJob } from './page.ts'
import { benchReady, demoChunk, doIt, drag, dragNoted, jobOf, kept, lighten, newPage, notice } from './workbench.ts'

const KINDS: Record<string, string> = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.png': 'image/png', '.webmanifest': 'application/manifest+json' }
const folder = mkdtempSync(path.join(tmpdir(), 'joistway-served-'))
const demo = { ...smallVoidInput(), name: 'A demo' }
let server: Server | undefined
let port = 0
let browser: Browser

/** A server of its own for a copy of the built view: it can be stopped, and given a newer version. */
async function serve(): Promise<void> {
  server = createServer((ask, answer) => {
    const file = path.join(folder, ask.url === '/' ? 'index.html' : decodeURIComponent(ask.url!.split('?')[0]))
    try {
      answer.setHeader('content-type', KINDS[path.extname(file)] ?? 'application/octet-stream')
      answer.setHeader('cache-control', 'no-store')
      answer.end(readFileSync(file))
    } catch {
      answer.statusCode = 404
      answer.end()
    }
  })
  await new Promise<void>((done) => { server!.listen(port, '127.0.0.1', done) })
  port = (server.address() as { port: number }).port
}
async function stop(): Promise<void> {
  if (server?.listening !== true) return
  server?.closeAllConnections()
  await new Promise(done => server?.close(done))
}
const url = () => `http://127.0.0.1:${port}/`

async function ownContext({ withoutPicture = true, ...options }: Parameters<Browser['newContext']>[0] & { readonly withoutPicture?: boolean } = {}): Promise<BrowserContext> {
  return lighten(await browser.newContext({ viewport: { width: 700, height: 600 }, ...options }), demo, { withoutPicture })
}
async function openSmallVoid(page: Page): Promise<void> {
  await openJob(page, 'small.json', JSON.stringify(smallVoidInput()))
  await page.waitForSelector('[data-job="small.json"]')
  await page.waitForFunction(() => joistway.text().includes('Weaver'))
  await kept(page)
}
/** everything is kept, and the worker answers for the page */
const isKeptWhole = (page: Page) => page.waitForFunction(async () => (await navigator.serviceWorker.ready).active?.state === 'activated' && navigator.serviceWorker.controller !== null)

beforeAll(async () => {
  cpSync(inject('appFolder'), folder, { recursive: true })
  // here the worker fetches the demo, past what a page's requests can be answered with
  const chunk = readdirSync(path.join(folder, 'assets')).find(file => /^demo-.*\.js$/.test(file))!
  writeFileSync(path.join(folder, 'assets', chunk), demoChunk(demo))
  await serve()
  browser = await openBrowser()
})
beforeEach(async () => { if (server?.listening !== true) await serve() })
afterAll(async () => {
  await browser?.close()
  await stop()
  rmSync(folder, { recursive: true, force: true })
})

describe('with the network off', () => {
  test('the view loads again with the server stopped, with the job that was open, and checks and changes it', async () => {
    const context = await ownContext({ withoutPicture: false })
    const page = await newPage(context, url())
    await openSmallVoid(page)
    await isKeptWhole(page)
    await stop()
    await page.reload()
    await page.waitForSelector('.void-view[data-drawn]')
    await page.getByRole('heading', { name: 'Weaver’s loft' }).waitFor()
    await page.getByRole('heading', { name: 'Everything goes in' }).waitFor()
    await benchReady(page)
    expect(await doIt(page, { do: 'shift-waypoints', run: 'R1', points: [0, 1], by: [10, 0, 0] })).toEqual({ ok: true })
    await kept(page)
    // a part that was never loaded before, and a window that was never open
    await page.getByRole('button', { name: 'Jobs', exact: true }).click()
    await page.waitForSelector('.jobs-list[data-jobs="1"]')
    await page.getByRole('button', { name: 'Look at the demo building' }).click()
    await page.getByRole('heading', { name: 'A demo' }).waitFor()
    const other = await context.newPage()
    await other.goto(url())
    await other.waitForSelector('.void-view[data-drawn]')
    await context.close()
  })

  test('it can be put on the home screen: a name, and icons that are there in their size', async () => {
    const context = await ownContext()
    const page = await newPage(context, url())
    const session = await context.newCDPSession(page)
    const { data, errors } = await session.send('Page.getAppManifest')
    expect(errors).toEqual([])
    const { name, icons } = JSON.parse(data!) as { name: string, icons: { src: string, sizes: string }[] }
    expect(name).toBe('Joistway')
    const sizes = await page.evaluate(list => Promise.all(list.map(async ({ src }) => {
      const image = await createImageBitmap(await (await fetch(src)).blob())
      return `${image.width}x${image.height}`
    })), icons)
    expect(sizes).toEqual(icons.map(icon => icon.sizes))
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors')
    // the browsers of the tests are all private windows
    expect(installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')).toEqual([])
    await context.close()
  })

  test('a newer version waits until it is taken, and loses nothing of a drag that is under way', async () => {
    const context = await ownContext()
    const page = await newPage(context, url())
    await openSmallVoid(page)
    await isKeptWhole(page)
    appendFileSync(path.join(folder, 'sw.js'), '\n// a newer version\n')
    await page.evaluate(async () => { await (await navigator.serviceWorker.ready).update() })
    await notice(page, 'newer').waitFor()
    const command: Command = { do: 'shift-waypoints', run: 'R1', points: [0, 1], by: [25, 0, 0] }
    await drag(page, command)
    await dragNoted(page, command)
    await page.evaluate(() => { Object.assign(window, { isOld: true }) })
    await notice(page, 'newer').getByRole('button', { name: 'Take it now' }).click()
    await page.waitForFunction(() => !('isOld' in window))
    await benchReady(page)
    await notice(page, 'recovered').waitFor()
    expect((await jobOf(page)).runs[0].waypoints[0].at[0]).toBe(1_000)
    expect(await notice(page, 'newer').count()).toBe(0)
    await context.close()
  })

  test('a browser that allows no such worker shows and keeps everything all the same', async () => {
    const context = await ownContext({ serviceWorkers: 'block' })
    const page = await newPage(context, url())
    const faults: string[] = []
    page.on('pageerror', error => faults.push(error.message))
    await openSmallVoid(page)
    await doIt(page, { do: 'edit-job', set: { name: 'Without a worker' } })
    await kept(page)
    await page.reload()
    await page.getByRole('heading', { name: 'Without a worker' }).waitFor()
    expect(await page.evaluate(() => navigator.serviceWorker.controller)).toBeNull()
    expect(faults).toEqual([])
    await context.close()
  })
})
