/** Builds the view once for all browser tests and serves it, as `npm start` would. */
import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { preview } from 'vite'
import type { TestProject } from 'vitest/node'

const top = fileURLToPath(new URL('../../', import.meta.url))

declare module 'vitest' {
  interface ProvidedContext {
    appUrl: string
    /** where the built files are */
    appFolder: string
  }
}

/** vitest's set-up for the browser tests; not run when none is picked */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const { url, folder, close } = await buildApp()
  project.provide('appUrl', url)
  project.provide('appFolder', folder)
  return close
}

export async function buildApp(): Promise<{ url: string, folder: string, close: () => Promise<void> }> {
  const outDir = mkdtempSync(path.join(tmpdir(), 'joistway-app-'))
  // a process of its own: here NODE_ENV is 'test', and the view would be built for development
  execFileSync(process.execPath, [path.join(top, 'node_modules/vite/bin/vite.js'), 'build', '--outDir', outDir, '--emptyOutDir', '--logLevel', 'warn'], {
    cwd: top, stdio: ['ignore', 'inherit', 'inherit'], env: { ...process.env, NODE_ENV: 'production' },
  })
  const server = await preview({
    configFile: path.join(top, 'vite.config.ts'), logLevel: 'warn', build: { outDir }, preview: { host: '127.0.0.1', port: 0, open: false },
  })
  const address = server.httpServer.address()
  if (address === null || typeof address === 'string') throw new Error('buildApp: the server has no port')
  return {
    url: `http://127.0.0.1:${address.port}/`,
    folder: outDir,
    close: async () => {
      await server.close()
      rmSync(outDir, { recursive: true, force: true })
    },
  }
}
