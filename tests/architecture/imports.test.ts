import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { judgeFile } from './judgeFile.ts'
import { BEYOND, LAYOUT, LONGER, LONGEST_FILE, TOP_LEVEL } from './layout.ts'

const top = new URL('../../', import.meta.url)
const read = (file: string) => readFileSync(new URL(file, top), 'utf8')
const sources = readdirSync(new URL('src', top), { recursive: true, encoding: 'utf8' })
  .map(name => `src/${name.replaceAll('\\', '/')}`)
  .filter(name => /\.(?:ts|tsx|mts|mjs|js|jsx)$/.test(name) && name.split('/').length > 2)

/** undefined in a copy without its history, as from an archive */
function trackedFiles(): string[] | undefined {
  if (!existsSync(new URL('.git', top))) return undefined
  // whoever owns the folder: this only reads
  return execFileSync('git', ['-c', 'safe.directory=*', 'ls-files', '-z'], { cwd: top, encoding: 'utf8' }).split('\0').filter(file => file !== '')
}

describe('the source folders', () => {
  test('import only what the layout allows, keep off clock and dice, and stay short', () => {
    const faults = sources.flatMap(file => judgeFile(file, read(file)).map(({ line, rule }) => `${file}:${line} ${rule}`))
    expect(sources.length).toBeGreaterThan(20)
    expect(faults).toEqual([])
  })
  test('are those of the layout, and each has compiler settings that allow the same', () => {
    const folders = readdirSync(new URL('src', top), { withFileTypes: true }).filter(entry => entry.isDirectory()).map(entry => entry.name)
    expect(folders.sort()).toEqual(Object.keys(LAYOUT).sort())
    for (const [folder, { folders: allowed }] of Object.entries(LAYOUT)) {
      const { references, compilerOptions } = JSON.parse(read(`src/${folder}/tsconfig.json`)) as { references: { path: string }[], compilerOptions: { lib: string[] } }
      expect(references.map(({ path }) => path), folder).toEqual(allowed.map(name => `../${name}`))
      expect(compilerOptions.lib.includes('dom'), `${folder} and the browser`).toBe(['scene', 'client', 'app'].includes(folder))
    }
    const { references } = JSON.parse(read('tsconfig.json')) as { references: { path: string }[] }
    expect(references.map(({ path }) => path).sort()).toEqual([...Object.keys(LAYOUT).map(folder => `src/${folder}`), 'tests'].sort())
  })
  test('need every exception that is made for them', () => {
    for (const file of Object.keys(LONGER)) expect(read(file).split('\n').length, file).toBeGreaterThan(LONGEST_FILE)
    for (const [file, { imports }] of Object.entries(BEYOND)) for (const source of imports) expect(read(file), file).toContain(`'${source}'`)
  })
})

describe('the top of the repository', () => {
  const listed = trackedFiles()
  test.skipIf(listed === undefined)('holds nothing but what is meant to be there', () => {
    expect([...new Set(listed!.map(file => file.split('/')[0]))].filter(entry => !TOP_LEVEL.includes(entry))).toEqual([])
  })
  test.skipIf(process.platform === 'win32')('holds a command that npx may start, which starts the file itself', () => {
    const { bin } = JSON.parse(read('package.json')) as { bin: { joistway: string } }
    expect(statSync(new URL(bin.joistway, top)).mode & 0o111).toBe(0o111)
  })
  test.each(TOP_LEVEL)('holds %s', (entry) => {
    expect(existsSync(new URL(entry, top))).toBe(true)
  })
})

