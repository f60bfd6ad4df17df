/**
 * The whole work in one sitting, from a job with nothing in it to three runs with nothing to put right: once by keys alone, at a bench,
 * and once with a thumb, on a phone. Keys, taps and what is typed are counted and said.
 */
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import { type Job, parseJob } from '#model/index.ts'
import { smallVoidInput } from '../scene/smallVoid.ts'
import { openBrowser, startApp } from '../setup/serve.ts'
import { complaints } from './axe.ts'
import { coloursOf, pictureBox, rest } from './page.ts'
import { lighten, newPage, textOf } from './workbench.ts'

const SUPPLY_BLUE = [0x3d, 0x86, 0xc6]

/** What each run is told to go through; left to themselves the first and the third find no way that they fit. */
const GATES: readonly (readonly (readonly [string, number])[])[] = [[['J4', 2]], [], [['J7', 6]]]

/** One way of working: how a thing is pressed, typed into, chosen from, and a place of the plan told. */
interface Hand {
  press(what: Locator): Promise<void>
  type(what: Locator, text: string): Promise<void>
  choose(what: Locator, option: RegExp): Promise<void>
  place(x: number, y: number): Promise<void>
  count(): string
}

let browser: Browser
let url: string
beforeAll(async () => {
  ({ url } = await startApp())
  browser = await openBrowser()
})
afterAll(async () => { await browser?.close() })

async function optionOf(what: Locator, option: RegExp): Promise<number> {
  const options = await what.locator('option').allTextContents()
  const index = options.findIndex((words) => option.test(words))
  expect(index, `${String(option)} among ${options.join(' | ')}`).toBeGreaterThan(-1)
  return index
}

function byKeys(page: Page): Hand {
  let keys = 0, tabs = 0
  const key = async (name: string): Promise<void> => {
    if (name === 'Tab') tabs++
    else keys++
    await page.keyboard.press(name)
  }
  /** With Tab alone; what cannot be reached so fails the test. */
  const reach = async (what: Locator): Promise<void> => {
    await what.first().waitFor()
    for (let i = 0; i < 120; i++) {
      if (await what.first().evaluate((element) => element === document.activeElement)) return
      await key('Tab')
    }
    throw new Error('Tab does not lead there')
  }
  const type = async (what: Locator, text: string): Promise<void> => {
    await reach(what)
    keys += text.length
    await page.keyboard.press('ControlOrMeta+a')
    await page.keyboard.type(text)
  }
  return {
    async press(what) {
      await reach(what)
      // focus can be seen: it is drawn round or in what has it
      expect(await what.first().evaluate((element) => {
        const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(element)
        return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2 || boxShadow !== 'none'
      })).toBe(true)
      await key('Enter')
    },
    type,
    async choose(what, option) {
      await reach(what)
      const to = await optionOf(what, option), from = await what.evaluate((select) => (select as HTMLSelectElement).selectedIndex)
      for (let i = from; i < to; i++) await key('ArrowDown')
      for (let i = from; i > to; i--) await key('ArrowUp')
    },
    async place(x, y) {
      await type(page.getByLabel('x from the datum', { exact: true }), String(x))
      await type(page.getByLabel('y from the datum', { exact: true }), String(y))
      await key('Enter')
    },
    count: () => `${keys} keys and ${tabs} of Tab`,
  }
}

function byThumb(page: Page): Hand {
  let taps = 0, typed = 0
  return {
    async press(what) {
      taps++
      await what.first().tap()
    },
    async type(what, text) {
      taps++
      typed += text.length
      await what.tap()
      await what.fill(text)
    },
    async choose(what, option) {
      // a phone opens its own list: one tap for it, one in it
      taps += 2
      await what.selectOption({ index: await optionOf(what, option) })
    },
    async place(x, y) {
      taps++
      const box = (await page.locator('.plan-picture').boundingBox())!
      const { pxPerMm, centre } = await page.locator('.plan').evaluate((plan) => ({ pxPerMm: Number((plan as HTMLElement).dataset['pxPerMm']), centre: (plan as HTMLElement).dataset['centre']!.split(' ').map(Number) }))
      await page.touchscreen.tap(box.x + box.width / 2 + (x - centre[0]) * pxPerMm, box.y + box.height / 2 - (y - centre[1]) * pxPerMm)
    },
    count: () => `${taps} taps, ${typed} keys`,
  }
}

async function jobOf(page: Page): Promise<Job> {
  const read = parseJob(await textOf(page))
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.job
}

