/** As built for development, where React mounts everything, takes it away and mounts it again: the picture must not be left on what was taken away. */
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Browser } from 'playwright-core'
import { type ViteDevServer, createServer } from 'vite'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openBrowser } from '../setup/serve.ts'
import { coloursOf, drawn, pictureBox, rest } from './page.ts'

let browser: Browser
let server: ViteDevServer
beforeAll(async () => {
  const configFile = path.join(fileURLToPath(new URL('../../', import.meta.url)), 'vite.config.ts')
  server = await createServer({ configFile, logLevel: 'error', server: { host: '127.0.0.1', port: 0, hmr: false } })
  await server.listen()
  browser = await openBrowser()
})
afterAll(async () => {
  await browser?.close()
  await server?.close()
})

test('mounted twice, there is one picture, it is not blank, and the first left nothing behind', async () => {
  const page = await browser.newPage({ viewport: { width: 700, height: 600 } })
  page.setDefaultTimeout(90_000)
  const faults: string[] = []
  page.on('pageerror', (error) => faults.push(error.message))
  page.on('console', (message) => { if (message.type() === 'error') faults.push(message.text()) })
  const address = server.httpServer?.address()
  if (address == null || typeof address === 'string') throw new Error('the server has no port')
  await page.goto(`http://127.0.0.1:${address.port}/`)
  await page.waitForSelector('[data-verdict="ready"]')
  await page.waitForSelector('.void-view[data-drawn]')
  await rest(page)
  expect(await page.locator('canvas').count()).toBe(1)
  const { all, notPaper, kinds } = await coloursOf(page, await pictureBox(page), [0, 0, 0])
  expect(notPaper / all).toBeGreaterThan(0.1)
  expect(kinds).toBeGreaterThan(100)
  const { frames } = await drawn(page)
  await page.getByRole('button', { name: 'From above' }).click()
  await rest(page)
  expect((await drawn(page)).frames).toBeGreaterThan(frames)
  expect(faults).toEqual([])
})
