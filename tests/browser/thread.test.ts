import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { parseJob, type Job } from '#model/index.ts'
import { inPicture } from '../scene/inPicture.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { emptyLoftInput } from './openLoft.ts'
import { coloursOf, drawn, pictureBox, rest } from './page.ts'
import { kept, lighten, openDrawn, textOf } from './workbench.ts'

const FOV_DEG = 32
const SUPPLY_BLUE = [0x3d, 0x86, 0xc6]
const HELD_YELLOW = [0xf4, 0xc5, 0x31]

let browser: Browser
let page: Page
const faults: string[] = []

beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  const context = await lighten(await browser.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' }), emptyLoftInput(), { withoutPicture: false })
  page = await context.newPage()
  page.on('pageerror', (error) => faults.push(error.message))
  await openDrawn(page, url)
  await page.getByRole('navigation').or(page.getByRole('tablist')).getByText('Thread', { exact: true }).click()
  await page.waitForSelector('.thread')
  await rest(page)
})
afterAll(async () => { await browser?.close() })

const jobNow = async (): Promise<Job> => {
  const read = parseJob(await textOf(page))
  if (!read.ok) throw new Error('the job that the page holds cannot be read')
  return read.job
}
const panel = () => page.locator('.thread')

/** Where a site point is on the screen, px. */
async function onScreen(placeMm: readonly number[]): Promise<{ x: number, y: number }> {
  const box = await pictureBox(page)
  const { eye, target } = await drawn(page)
  const [across, up] = inPicture(eye, target, FOV_DEG, box.width / box.height, placeMm)
  return { x: box.x + (across + 1) / 2 * box.width, y: box.y + (1 - up) / 2 * box.height }
}

async function passByList(joist: string, number: number): Promise<void> {
  await panel().getByLabel('Joist', { exact: true }).selectOption({ value: joist })
  await panel().getByLabel('Opening', { exact: true }).selectOption({ value: String(number) })
  await panel().getByText(/ takes [\d.]+ mm/).first().waitFor()
  await panel().getByRole('button', { name: 'Through here' }).click()
}

/** Number of the opening of a joist that holds a place along it, half-way up: 600 mm pitch and webs of 40 mm (tests/scene/smallVoid.ts). */
async function openingAt(joist: string, xMm: number): Promise<number> {
  const options = await panel().getByLabel('Opening', { exact: true }).locator('option').count()
  return Math.min(options - 1, Math.max(1, Math.round(xMm / 300 + (joist === 'J2' ? -0.5 : 0)) + 1))
}