describe.each([
  { way: 'by keys alone, at a bench', viewport: { width: 1440, height: 900 }, phone: false },
  { way: 'with a thumb, on a phone', viewport: { width: 390, height: 844 }, phone: true },
])('from nothing to three runs that go in, $way', ({ viewport, phone }) => {
  let page: Page
  let hand: Hand
  const faults: string[] = []
  beforeAll(async () => {
    const context = await lighten(await browser.newContext({ viewport, isMobile: phone, hasTouch: phone, reducedMotion: 'reduce', serviceWorkers: 'block' }), smallVoidInput(), { withoutPicture: false })
    page = await newPage(context, url)
    page.on('pageerror', (error) => faults.push(error.message))
    hand = phone ? byThumb(page) : byKeys(page)
  })
  const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
  const field = (label: string) => page.getByLabel(label, { exact: true })

  test('an empty job is begun, and says where to begin', async () => {
    await hand.press(button('Jobs'))
    await hand.press(button('Start an empty job'))
    await hand.press(button('Begin by measuring up'))
    await page.getByRole('heading', { name: 'Draw the room: tap its corners.' }).waitFor()
  })

  test('the room, its ceiling and its joists', async () => {
    await hand.press(button('Pick up: Room'))
    await hand.press(button('Put it there'))
    for (const [way, lengthMm] of [['right', '4200'], ['up', '3600'], ['left', '4200']] as const) {
      if (way === 'left') await hand.press(button('left'))
      await hand.type(field(`Length to the next, ${way}`), lengthMm)
      await hand.press(button('Next point'))
    }
    await hand.press(button('Close the outline'))
    await hand.press(button('Make its ceiling a zone for ducts'))
    await hand.press(button('Done'))
    await hand.press(button('Pick up: Joists'))
    await hand.type(field('x from the datum'), '1200')
    await hand.press(button('Put it there'))
    await hand.type(field('How far across'), '3000')
    await hand.type(field('How far up'), '3600')
    await hand.press(button('Put it there'))
    await hand.press(button('Done'))
    const { rooms, zones, joistFields } = await jobOf(page)
    expect(rooms[0].outline).toEqual([[0, 0], [4_200, 0], [4_200, 3_600], [0, 3_600]])
    expect(zones).toHaveLength(1)
    expect(joistFields[0]).toMatchObject({ directionDeg: 0, centresMm: 400, lengthMm: 3_000 })
    expect(await complaints(page)).toEqual([])
  })

  test('a manifold of three spigots and three plenums', async () => {
    await hand.press(page.locator('[data-place="set-down"]'))
    await hand.press(page.locator('[data-tool="manifold"]'))
    await hand.type(field('Number of spigots'), '3')
    await hand.place(500, 1_800)
    await hand.press(button('Done'))
    await hand.press(page.locator('[data-tool="plenum-1"]'))
    for (const [x, y] of [[3_370, 950], [3_780, 1_800], [3_370, 2_650]] as const) await hand.place(x, y)
    await hand.press(button('Put away'))
    const { equipment } = await jobOf(page)
    expect(equipment.map(({ kind, spigots }) => [kind, spigots.length])).toEqual([['manifold', 4], ['plenum', 1], ['plenum', 1], ['plenum', 1]])
    expect(await complaints(page)).toEqual([])
  })

  test('three runs, two of them through openings that are chosen', async () => {
    await hand.press(page.locator('[data-place="thread"]'))
    await page.waitForSelector('.void-view[data-drawn]')
    const free = page.getByRole('list', { name: 'Free spigots and sleeves' })
    for (const [i, gates] of GATES.entries()) {
      const k = i + 1
      await hand.press(free.getByRole('button', { name: new RegExp(`Manifold 1, spigot p${k}`) }))
      for (const [joist, opening] of gates) {
        await hand.choose(field('Joist'), new RegExp(`^Joist ${joist}\\b`))
        await hand.choose(field('Opening'), new RegExp(`^(no\\. |Opening )?${opening}\\b`))
        await hand.press(button('Through here'))
      }
      await hand.choose(field('Ends at'), new RegExp(`Plenum ${k}`))
      await hand.press(button('Lay it'))
      await page.getByRole('heading', { name: `Run ${k}`, exact: true }).waitFor()
      await hand.press(button('Put down'))
    }
    expect((await jobOf(page)).runs.map(({ name, to }) => [name, 'equipment' in to])).toEqual([['Run 1', true], ['Run 2', true], ['Run 3', true]])
    expect(await complaints(page)).toEqual([])
  })

  test('nothing is to be put right, on the page and by the check that the command line runs', async () => {
    await hand.press(page.locator('[data-place="check"]'))
    await page.getByRole('heading', { name: 'Everything goes in' }).waitFor()
    await page.getByText(/^3 runs checked and clear/).waitFor()
    expect(checkJob(assemble(await jobOf(page))).filter(({ severity }) => severity !== 'advice')).toEqual([])
    await rest(page)
    expect((await coloursOf(page, await pictureBox(page), SUPPLY_BLUE)).nearColour).toBeGreaterThan(150)
    expect(faults).toEqual([])
    console.log(`from an empty job to three runs that go in, ${phone ? 'with a thumb' : 'by keys alone'}: ${hand.count()}`)
  })
})

