/** What the tests of kept work say to a window: they change the job as a script does, and wait for what the page says of itself. */
import type { BrowserContext, Page } from 'playwright-core'
import type { Command } from '#commands/index.ts'
import type { JobInput } from '#model/index.ts'
import type { ScriptDoor } from '#app/editing/scriptDoor.ts'

declare global {
  // eslint-disable-next-line no-var
  var joistway: ScriptDoor
}

/**
 * A context whose pages open with a job that is quick to check in the place of the demo.
 * @param withoutPicture no 3D either, which is most of what a page costs under software rendering and says nothing about what is kept
 */
export async function lighten(context: BrowserContext, job: JobInput, { withoutPicture = true } = {}): Promise<BrowserContext> {
  context.setDefaultTimeout(60_000)
  await context.route('**/assets/demo-*.js', route => route.fulfill({ contentType: 'text/javascript', body: demoChunk(job) }))
  if (withoutPicture) await context.addInitScript(() => {
    const { getContext } = HTMLCanvasElement.prototype
    HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, kind: string, ...rest: unknown[]) {
      return kind.startsWith('webgl') ? null : (getContext as (...given: unknown[]) => unknown).call(this, kind, ...rest)
    } as typeof getContext
  })
  return context
}

/** What the built file of the demo would be with another job in it. */
export function demoChunk(job: JobInput): string {
  return `export default ${JSON.stringify(JSON.stringify(job))}`
}

/** The page with its bench ready; the picture need not be there. */
export async function openBench(page: Page, url: string): Promise<void> {
  await page.goto(url)
  await benchReady(page)
}

/** The page with its bench ready, the picture drawn and the whole verdict in. */
export async function openDrawn(page: Page, url: string): Promise<void> {
  await openBench(page, url)
  await page.waitForSelector('.void-view[data-drawn]')
  await page.locator('[data-verdict="ready"]').waitFor()
}

export async function benchReady(page: Page): Promise<void> {
  await page.waitForSelector('.work-strip')
}

export async function newPage(context: BrowserContext, url: string): Promise<Page> {
  const page = await context.newPage()
  await openBench(page, url)
  return page
}

export const doIt = (page: Page, command: Command) => page.evaluate(command => joistway.perform(command), command)
export const drag = (page: Page, command: Command) => page.evaluate(command => joistway.updateDrag(command), command)
export const textOf = (page: Page) => page.evaluate(() => joistway.text())
export const jobOf = async (page: Page) => JSON.parse(await textOf(page)) as { name: string, runs: { waypoints: { at: number[] }[] }[] }

/** Waits until everything is written. */
export async function kept(page: Page): Promise<void> {
  await page.waitForSelector('.work-strip [data-kept="yes"]', { state: 'attached' })
}

/** Waits until a drag that is under way has been noted: what is kept of it is read from the browser's database. */
export async function dragNoted(page: Page, command: Command): Promise<void> {
  await page.waitForFunction(wanted => new Promise<boolean>((resolve) => {
    const opening = indexedDB.open('joistway')
    opening.onsuccess = () => {
      const database = opening.result
      const reading = database.transaction('drags').objectStore('drags').getAll()
      reading.onsuccess = () => {
        database.close()
        resolve(reading.result.some(({ command }: { command: unknown }) => JSON.stringify(command) === wanted))
      }
    }
  }), JSON.stringify(command))
}

export const notice = (page: Page, kind: string) => page.locator(`[data-notice="${kind}"]`)