describe('threading by hand in the workshop', () => {
  let start = ''
  const texts: string[] = []

  test('with nothing in hand it says how it goes, and offers the free spigots', async () => {
    start = await textOf(page)
    texts.push(start)
    expect(await panel().getByRole('list', { name: 'Free spigots and sleeves' }).getByRole('button').count()).toBe(6)
    // the rings in the picture
    const at = await onScreen([795, -60, 2_500])
    expect((await coloursOf(page, { x: at.x - 20, y: at.y - 20, width: 40, height: 40 }, HELD_YELLOW)).nearColour).toBeGreaterThan(60)
    expect(await complaints(page)).toEqual([])
  })

  test('the first run goes through openings from the list, started and laid with Enter', async () => {
    await panel().getByRole('button', { name: /Manifold, spigot s1/ }).focus()
    await page.keyboard.press('Enter')
    for (const [joist, x] of [['J1', 790], ['J2', 785], ['J3', 780]] as const) {
      await panel().getByLabel('Joist', { exact: true }).selectOption({ value: joist })
      await passByList(joist, await openingAt(joist, x))
    }
    await panel().getByLabel('Ends at', { exact: true }).selectOption({ label: 'Left valve box, spigot a, 90 mm' })
    expect(await complaints(page)).toEqual([])
    await page.locator('.void-view').focus()
    await page.keyboard.press('Enter')
    await panel().getByRole('heading', { name: 'Run 1' }).waitFor()
    const job = await jobNow()
    expect(job.runs.map(({ id, name, from, to }) => ({ id, name, from, to }))).toEqual([{ id: 'N1', name: 'Run 1', from: { equipment: 'M1', spigot: 's1' }, to: { equipment: 'V-Left', spigot: 'a' } }])
    texts.push(await textOf(page))
  })

  test('the second is tapped in the picture: spigot, openings, end; a wrong tap is taken back', async () => {
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'All of it' }).click()
    await rest(page)
    const tap = async (place: readonly number[]): Promise<void> => {
      const { x, y } = await onScreen(place)
      await page.mouse.click(x, y)
    }
    await tap([975, -60, 2_500])
    await panel().getByRole('heading', { name: /From Manifold, spigot s2/ }).waitFor()
    await tap([3_000, 400, 2_552])
    await page.keyboard.press('Backspace')
    for (const place of [[1_050, 400, 2_540], [1_200, 1_000, 2_540], [1_275, 1_600, 2_540]]) await tap(place)
    expect(await panel().getByRole('list', { name: 'Passed so far' }).getByRole('listitem').allTextContents()).toEqual(['J1', 'J2', 'J3'].map((id) => expect.stringContaining(`Joist ${id}, opening`)))
    // the ghost is there to be seen, in white: no opaque thing of the void is that white
    const ghost = await onScreen([1_230, 1_300, 2_540])
    expect((await coloursOf(page, { x: ghost.x - 60, y: ghost.y - 60, width: 120, height: 120 }, [0xf4, 0xf2, 0xee])).nearColour).toBeGreaterThan(200)
    await tap([1_275, 2_160, 2_500])
    await page.keyboard.press('Enter')
    await panel().getByRole('heading', { name: 'Run 2' }).waitFor()
    expect((await jobNow()).runs[1]).toMatchObject({ from: { spigot: 's2' }, to: { equipment: 'V-Middle' } })
    texts.push(await textOf(page))
  })

  test('the third makes the job whole: three runs, nothing to put right', async () => {
    await panel().getByRole('button', { name: 'Put down' }).click()
    await panel().getByRole('button', { name: /Manifold, spigot s3/ }).click()
    for (const [joist, x] of [['J1', 1_300], ['J2', 1_600], ['J3', 1_770]] as const) {
      await panel().getByLabel('Joist', { exact: true }).selectOption({ value: joist })
      await passByList(joist, await openingAt(joist, x))
    }
    await panel().getByLabel('Ends at', { exact: true }).selectOption({ label: 'Right valve box, spigot a, 90 mm' })
    await panel().getByText('It goes in: nothing to put right.').waitFor()
    await panel().getByRole('button', { name: 'Lay it' }).click()
    await panel().getByText('Nothing to change on it.').waitFor()
    texts.push(await textOf(page))
    const { runs } = await jobNow()
    expect(runs.map(({ name }) => name)).toEqual(['Run 1', 'Run 2', 'Run 3'])
    await page.getByRole('button', { name: 'All of it' }).click()
    await rest(page)
    const middle = runs[2].waypoints[Math.floor(runs[2].waypoints.length / 2)].at
    const at = await onScreen(middle)
    expect((await coloursOf(page, { x: at.x - 50, y: at.y - 50, width: 100, height: 100 }, SUPPLY_BLUE)).nearColour).toBeGreaterThan(150)
  })

  test('a point pulled in the picture breaks it while it goes; Escape puts it back, a lift makes one step', async () => {
    await rest(page)
    const { runs } = await jobNow()
    const index = 3
    const from = await onScreen(runs[2].waypoints[index].at)
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    for (let i = 1; i <= 4; i++) await page.mouse.move(from.x + 12 * i, from.y + 3 * i)
    await page.waitForSelector('.thread[data-pulling="true"][data-pull-ms]')
    await page.keyboard.press('Escape')
    await page.mouse.up()
    expect(await textOf(page)).toBe(texts.at(-1))

    const eye = (await drawn(page)).eye
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    for (let i = 1; i <= 6; i++) await page.mouse.move(from.x - 25 * i, from.y - 6 * i)
    await page.locator('.void-tag-gap').waitFor()
    await page.mouse.up()
    await page.waitForSelector('.thread[data-pulling="false"]')
    // the camera stayed
    expect((await drawn(page)).eye).toEqual(eye)
    expect((await jobNow()).runs[2].waypoints[index].at).not.toEqual(runs[2].waypoints[index].at)
    expect(await page.locator('.work-strip').getAttribute('data-undo')).toBe(`Move point ${index + 1} of Run 3`)
    texts.push(await textOf(page))
    await page.keyboard.press('Control+z')
    expect(await textOf(page)).toBe(texts.at(-2))
    texts.pop()
  })

  test('a point pulled straight up breaks it, and what the finding says mends it in one step', async () => {
    const { runs } = await jobNow()
    const index = 3
    await panel().getByRole('button', { name: 'Up and down' }).click()
    const [x, y, z] = runs[2].waypoints[index].at
    const from = await onScreen([x, y, z]), to = await onScreen([x, y, z + 60])
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    for (let i = 1; i <= 4; i++) await page.mouse.move(from.x + (to.x - from.x) * i / 4, from.y + (to.y - from.y) * i / 4)
    await page.mouse.up()
    await page.waitForSelector('.thread[data-pulling="false"]')
    const [px, py, pz] = (await jobNow()).runs[2].waypoints[index].at
    // straight up, to within a pixel or two of the picture
    expect(Math.hypot(px - x, py - y)).toBeLessThan(1)
    expect(Math.abs(pz - z - 60)).toBeLessThan(15)
    texts.push(await textOf(page))
    const fault = panel().getByRole('list', { name: 'To change on Run 3' }).getByRole('button').first()
    await fault.waitFor()
    await rest(page)
    const mark = await page.locator('.void-view').getAttribute('data-markers')
    expect(Number(mark)).toBeGreaterThan(0)
    await fault.click()
    await panel().getByRole('button', { name: 'Make this move' }).click()
    texts.push(await textOf(page))
    expect(await textOf(page)).not.toBe(texts.at(-2))
    await panel().getByText(/Cleared\./).waitFor()
    expect(await complaints(page)).toEqual([])
  })

  test('a run is threaded anew through other openings by lists, between the ends that it has, as one step', async () => {
    await page.keyboard.press('Escape')
    await panel().getByRole('button', { name: 'Thread Run 1 anew' }).click()
    expect(await panel().getByRole('list').filter({ has: page.getByRole('button', { name: /again$/ }) }).getByRole('listitem').count()).toBe(3)
    for (const [joist, x] of [['J1', 500], ['J2', 500], ['J3', 600]] as const) {
      await panel().getByLabel('Joist', { exact: true }).selectOption({ value: joist })
      await passByList(joist, await openingAt(joist, x))
    }
    expect(await complaints(page)).toEqual([])
    await panel().getByRole('button', { name: 'Take the new course' }).click()
    await page.waitForSelector('.work-strip[data-undo="Thread Run 1 anew"]')
    texts.push(await textOf(page))
    const [was, now] = [texts.at(-2)!, texts.at(-1)!].map((text) => (JSON.parse(text) as Job).runs[0])
    expect([now.from, now.to, now.waypoints.at(-1)]).toEqual([was.from, was.to, was.waypoints.at(-1)])
    expect(now.waypoints).not.toEqual(was.waypoints)
  })

  test('back to the start and forward to the end gives the same document at every step', async () => {
    for (const text of texts.slice(0, -1).reverse()) {
      await page.keyboard.press('Control+z')
      expect(await textOf(page)).toBe(text)
    }
    expect(await textOf(page)).toBe(start)
    for (const text of texts.slice(1)) {
      await page.keyboard.press('Control+Shift+Z')
      expect(await textOf(page)).toBe(text)
    }
    await kept(page)
    expect(faults).toEqual([])
  })
})
