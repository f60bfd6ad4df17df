/** From nothing to a measured void with its manifold and plenums: by keyboard wherever a tape is in the other hand. */
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type Job, parseJob } from '#model/index.ts'
import { smallVoidInput } from '../scene/smallVoid.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { coloursOf } from './page.ts'
import { kept, lighten, newPage, textOf } from './workbench.ts'

let browser: Browser
let page: Page
const faults: string[] = []
beforeAll(async () => {
  const { url } = await startApp()
  browser = await openBrowser()
  const context = await lighten(await browser.newContext({ viewport: { width: 1280, height: 820 }, serviceWorkers: 'block' }), smallVoidInput(), { withoutPicture: false })
  page = await newPage(context, url)
  page.on('pageerror', error => faults.push(error.message))
})
afterAll(async () => { await browser?.close() })

const goTo = async (place: string) => {
  await page.locator(`[data-place="${place}"]`).click()
  await page.waitForSelector(`[data-open-place="${place}"]`)
  await page.waitForSelector('.plan-picture g')
}
const job = async (): Promise<Job> => {
  const read = parseJob(await textOf(page))
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.job
}
const field = (label: string) => page.getByLabel(label, { exact: true })
/** Where a site point is on the screen, px. */
async function onPlan(x: number, y: number): Promise<{ x: number, y: number }> {
  const box = (await page.locator('.plan-picture').boundingBox())!
  const { pxPerMm, centre } = await page.locator('.plan').evaluate(plan => ({ pxPerMm: Number((plan as HTMLElement).dataset['pxPerMm']), centre: (plan as HTMLElement).dataset['centre']!.split(' ').map(Number) }))
  return { x: box.x + box.width / 2 + (x - centre[0]) * pxPerMm, y: box.y + box.height / 2 - (y - centre[1]) * pxPerMm }
}
async function tap(x: number, y: number): Promise<void> {
  const at = await onPlan(x, y)
  await page.mouse.click(at.x, at.y)
}

describe('measuring up a void from bare paper', () => {
  test('an empty job says what to do first', async () => {
    await goTo('measure-up')
    await page.getByText('Start another job').click()
    await page.locator('[data-start="empty"]').click()
    await page.getByRole('heading', { name: 'Draw the room: tap its corners.' }).waitFor()
    expect((await job()).rooms).toEqual([])
    expect(await complaints(page)).toEqual([])
  })

  test('and beside its verdict it has a button that leads there, over the picture and not under it', async () => {
    await page.locator('[data-place="check"]').click()
    await page.getByRole('button', { name: 'Begin by measuring up' }).click()
    await page.getByRole('heading', { name: 'Draw the room: tap its corners.' }).waitFor()
  })

  test('a room is drawn by typed lengths alone, in whatever unit the tape has', async () => {
    await page.getByRole('button', { name: 'Pick up: Room' }).press('Enter')
    await field('Name (one is made if left empty)').fill('Bedroom')
    await field('x from the datum').press('Enter')
    // right, then left turns: 4200, 3.6 m, back by arrow key, and Enter alone to close
    await page.keyboard.type('4200')
    await page.keyboard.press('Enter')
    await page.keyboard.type('3.6 m')
    await page.keyboard.press('Enter')
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.type('4200')
    await page.keyboard.press('Enter')
    await page.keyboard.press('Enter')
    await page.waitForSelector('.plan-room')
    const { rooms } = await job()
    expect(rooms).toHaveLength(1)
    expect(rooms[0]).toMatchObject({ name: 'Bedroom', outline: [[0, 0], [4_200, 0], [4_200, 3_600], [0, 3_600]] })
  })

  test('its ceiling becomes a zone with one press, and a corner that is dragged is one step', async () => {
    await page.getByRole('button', { name: 'Make its ceiling a zone for ducts' }).click()
    await page.waitForSelector('.plan-zone.is-picked')
    const from = await onPlan(4_200, 3_600), to = await onPlan(4_200, 3_000)
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    for (let i = 1; i <= 6; i++) await page.mouse.move(from.x, from.y + (to.y - from.y) * i / 6)
    await page.mouse.up()
    const dragged = (await job()).zones[0].outline[2]
    expect(Math.hypot(dragged[0] - 4_200, dragged[1] - 3_000)).toBeLessThan(15)
    await page.evaluate(() => { joistway.undo() })
    expect((await job()).zones[0]).toMatchObject({ undersideMm: 2_415, outline: [[0, 0], [4_200, 0], [4_200, 3_600], [0, 3_600]] })
    // and by the arrow keys, a millimetre at a time
    await page.getByRole('button', { name: /^Corner 3 of Bedroom ceiling/ }).press('Alt+ArrowDown')
    expect((await job()).zones[0].outline[2]).toEqual([4_200, 3_599])
    await page.evaluate(() => { joistway.undo() })
    await page.getByRole('button', { name: 'Done' }).click()
  })

  test('joists are laid by two taps that hold to the corners of the room', async () => {
    await page.locator('[data-tool="joist-field"]').click()
    await tap(20, 15)
    await tap(4_190, 3_610)
    await page.waitForSelector('.plan-joist')
    const { joistFields: [laid], sections } = await job()
    expect(sections).toHaveLength(1)
    expect(laid).toMatchObject({ directionDeg: 90, centresMm: 400, lengthMm: 3_600, origin: [36, 0, 2_415] })
    // eleven at 400 in the 4128 between the outer ones, and one that closes the field at the far wall
    expect(laid.joists).toHaveLength(12)
    expect(laid.joists[11].positionMm).toBe(4_128)
    expect(await complaints(page)).toEqual([])
  })

  test('ten joists are measured one after the other by number and Enter, one of them turned over by F', async () => {
    const before = await page.locator('.plan-webs').nth(3).getAttribute('d')
    await field('First node of J1').focus()
    const typed = ['120', '85', '0.14 m', '4 1/2"', '95', '-30', '210', '60', '75', '101.5']
    for (const [i, text] of typed.entries()) {
      await page.keyboard.type(text)
      if (i === 3) {
        await page.keyboard.press('f')
        // the field is drawn as it is typed, before Enter
        expect(await page.locator('.plan-webs').nth(3).getAttribute('d')).not.toBe(before)
      }
      await page.keyboard.press('Enter')
    }
    const { joists } = (await job()).joistFields[0]
    expect(joists.slice(0, 10).map(({ firstNodeMm }) => firstNodeMm)).toEqual([120, 85, 140, 114.3, 95, -30, 210, 60, 75, 101.5])
    expect(joists.map(({ flip }) => flip === true).indexOf(true)).toBe(3)
    expect(joists[10].firstNodeMm).toBeUndefined()
    // the digits of one joist are one step: going back once clears it whole
    await page.evaluate(() => { joistway.undo() })
    expect((await job()).joistFields[0].joists[9].firstNodeMm).toBeUndefined()
    await page.evaluate(() => { joistway.redo() })
    expect((await job()).joistFields[0].joists[9].firstNodeMm).toBe(101.5)
  })

  test('a length that cannot be read is said, and changes nothing', async () => {
    await field('First node of J11').fill('12 34')
    await page.keyboard.press('Enter')
    await page.getByText('more than one number').waitFor()
    expect((await job()).joistFields[0].joists[10].firstNodeMm).toBeUndefined()
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'Done' }).click()
  })
})

