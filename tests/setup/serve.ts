/** What a browser test needs: the served view, and a browser to look at it with. */
import { inject } from 'vitest'
import './buildApp.ts'

export { openBrowser, openBrowserIn } from './launchBrowser.ts'

/** Where the view is served. One server serves all browser tests and stops when they end, so closing does nothing here. */
export async function startApp(): Promise<{ url: string, close: () => Promise<void> }> {
  return { url: inject('appUrl'), close: async () => {} }
}
