/** Browsers without a window, for tests and benches. */
import { type Browser, type BrowserContext, chromium } from 'playwright-core'
import { findBrowser } from './browser.mjs'

/** Software rendering, so that the picture is the same on every machine; and nothing asked of the network. */
const FLAGS = [
  '--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--disable-background-networking', '--disable-component-update',
  '--disable-sync', '--no-first-run', '--disable-quic',
]

/** The caller closes it. */
export async function openBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: place(), headless: true, args: FLAGS })
}

/** A browser that keeps what it stores in a folder, so that another one started there finds it. */
export async function openBrowserIn(folder: string): Promise<BrowserContext> {
  return chromium.launchPersistentContext(folder, { executablePath: place(), headless: true, args: FLAGS, viewport: { width: 900, height: 700 } })
}

function place(): string {
  const executablePath = findBrowser()
  if (executablePath === undefined) throw new Error('no Chrome, Chromium or Edge found: install one of them, or set CHROME_PATH')
  return executablePath
}