describe('tracing over a picture', () => {
  test('a picture is scaled by two tapped points and the length between them, and the job holds only its name and marks', async () => {
    const before = await textOf(page)
    // any picture does: this one is of the window itself, 1280 by 820
    await page.setInputFiles('input[accept="image/*"]', { name: 'ground floor.png', mimeType: 'image/png', buffer: await page.screenshot() })
    await page.waitForSelector('.plan-picture image')
    await page.getByRole('button', { name: 'Set its scale' }).click()
    const first = (await job()).underlay!
    const mmPerPixel = 10_000 / 1_280
    expect(first).toMatchObject({ picture: 'ground floor.png', widthPixels: 1_280, heightPixels: 820 })
    await tap(1_000, 500)
    await page.getByText('Tap the other end of it.').waitFor()
    await tap(3_000, 500)
    await field('How long is it really?').fill('4 m')
    await page.keyboard.press('Enter')
    await page.waitForSelector('text=How long is it really?', { state: 'detached' })
    const { marks: [a, b] } = (await job()).underlay!
    // 2 m apart as it was first shown; twice as large now
    expect(Math.abs(b.pixel[0] - a.pixel[0] - 2_000 / mmPerPixel)).toBeLessThan(2)
    expect(Math.hypot(b.at[0] - a.at[0], b.at[1] - a.at[1])).toBeCloseTo(4_000, 6)
    await page.getByRole('button', { name: 'Take it away' }).click()
    expect(await textOf(page)).toBe(before)
  })
})

