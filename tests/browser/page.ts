/** What the browser tests say to the view and read from it. They wait for drawn frames and for words on the page, never for time alone. */
import type { Page } from 'playwright-core'

export interface Drawn {
  readonly frames: number
  readonly drawCalls: number
  readonly triangles: number
  readonly markers: number
  /** geometries and textures that the graphics card holds */
  readonly held: string
  /** mm */
  readonly eye: readonly number[]
  readonly target: readonly number[]
}

export interface Clip { readonly x: number, readonly y: number, readonly width: number, readonly height: number }

export async function openView(page: Page, url: string): Promise<void> {
  await page.goto(url)
  await page.waitForSelector('.void-view[data-drawn]')
  await page.waitForSelector('[data-verdict="ready"]')
  await rest(page)
}

export async function drawn(page: Page): Promise<Drawn> {
  const data = await page.locator('.void-view').evaluate((element) => ({ ...(element as HTMLElement).dataset }))
  const numbers = (text: string | undefined): number[] => (text ?? '').split(' ').map(Number)
  return {
    frames: Number(data['drawn']), drawCalls: Number(data['drawCalls']), triangles: Number(data['triangles']), markers: Number(data['markers']), held: data['held'] ?? '',
    eye: numbers(data['eye']), target: numbers(data['target']),
  }
}

/** Waits until no more frames come: the camera has arrived. A flight draws at every turn of the browser's clock. */
export async function rest(page: Page): Promise<void> {
  let before = -1
  for (;;) {
    const { frames } = await drawn(page)
    if (frames === before) return
    before = frames
    await page.evaluate(() => new Promise((done) => { setTimeout(() => { requestAnimationFrame(() => requestAnimationFrame(done)) }, 300) }))
  }
}

export async function openJob(page: Page, name: string, text: string): Promise<void> {
  await page.setInputFiles('input[type=file]', { name, mimeType: 'application/json', buffer: Buffer.from(text) })
}

export async function openedJob(page: Page, name: string): Promise<void> {
  await page.waitForSelector(`[data-job="${name}"][data-verdict="ready"]`)
  await rest(page)
}

export async function pictureBox(page: Page): Promise<Clip> {
  const box = await page.locator('.void-view').boundingBox()
  if (box === null) throw new Error('pictureBox: there is no picture on the page')
  return box
}

/**
 * Colours of a part of the screen, as the person sees it.
 * @returns how many pixels there are, how many are unlike the paper, how many are near a colour, and how many kinds of colour
 */
export async function coloursOf(page: Page, clip: Clip, near: readonly number[]): Promise<{ all: number, notPaper: number, nearColour: number, kinds: number }> {
  const picture = (await page.screenshot({ clip })).toString('base64')
  return page.evaluate(async ({ picture, near }) => {
    const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${picture}`)).blob())
    const pen = new OffscreenCanvas(image.width, image.height).getContext('2d')!
    pen.drawImage(image, 0, 0)
    const { data } = pen.getImageData(0, 0, image.width, image.height)
    const off = (i: number, to: readonly number[]): number => Math.max(...to.map((value, k) => Math.abs(data[i + k] - value)))
    let notPaper = 0, nearColour = 0
    const kinds = new Set<number>()
    for (let i = 0; i < data.length; i += 4) {
      if (off(i, [0xf3, 0xee, 0xe4]) > 12) notPaper++
      if (off(i, near) < 30) nearColour++
      kinds.add((data[i] >> 3) << 10 | (data[i + 1] >> 3) << 5 | data[i + 2] >> 3)
    }
    return { all: data.length / 4, notPaper, nearColour, kinds: kinds.size }
  }, { picture, near })
}
