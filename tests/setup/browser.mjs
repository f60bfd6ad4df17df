/** Finds the browser that the browser tests drive, and on a Debian-like machine installs one if there is none. */
import { spawnSync } from 'node:child_process'
import { accessSync, constants, existsSync } from 'node:fs'
import path from 'node:path'

const LINUX = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge', 'microsoft-edge-stable']
const MACOS = ['Google Chrome', 'Chromium', 'Microsoft Edge']
const WINDOWS = [['Google', 'Chrome', 'Application', 'chrome.exe'], ['Chromium', 'Application', 'chrome.exe'], ['Microsoft', 'Edge', 'Application', 'msedge.exe']]

/**
 * Where a browser of that family may be, the likeliest first.
 * @param {NodeJS.Platform} platform
 * @param {NodeJS.ProcessEnv} env
 * @returns {string[]}
 */
export function browserPlaces(platform, env) {
  const chosen = env['CHROME_PATH'] ? [env['CHROME_PATH']] : []
  if (platform === 'darwin') {
    const folders = ['/Applications', ...(env['HOME'] ? [path.posix.join(env['HOME'], 'Applications')] : [])]
    return [...chosen, ...folders.flatMap(folder => MACOS.map(name => `${folder}/${name}.app/Contents/MacOS/${name}`))]
  }
  if (platform === 'win32') {
    const folders = ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA'].flatMap(name => env[name] ? [env[name]] : [])
    return [...chosen, ...folders.flatMap(folder => WINDOWS.map(steps => path.win32.join(folder, ...steps)))]
  }
  const folders = [...(env['PATH'] ?? '').split(':').filter(folder => folder !== ''), '/usr/bin', '/snap/bin']
  return [...chosen, ...LINUX.flatMap(name => folders.map(folder => path.posix.join(folder, name)))]
}

/** @returns {string | undefined} the path of an installed browser that starts */
export function findBrowser(platform = process.platform, env = process.env) {
  return [...new Set(browserPlaces(platform, env))].find(place => existsSync(place) && starts(place, platform))
}

/** Some Linux systems have a file of that name that only says what to install; elsewhere asking would open a window. */
function starts(place, platform) {
  try {
    accessSync(place, constants.X_OK)
  } catch {
    return false
  }
  return platform !== 'linux' || spawnSync(place, ['--version'], { timeout: 30_000, stdio: 'ignore' }).status === 0
}

/**
 * The installed browser, installed first where that can be done without asking.
 * @returns {string | undefined} undefined after one line that says what to install
 */
export function ensureBrowser() {
  const found = findBrowser()
  if (found !== undefined) return found
  if (process.platform === 'linux' && existsSync('/usr/bin/apt-get') && process.getuid?.() === 0) {
    console.log('no browser found: installing the chromium package')
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
    const apt = (...args) => spawnSync('apt-get', args, { stdio: ['ignore', 'inherit', 'inherit'], env }).status === 0
    // a font, as a bare system has none and the tests read the screen
    if (apt('update') && apt('install', '-y', '--no-install-recommends', 'chromium', 'fonts-dejavu-core')) {
      const installed = findBrowser()
      if (installed !== undefined) return installed
    }
  }
  console.error('the browser tests need Chrome, Chromium or Edge: install one of them, or set CHROME_PATH to where it is')
  return undefined
}
