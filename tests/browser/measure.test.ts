/** Unrolling, joists, trial sizes and looking round, in a real browser. */
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { joistElevation, whereCanGo } from '#checks/joistElevation.ts'
import { clearancesAt } from '#checks/strip.ts'
import { tape, type Tape } from '#checks/tape.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { trialList } from '#routing/trialList.ts'
import { inPicture } from '../scene/inPicture.ts'
import { smallVoidJob } from '../scene/smallVoid.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { clashing } from './jobs.ts'
import { coloursOf, drawn, pictureBox, rest } from './page.ts'
import { jobOf, lighten, openBench, textOf } from './workbench.ts'

const FOV_DEG = 32
const TAPE_YELLOW = [0xf4, 0xc5, 0x31]
const PAPER = [0xf3, 0xee, 0xe4]
const checks = contextFor(assemble(smallVoidJob(clashing())))
let browser: Browser
let page: Page
const faults: string[] = []

beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  const context = await lighten(await browser.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' }), clashing(), { withoutPicture: false })
  context.setDefaultTimeout(60_000)
  page = await context.newPage()
  page.on('pageerror', (error) => faults.push(error.message))
  await openBench(page, url)
  await page.waitForSelector('.void-view[data-drawn]')
  await page.waitForSelector('[data-verdict="ready"]')
  await goTo('strip')
  await page.waitForSelector('.strip-slider')
  await rest(page)
})
afterAll(async () => { await browser?.close() })

const goTo = (place: string) => page.locator(`[data-place="${place}"]`).click()

/** Where a site point is on the screen, px. */
async function onScreen(placeMm: readonly number[]): Promise<{ x: number, y: number }> {
  const box = await pictureBox(page)
  const { eye, target } = await drawn(page)
  const [across, up] = inPicture(eye, target, FOV_DEG, box.width / box.height, placeMm)
  return { x: box.x + (across + 1) / 2 * box.width, y: box.y + (1 - up) / 2 * box.height }
}
const near = async (placeMm: readonly number[], colour: readonly number[], px = 34) => {
  const { x, y } = await onScreen(placeMm)
  return coloursOf(page, { x: x - px, y: y - px, width: 2 * px, height: 2 * px }, colour)
}
const placeOn = (runIndex: number, stationMm: number): number[] => {
  const at = [0, 0, 0]
  pointAt(checks.runs[runIndex].placed.centreline, stationMm, at)
  return at
}

describe('a run unrolled', () => {
  const { lengthMm } = checks.runs[0].placed.centreline

  test('the pointer moved in the strip moves the ring in the void, and says the clearances of that place', async () => {
    await page.getByLabel('Run', { exact: true }).selectOption('R1')
    await page.getByRole('button', { name: 'From below' }).click()
    await rest(page)
    const slider = page.getByRole('slider', { name: /Place along Run 1/ })
    await slider.focus()
    await page.keyboard.press('Home')
    await rest(page)
    expect((await near(placeOn(0, 0), TAPE_YELLOW)).nearColour).toBeGreaterThan(60)
    await page.keyboard.press('End')
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowLeft')
    await rest(page)
    expect((await near(placeOn(0, lengthMm - 30), TAPE_YELLOW)).nearColour).toBeGreaterThan(60)
    expect((await near(placeOn(0, 0), TAPE_YELLOW)).nearColour).toBeLessThan(10)
    const { below } = clearancesAt(checks, 0, lengthMm - 30)
    const said = await page.locator('[data-way="below"]').textContent()
    expect(said).toContain(`${(Math.round((below.freeMm ?? NaN) * 10) / 10).toLocaleString('en-GB')} mm`)
    expect(said).toContain(below.part?.name)
    expect(await complaints(page)).toEqual([])
  })

  test('a run that is touched in the void puts the pointer where it was touched', async () => {
    const stationMm = 1_400
    await page.getByRole('button', { name: 'From above' }).click()
    await rest(page)
    const at = placeOn(0, stationMm)
    const { x, y } = await onScreen([at[0], at[1], at[2] + 45])
    await page.mouse.click(x, y)
    await page.waitForFunction(() => Number(document.querySelector<HTMLElement>('.strip-slider')?.dataset['station']) > 100)
    expect(Math.abs(Number(await page.locator('.strip-slider').getAttribute('data-station')) - stationMm)).toBeLessThan(25)
  })

  test('a finger or mouse that is drawn along the strip takes the pointer with it', async () => {
    const box = (await page.locator('.strip-slider svg').boundingBox())!
    await page.mouse.move(box.x + box.width / 2, box.y + 90)
    await page.mouse.down()
    await page.mouse.move(box.x + box.width * 0.75, box.y + 90, { steps: 4 })
    await page.mouse.up()
    const half = box.width - 56
    expect(Math.abs(Number(await page.locator('.strip-slider').getAttribute('data-station')) - (box.width * 0.75 - 28) / half * lengthMm)).toBeLessThan(10)
  })

  test('a point pulled on the strip stays under the pointer and is one step; Shift and an arrow move it by 50 mm', async () => {
    await page.getByLabel('Run', { exact: true }).selectOption('R2')
    const before = await textOf(page), handle = page.getByRole('button', { name: /^Point 2:/ })
    const box = (await handle.boundingBox())!, at = [box.x + 22, box.y + 22]
    await page.mouse.move(at[0], at[1])
    await page.mouse.down()
    await page.mouse.move(at[0] - 30, at[1] + 12, { steps: 5 })
    await page.locator('[data-undo="Move point 2 of Run 2"]').waitFor()
    const now = (await handle.boundingBox())!
    expect(Math.hypot(now.x + 22 - at[0] + 30, now.y + 22 - at[1] - 12)).toBeLessThan(14)
    await page.mouse.up()
    const [x, y, z] = (await jobOf(page)).runs[1].waypoints[1].at
    expect(z).toBeLessThan(2_500)
    await page.keyboard.press('Shift+ArrowUp')
    expect((await jobOf(page)).runs[1].waypoints[1].at).toEqual([x, y, z + 50])
    expect(await complaints(page)).toEqual([])
    // the pull and the step: two steps and no more
    await page.keyboard.press('Control+z')
    await page.keyboard.press('Control+z')
    expect(await textOf(page)).toBe(before)
  })
})

