/** What a browser test needs: the served view, and a browser to look at it with. */
import { type Browser, type BrowserContext, chromium } from 'playwright-core'
import { inject } from 'vitest'
import { findBrowser } from './browser.mjs'
import './buildApp.ts'

/** Software rendering, so that the picture is the same on every machine; and nothing asked of the network. */
const FLAGS = [
  '--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--disable-background-networking', '--disable-component-update',
  '--disable-sync', '--no-first-run', '--disable-quic',
]

/** Where the view is served. One server serves all browser tests and stops when they end, so closing does nothing here. */
export async function startApp(): Promise<{ url: string, close: () => Promise<void> }> {
  return { url: inject('appUrl'), close: async () => {} }
}

/** A browser without a window; the caller closes it. */
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
