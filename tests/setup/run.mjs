/**
 * `npm test`: a browser, the types, then every test; what follows `npm test --` goes to the test runner. The last line
 * says `N passed, N failed`, whatever happened; the exit code is 0 only if some passed and none failed.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { ensureBrowser } from './browser.mjs'

const top = fileURLToPath(new URL('../../', import.meta.url))
const args = process.argv.slice(2)

process.exitCode = finish(start())

function start() {
  // tests picked by name need a browser only if they are browser tests
  const picked = args.filter(arg => !arg.startsWith('-'))
  const env = { ...process.env }
  if (picked.length === 0 || picked.some(arg => arg.includes('browser'))) {
    const browser = ensureBrowser()
    if (browser === undefined) return undefined
    env['CHROME_PATH'] = browser
  }
  if (node(binOf('typescript', 'tsc'), ['-b'], env) !== 0) return undefined

  const folder = mkdtempSync(path.join(tmpdir(), 'joistway-test-'))
  try {
    const counts = path.join(folder, 'counts.json')
    const reporters = ['--reporter=default', `--reporter=${path.join(top, 'tests/setup/countReporter.mjs')}`]
    const status = node(binOf('vitest', 'vitest'), ['run', ...reporters, ...args], { ...env, JOISTWAY_COUNTS: counts })
    return { status, ...JSON.parse(readFileSync(counts, 'utf8')) }
  } catch {
    return undefined
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** @returns {number} the exit code, after the last line */
function finish(counts) {
  const { passed, failed, skipped, status } = counts ?? { passed: 0, failed: 1, skipped: 0, status: 1 }
  const wrong = failed > 0 ? failed : status !== 0 || passed === 0 ? 1 : 0
  console.log(`${passed} passed, ${wrong} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`)
  return wrong > 0 ? 1 : 0
}

function node(script, scriptArgs, env) {
  return spawnSync(process.execPath, [script, ...scriptArgs], { cwd: top, stdio: ['ignore', 'inherit', 'inherit'], env }).status ?? 1
}

function binOf(name, bin) {
  const manifest = createRequire(import.meta.url).resolve(`${name}/package.json`)
  return path.join(path.dirname(manifest), JSON.parse(readFileSync(manifest, 'utf8')).bin[bin])
}