describe('a joist seen square on', () => {
  test('each duct\u2019s spare is the one that the check measures, and a typed size is counted as the check counts it', async () => {
    await goTo('joist')
    for (const [joistIndex, { id }] of checks.assembly.joists.entries()) {
      await page.getByLabel('Joist', { exact: true }).selectOption(id)
      const told = await page.locator('[data-duct]').evaluateAll((all) => all.map((one) => [(one as HTMLElement).dataset['duct'], (one as HTMLElement).dataset['spare']]))
      const expected = joistElevation(checks, joistIndex).ducts.map(({ run, spareMm }) => [run.id, String(spareMm ?? '')])
      expect(told.toSorted()).toEqual(expected.toSorted())
      expect(told.length).toBeGreaterThan(0)
    }
    await page.getByLabel('Where can this size go?').fill('12.5 cm')
    await page.keyboard.press('Enter')
    const choices = whereCanGo(checks, 125)
    await page.getByText(`125 mm goes through ${choices.length} openings; ${choices.filter(({ isFree }) => isFree).length} of them`).waitFor()
    expect(await complaints(page)).toEqual([])
  })

  test('the colours of the openings are in the void while the place is open, and only then', async () => {
    const kinds = async () => (await coloursOf(page, await pictureBox(page), [0x9c, 0xc7, 0x7c])).nearColour
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'All of it' }).click()
    await rest(page)
    const coloured = await kinds()
    await page.getByLabel('Colour the openings in the view').uncheck()
    await rest(page)
    expect(coloured).toBeGreaterThan(await kinds() + 300)
    await page.getByLabel('Colour the openings in the view').check()
    expect((await drawn(page)).drawCalls).toBeLessThanOrEqual(30)
  })
})

describe('trial sizes', () => {
  test('the list is sorted by what fails first, and a row that is clicked flies to where that run touches', async () => {
    const text = await textOf(page)
    await goTo('trial')
    await page.getByText('Nothing in the job changes.', { exact: true }).waitFor()
    await page.waitForSelector('[data-trial]')
    const { rows } = trialList(checks, { growMm: 0 })
    expect(await page.locator('[data-trial]').evaluateAll((all) => all.map((one) => (one as HTMLElement).dataset['trial']))).toEqual(rows.map(({ runId }) => runId))
    for (const { runId, together: { at } } of rows.toReversed()) {
      await page.locator(`[data-trial="${runId}"]`).click()
      await rest(page)
      const { target } = await drawn(page)
      expect(Math.hypot(target[0] - at!.x, target[1] - at!.y, target[2] - at!.z)).toBeLessThan(1)
    }
    const { triangles } = await drawn(page)
    await page.getByLabel('Larger by (below 0 is smaller)').fill('30')
    await page.keyboard.press('Enter')
    await rest(page)
    expect((await drawn(page)).triangles).toBeGreaterThan(triangles)
    expect((await drawn(page)).drawCalls).toBeLessThanOrEqual(30)
    const failing = trialList(checks, { growMm: 30 }).rows.filter(({ fails }) => fails).length
    expect(await page.locator('.trial-mark-bad').count()).toBe(failing)
    expect(await textOf(page)).toBe(text)
    expect(await complaints(page)).toEqual([])
  })
})