describe('a planted fault is caught', () => {
  const judged = (file: string, text: string) => judgeFile(file, text).map(({ line, rule }) => `${line}: ${rule}`)
  test.each<[what: string, file: string, text: string, expected: string]>([
    ['an import upwards', 'src/geometry/a.ts', "import { x } from '#scene/x.ts'", '1: geometry may not import scene (#scene/x.ts)'],
    ['an import of a type upwards', 'src/geometry/a.ts', "\nimport type { X } from '#model/schema.ts'", '2: geometry may not import model (#model/schema.ts)'],
    ['one by a relative path', 'src/geometry/solid/a.ts', "import '../../model/schema.ts'", '1: geometry may not import model (../../model/schema.ts)'],
    ['one passed on', 'src/assembly/a.ts', "export { x } from '#checks/x.ts'", '1: assembly may not import checks (#checks/x.ts)'],
    ['one passed on whole', 'src/assembly/a.ts', "export * from '#checks/x.ts'", '1: assembly may not import checks (#checks/x.ts)'],
    ['one at run time', 'src/checks/a.ts', "const x = await import('#routing/x.ts')", '1: checks may not import routing (#routing/x.ts)'],
    ['one that cannot be known', 'src/checks/a.ts', 'const x = await import(name)', '1: imports what cannot be known beforehand'],
    ['one inside a type', 'src/routing/a.ts', "type X = import('three').Vector3", '1: routing may not import the package three'],
    ['one of a worker', 'src/routing/a.ts', "new Worker(new URL('../app/w.ts', import.meta.url))", '1: routing may not import app (../app/w.ts)'],
    ['one through a query', 'src/scene/a.ts', "import w from '../app/w.ts?worker'", '1: scene may not import app (../app/w.ts?worker)'],
    ['one in the old form', 'src/model/a.ts', "import x = require('three')", '1: model may not import the package three'],
    ['app from cli', 'src/cli/a.ts', "import '#app/store.ts'", '1: cli may not import app (#app/store.ts)'],
    ['a file outside src', 'src/model/a.ts', "import '../../tests/model/richJob.ts'", '1: imports ../../tests/model/richJob.ts, which is outside src'],
    ['a package below the view', 'src/geometry/a.ts', "import { Vector3 } from 'three'", '1: geometry may not import the package three'],
    ['a part of a package with a scope', 'src/app/a.ts', "import x from '@react-three/drei/core/x'", '1: app may not import the package @react-three/drei'],
    ['node in the browser', 'src/app/a.ts', "import fs from 'node:fs'", '1: app may not import the package node:fs'],
    ['a web address', 'src/app/a.ts', "import 'https://example.com/x.js'", '1: imports from an address (https://example.com/x.js)'],
    ['a triple-slash line', 'src/geometry/a.ts', '/// <reference lib="dom" />\nexport {}', '1: uses a triple-slash reference'],
    ['dice', 'src/routing/a.ts', 'const x = Math.random()', '1: routing may not roll dice (Math.random)'],
    ['dice under another name', 'src/routing/a.ts', "const x = globalThis.Math['random']", '1: routing may not roll dice (Math.random)'],
    ['the clock', 'src/checks/a.ts', 'const x = Date.now()', '1: checks may not look at the clock (Date.now)'],
    ['the date', 'src/checks/a.ts', 'const x = new Date()', '1: checks may not look at the clock (new Date())'],
    ['the date as text', 'src/checks/a.ts', 'const x = Date()', '1: checks may not look at the clock (Date())'],
    ['the stopwatch', 'src/geometry/a.ts', 'const x = performance.now()', '1: geometry may not look at the clock (performance.now)'],
    ['a long file', 'src/geometry/a.ts', 'export {}\n'.repeat(401), '400: 401 lines, at most 400'],
    ['a folder of no row', 'src/utils/a.ts', 'export {}', '1: src/utils has no row in the layout'],
  ])('%s', (_, file, text, expected) => {
    expect(judged(file, text)).toEqual([expected])
  })
  test('and what only looks like one is not', () => {
    expect(judged('src/geometry/a.ts', [
      "// import { x } from 'three', Math.random()",
      "/* /// <reference lib='dom' /> */",
      "const text = \"import 'three'; Date.now()\"",
      "import earcut from 'earcut'",
      "import { BOX } from './solid/solidSet.ts'",
      'const then = new Date(0)',
      'export { text, earcut, BOX, then }',
    ].join('\n'))).toEqual([])
    expect(judged('src/geometry/a.ts', 'export {}\n'.repeat(400))).toEqual([])
    expect(judged('src/app/a.ts', 'const x = Math.random() + Date.now()')).toEqual([])
  })
})