describe('setting down', () => {
  test('a manifold and two plenums go where they are tapped, with their number, size and pitch as typed', async () => {
    await goTo('set-down')
    await page.getByRole('heading', { name: /Set down the manifold/ }).waitFor()
    await page.locator('[data-tool="manifold"]').click()
    await field('Number of spigots').fill('4')
    await field('Pitch, middle to middle').fill('110')
    await tap(600, 1_800)
    await page.getByRole('heading', { name: 'Manifold 1' }).waitFor()
    await page.getByRole('button', { name: 'Done' }).click()
    await page.locator('[data-tool="plenum-1"]').click()
    await tap(3_400, 900)
    await tap(3_400, 2_700)
    await page.getByRole('button', { name: 'Put away' }).click()
    const { equipment, rooms } = await job()
    expect(equipment.map(({ kind }) => kind)).toEqual(['manifold', 'plenum', 'plenum'])
    expect(equipment[0].spigots.filter(({ id }) => id.startsWith('p'))).toHaveLength(4)
    expect(Math.abs(equipment[0].spigots[1].at[1] - equipment[0].spigots[0].at[1])).toBeCloseTo(110, 6)
    for (const [i, y] of [[1, 900], [2, 2_700]]) {
      expect(Math.hypot(equipment[i].centre[0] - 3_400, equipment[i].centre[1] - y)).toBeLessThan(15)
      expect(equipment[i]).toMatchObject({ room: rooms[0].id })
    }
    expect(await complaints(page)).toEqual([])
  })

  test('a piece that is picked out is dragged, nudged, turned and set to a typed height, each one step', async () => {
    const was = (await job()).equipment[1]
    await tap(was.centre[0], was.centre[1])
    await page.getByRole('heading', { name: 'Plenum 1' }).waitFor()
    const from = await onPlan(was.centre[0], was.centre[1]), to = await onPlan(was.centre[0] - 500, was.centre[1])
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    for (let i = 1; i <= 5; i++) await page.mouse.move(from.x + (to.x - from.x) * i / 5, from.y)
    await page.mouse.up()
    const moved = (await job()).equipment[1].centre
    expect(Math.abs(moved[0] - (was.centre[0] - 500))).toBeLessThan(2)
    expect(moved.slice(1)).toEqual(was.centre.slice(1))
    await page.locator('.plan-keys').press('ArrowUp')
    expect((await job()).equipment[1].centre[1]).toBe(was.centre[1] + 10)
    await page.getByRole('button', { name: 'Turn 90\u00b0 left' }).click()
    await field('Underside, above datum').fill('2450')
    await page.keyboard.press('Enter')
    const now = (await job()).equipment[1]
    expect(now.centre[2] - now.sizeMm[2] / 2).toBe(2_450)
    expect(now.rotationDeg[2]).toBe(180)
    for (let i = 0; i < 4; i++) await page.evaluate(() => { joistway.undo() })
    expect((await job()).equipment[1]).toEqual(was)
  })

  test('a spigot is lined up with the middle of an opening beside it', async () => {
    await page.getByRole('heading', { name: 'Line a spigot up' }).waitFor()
    await page.getByText('Openings and bays near it').click()
    const offer = page.locator('.offer').first()
    const words = (await offer.textContent())!
    await offer.click()
    await page.getByText(words.replace(/ moves .*?: /, ' is there already: ')).waitFor()
  })

  test('or by pointing: where it would stand is shown first, and the tap moves it there', async () => {
    await page.getByRole('button', { name: 'Point where it shall look' }).click()
    const before = (await job()).equipment[1].centre
    const at = await onPlan(2_000, 1_500)
    await page.mouse.move(at.x, at.y)
    await page.locator('.plan-snap-ghost').waitFor()
    expect((await job()).equipment[1].centre).toEqual(before)
    await page.mouse.click(at.x, at.y)
    await page.locator('.plan-snap-ghost').waitFor({ state: 'detached' })
    expect((await job()).equipment[1].centre).not.toEqual(before)
    expect(await complaints(page)).toEqual([])
    await page.evaluate(() => { joistway.undo() })
    expect((await job()).equipment[1].centre).toEqual(before)
  })

  test('a manifold’s spigots are laid out anew', async () => {
    await page.getByRole('button', { name: 'Done' }).click()
    await page.getByRole('button', { name: /^Manifold 1/ }).click()
    await page.getByText('Lay the spigots out anew').click()
    await field('Number of spigots').fill('3')
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: 'Lay out 3 spigots' }).click()
    expect((await job()).equipment[0].spigots.map(({ id }) => id)).toEqual(['p1', 'p2', 'p3', 'main'])
    await page.evaluate(() => { joistway.undo() })
    await page.getByRole('button', { name: 'Done' }).click()
    await page.getByRole('button', { name: /^Plenum 1/ }).click()
  })

  test('what is taken away with Delete comes back with the button beside it', async () => {
    const before = await textOf(page)
    await page.locator('.plan-keys').press('Delete')
    expect((await job()).equipment).toHaveLength(2)
    await page.getByRole('button', { name: /^Undo: Remove Plenum 1/ }).click()
    expect(await textOf(page)).toBe(before)
    await kept(page)
  })

  test('all of it is on the paper: timber, the manifold\u2019s steel and the air it carries', async () => {
    const box = (await page.locator('.plan-picture').boundingBox())!
    const clip = { x: box.x, y: box.y + 80, width: box.width, height: box.height - 160 }
    expect((await coloursOf(page, clip, [0xe7, 0xd2, 0xae])).nearColour).toBeGreaterThan(2_000)
    expect((await coloursOf(page, clip, [0xbc, 0xc5, 0xc9])).nearColour).toBeGreaterThan(300)
    expect(faults).toEqual([])
  })
})