describe('looking round', () => {
  test('the tape reads between two things what the check measures', async () => {
    await goTo('looking')
    const stack = checks.assembly.solids.count
    const solidIndex = Array.from({ length: stack }, (_, i) => i).find((i) => checks.assembly.parts.ownerIdOf(i) === 'P1')!
    const read = tape(checks, { kind: 'run', runIndex: 0 }, { kind: 'solid', solidIndex }) as Tape
    await page.getByLabel('From', { exact: true }).selectOption({ label: 'Run 1' })
    await page.getByLabel('To', { exact: true }).selectOption({ label: 'Soil stack' })
    await page.locator('.reading', { hasText: read.words }).waitFor()
    // and its yellow line lies between the two points
    await page.getByRole('button', { name: 'From above' }).click()
    await rest(page)
    const middle = (['x', 'y', 'z'] as const).map((k) => read.onFrom[k] * 0.3 + read.onTo[k] * 0.7)
    expect((await near(middle, TAPE_YELLOW, 8)).nearColour).toBeGreaterThan(20)
    await page.getByRole('button', { name: 'Roll it up' }).click()
    expect(await complaints(page)).toEqual([])
  })

  test('a cut across the joists leaves nothing of what lies before it, and its handle drags it on', async () => {
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'From above' }).click()
    await rest(page)
    const before = [300, 400, 2_704], beyond = [3_000, 400, 2_704]
    const paper = async (place: readonly number[]) => {
      const { all, nearColour } = await near(place, PAPER, 4)
      return nearColour / all
    }
    expect(await paper(before)).toBeLessThan(0.2)
    await page.getByRole('button', { name: 'Across the joists' }).click()
    await page.getByLabel('Distance from the datum', { exact: true }).fill('1.5 m')
    await page.keyboard.press('Enter')
    await rest(page)
    expect(await paper(before)).toBe(1)
    expect(await paper(beyond)).toBeLessThan(0.2)
    // the handle: in the middle of the top of the plane's outline, 150 mm above the void, whose zone goes from y = -400 to 2600
    const handle = await onScreen([1_502, 1_100, 2_870])
    const to = await onScreen([3_502, 1_100, 2_870])
    await page.mouse.move(handle.x, handle.y)
    await page.mouse.down()
    await page.mouse.move(to.x, to.y, { steps: 5 })
    await page.mouse.up()
    await rest(page)
    expect(Math.abs(Number.parseFloat(await page.getByLabel('Distance from the datum', { exact: true }).inputValue()) - 3_500)).toBeLessThan(25)
    expect(await paper(beyond)).toBe(1)
  })

  test('a view that is kept brings back the camera, what was hidden and the cut, and is in the job with its note', async () => {
    await page.locator('[data-kind="web"]').click()
    await page.locator('[data-kind="web"]').click()
    await page.locator('[data-kind="chord"]').click()
    await page.getByLabel('Name', { exact: true }).fill('Before the plasterboard')
    await page.getByLabel('Note for the client').fill('The stack stays where it is.')
    await page.getByRole('button', { name: 'Keep this view' }).click()
    const kept = await drawn(page)
    const shown = page.locator('[data-view]')
    await shown.waitFor()
    await page.getByRole('button', { name: 'Whole', exact: true }).click()
    await page.getByRole('button', { name: 'Draw everything' }).click()
    await page.getByRole('button', { name: 'From below' }).click()
    await rest(page)
    expect(Math.hypot(...(await drawn(page)).eye.map((value, k) => value - kept.eye[k]))).toBeGreaterThan(1_000)
    await shown.click()
    await rest(page)
    const back = await drawn(page)
    expect(Math.hypot(...back.eye.map((value, k) => value - kept.eye[k]))).toBeLessThan(2)
    expect(Math.hypot(...back.target.map((value, k) => value - kept.target[k]))).toBeLessThan(2)
    expect(await page.locator('[data-kind="web"]').getAttribute('aria-label')).toContain('hidden')
    expect(await page.locator('[data-kind="chord"]').getAttribute('aria-label')).toContain('faint')
    expect(await page.getByRole('button', { name: 'Across the joists' }).getAttribute('aria-pressed')).toBe('true')
    const { views } = JSON.parse(await textOf(page)) as { views: unknown[] }
    expect(views).toMatchObject([{ name: 'Before the plasterboard', note: 'The stack stays where it is.', hidden: ['web'], faint: ['chord'], cut: { towards: [-1, 0, 0] } }])
    expect(await complaints(page)).toEqual([])
  })

  test('nothing went wrong unseen', () => {
    expect(faults).toEqual([])
  })
})
