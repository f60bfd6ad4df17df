import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { browserPlaces, findBrowser } from './browser.mjs'

const folder = mkdtempSync(path.join(tmpdir(), 'joistway-browser-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

function script(name: string, text: string, mode = 0o755): string {
  const file = path.join(folder, name)
  writeFileSync(file, text)
  chmodSync(file, mode)
  return file
}

describe('the browser that the tests drive', () => {
  test('is looked for where each system keeps its programs, the chosen one first', () => {
    expect(browserPlaces('darwin', { HOME: '/Users/a' })).toContain('/Users/a/Applications/Chromium.app/Contents/MacOS/Chromium')
    expect(browserPlaces('win32', { 'PROGRAMFILES(X86)': 'C:\\P' })).toContain('C:\\P\\Microsoft\\Edge\\Application\\msedge.exe')
    expect(browserPlaces('linux', { PATH: '/opt/x:/usr/bin' })).toContain('/opt/x/google-chrome')
    for (const platform of ['darwin', 'win32', 'linux'] as const) expect(browserPlaces(platform, { CHROME_PATH: '/my/own' })[0]).toBe('/my/own')
  })
  test.skipIf(process.platform !== 'linux')('is passed over when it cannot start, as a stand-in that only says what to install', () => {
    const standIn = script('chromium', '#!/bin/sh\necho install me\nexit 1\n')
    const notExecutable = script('chromium-browser', 'text', 0o644)
    const works = script('google-chrome', '#!/bin/sh\necho 1.0\n')
    expect(browserPlaces('linux', { PATH: folder })).toEqual(expect.arrayContaining([standIn, notExecutable, works]))
    expect(findBrowser('linux', { CHROME_PATH: standIn, PATH: folder })).not.toBe(standIn)
    expect(findBrowser('linux', { CHROME_PATH: works, PATH: '' })).toBe(works)
  })
})
