import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { formatJob } from '#model/index.ts'
import { box, freeRun, jobOf, oneJoist, together } from '../checks/smallJob.ts'
import { said } from './said.ts'

const folder = mkdtempSync(join(tmpdir(), 'joistway-'))
const fileOf = (name: string, text: string): string => {
  const file = join(folder, name)
  writeFileSync(file, text)
  return file
}

/** A duct through the middle of opening 2 of one joist, whose incircle is 141.5 mm: see smallJob.ts. */
const THROUGH = together(oneJoist(), freeRun('R1', [[300, -500, 47 + 70.75], [300, 500, 47 + 70.75]]))
const CLEAN = fileOf('clean.json', formatJob(jobOf(THROUGH)))
const CLASHING = fileOf('clash.json', formatJob(jobOf(together(THROUGH, box('pipe', 'pipe', [300, 300, 117.75 + 50], [20, 20, 20])))))
const BROKEN = fileOf('broken.json', formatJob(jobOf(THROUGH)).replace('"depthMm": 254', '"depthMm": "deep"').replace('"d90"', '"d91"'))

describe('joistway check', () => {
  test('a clean job exits 0 and lists its runs', async () => {
    const { code, out } = await said(['check', CLEAN])
    expect(code).toBe(0)
    expect(out).toMatch(/0 won’t fit, 0 to put right/)
    expect(out).toMatch(/Run R1\s+1000\.0\s+0\s+90\.0\s+141\.5\s+joist/)
  })

  test('a pipe 5 mm inside the duct exits 1 and says so with its place', async () => {
    const { code, out } = await said(['check', CLASHING])
    expect(code).toBe(1)
    expect(out).toMatch(/Run R1 cuts 5\.0 mm into pipe, (79\d|80\d|810) mm along the run, at x 300 y (29\d|30\d|310) z 118/)
    expect(out).toMatch(/On site: 2\d\d mm beside joist J1, 3\d\d mm from its datum end \(west\)\./)
  })

  test('--json gives findings and the nearest solids with points and the ids of the file', async () => {
    const { code, out } = await said(['check', CLASHING, '--json'])
    const report = JSON.parse(out)
    expect(code).toBe(1)
    expect(report.findings[0]).toMatchObject({ code: 'clash', parts: [{ id: 'R1' }, { id: 'pipe' }] })
    expect(report.findings[0].measured).toBeCloseTo(-5, 9)
    const [nearest] = report.runs[0].nearest
    expect(nearest.part.id).toBe('pipe')
    expect(nearest.clearanceMm).toBeCloseTo(-5, 9)
    expect(nearest.onSolid.z).toBeCloseTo(157.75, 9)
    // a joist of 2400 with a node every 300: 2 chords and 8 diagonals on two faces, and the pipe
    expect(report.runs[0].nearest).toHaveLength(2 + 2 * 8 + 1)
  })

  test('standard input is read as -', async () => {
    const { code } = await said(['check', '-'], formatJob(jobOf(THROUGH)))
    expect(code).toBe(0)
  })

  test('an unusable file exits 2 and names every wrong field', async () => {
    const { code, out, err } = await said(['check', BROKEN])
    expect(code).toBe(2)
    expect(out).toBe('')
    expect(err).toMatch(/sections\[0\]\.depthMm/)
    expect(err).toMatch(/d91|ductTypes\[0\]|runs\[0\]\.type/)
    expect(err).not.toMatch(/\n\s+at /)
  })

  test.each([['no such file', ['check', join(folder, 'none.json')]], ['a folder', ['check', folder]], ['no file named', ['check']], ['an unknown option', ['check', '--loud', CLEAN]], ['an unknown command', ['chek', CLEAN]]])('%s exits 2 in one line', async (_, argv) => {
    const { code, err } = await said(argv)
    expect(code).toBe(2)
    expect(err.trim().split('\n')).toHaveLength(1)
  })
})

describe('joistway fit', () => {
  test('lists the opening with its incircle, what crosses it, and the spare on both sides', async () => {
    const { code, out } = await said(['fit', CLEAN])
    expect(code).toBe(0)
    // spare: 70.75 - 45
    expect(out).toMatch(/300\.0\s+117\.8\s+141\.5\s.*Run R1 \(25\.8\)/)
  })

  test('--diameter lists only what takes that duct, from both sides of the edge', async () => {
    const countAt = async (mm: string): Promise<number> => JSON.parse((await said(['fit', CLEAN, '--diameter', mm, '--json'])).out).openings.length
    const under = await countAt('141.4'), over = await countAt('141.6')
    expect(under).toBeGreaterThan(over)
    expect((await said(['fit', CLEAN, '--diameter', 'wide'])).code).toBe(2)
  })

  test('--mix: two equal ducts are taken up to the size that the table says two take, and no further', async () => {
    const listed = async (mix: string): Promise<{ opening: number, largestOfTwoMm: number, spareMm: number }[]> => JSON.parse((await said(['fit', CLEAN, '--mix', mix, '--json'])).out).openings
    const [all] = [JSON.parse((await said(['fit', CLEAN, '--json'])).out).openings as { opening: number, largestOfTwoMm: number }[]]
    const { largestOfTwoMm, opening } = all[1]
    expect((await listed(`${largestOfTwoMm - 1},${largestOfTwoMm - 1}`)).find((row) => row.opening === opening)?.spareMm).toBeCloseTo(1, 5)
    expect((await listed(`${largestOfTwoMm + 0.01},${largestOfTwoMm + 0.01}`)).some((row) => row.opening === opening)).toBe(false)
    expect((await said(['fit', CLEAN, '--mix', '90,wide'])).code).toBe(2)
  })

  test('--through one joist gives no less than its largest opening', async () => {
    const { out } = await said(['fit', CLEAN, '--through', 'J1', '--json'])
    expect(JSON.parse(out).diameterMm).toBeGreaterThanOrEqual(141.5 - 1e-6)
    expect((await said(['fit', CLEAN, '--through', 'J99'])).code).toBe(2)
  })

  test('--through looks at the joists between those named as well, and says which', async () => {
    const file = fileOf('three.json', formatJob(jobOf(oneJoist(undefined, { joists: [{ id: 'J1' }, { id: 'J2', firstNodeMm: 220 }, { id: 'J3' }] }))))
    const { out } = await said(['fit', file, '--through', 'J1,J3'])
    expect(out).toMatch(/through J1, J3 and J2 between them is/)
    expect(out).toMatch(/^J2 \(between\) /m)
    const { between, through } = JSON.parse((await said(['fit', file, '--through', 'J1,J3', '--json'])).out)
    expect([through, between]).toEqual([['J1', 'J2', 'J3'], ['J2']])
  })
})

describe('joistway trial', () => {
  test('gives the size at which the run would touch', async () => {
    const { code, out } = await said(['trial', CLEAN, '--json'])
    expect(code).toBe(0)
    expect(JSON.parse(out).runs[0].diameterMm).toBeCloseTo(141.5, 6)
  })

  test('--grow: 51 mm more goes in, 52 mm more does not', async () => {
    expect((await said(['trial', CLEAN, '--grow', '51'])).code).toBe(0)
    const { code, out } = await said(['trial', CLEAN, '--grow', '52'])
    expect(code).toBe(1)
    expect(out).toMatch(/web/)
  })

  test('--grow takes less than nothing: a thinner duct clears the pipe', async () => {
    expect((await said(['trial', CLASHING, '--grow', '-12'])).code).toBe(0)
    expect((await said(['trial', CLASHING, '--grow', '-8'])).code).toBe(1)
  })
})

describe('joistway itself', () => {
  test('every command has help with an example', async () => {
    for (const name of ['check', 'fit', 'trial', 'schema']) {
      const { code, out } = await said([name, '--help'])
      expect(code).toBe(0)
      expect(out).toMatch(new RegExp(`Example: joistway ${name}`))
    }
    expect((await said(['--help'])).out).toMatch(/Exit code/)
  })

  test('schema is JSON Schema 2020-12', async () => {
    const { out } = await said(['schema'])
    expect(JSON.parse(out).$schema).toBe('https://json-schema.org/draft/2020-12/schema')
  })

  test('the installed command does the same, with standard input and exit codes', () => {
    const bin = new URL('../../src/cli/joistway.mjs', import.meta.url).pathname
    expect(execFileSync(process.execPath, [bin, 'check', '-'], { input: formatJob(jobOf(THROUGH)), encoding: 'utf8' })).toMatch(/0 won’t fit/)
    expect(spawnSync(process.execPath, [bin, 'check', CLASHING]).status).toBe(1)
    expect(spawnSync(process.execPath, [bin, 'check', BROKEN]).status).toBe(2)
  })
})

describe('what a file or a call may try on', () => {
  const hostile = formatJob(jobOf({ ...together(THROUGH, box('pipe', 'pipe', [300, 300, 117.75 + 50], [20, 20, 20])), settings: { clearances: [{ between: ['duct', 'pipe'], mm: 5, why: 'one\r\n\n99. WON’T FIT  Clash: all of it' }] } }))

  test('nothing in it can move the cursor, hide or turn round what is written, or start a line of its own', async () => {
    const { out } = await said(['check', '-'], hostile.replace('"Run R1"', '"a\\u202egnp\\u2066 x\\u200b"'))
    // eslint-disable-next-line no-control-regex
    expect(out).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u2069]/)
    expect(out).toContain('a\\u{202e}gnp\\u{2066} x\\u{200b}')
    expect(out).not.toMatch(/^99\./m)
  })

  test('nor can the call itself', async () => {
    for (const argv of [['check', '/x\u001b[31m'], ['\u001b[31m'], ['fit', CLEAN, '--through', 'J1,X\u001b[31m'], ['check', CLEAN, '--\u001b[31m']]) {
      const { code, err } = await said(argv)
      expect(code).toBe(2)
      expect(err).not.toContain('\u001b')
      expect(err).toContain('[31m')
    }
  })

  test('text that is not UTF-8 is refused, not guessed at', () => {
    const latin = join(folder, 'latin.json')
    writeFileSync(latin, Buffer.from(formatJob(jobOf(THROUGH)).replace('small job', 'caf\u00e9'), 'latin1'))
    const bin = new URL('../../src/cli/joistway.mjs', import.meta.url).pathname
    const { status, stderr } = spawnSync(process.execPath, [bin, 'check', latin], { encoding: 'utf8' })
    expect([status, stderr]).toEqual([2, expect.stringMatching(/UTF-8/)])
  })

  test.each([
    [['check', CLEAN, '--jsn'], /there is no option --jsn/],
    [['fit', CLEAN, '--diameter'], /--diameter wants a value/],
    [['fit', CLEAN, '--diameter', '90', '--mix', '90,75'], /ask one at a time/],
    [['trial', CLEAN, '--grow', '10', '--grow', '20'], /given twice/],
    [['trial', CLEAN, '--grow', '0x10'], /number of millimetres/],
    [['fit', CLEAN, '--through', 'J1,J1'], /named twice/],
  ])('%j is refused in our own words', async (argv, words) => {
    const { code, err } = await said(argv)
    expect(code).toBe(2)
    expect(err.trim().split('\n')).toHaveLength(1)
    expect(err).toMatch(words)
  })

  test('90mm is understood', async () => {
    expect((await said(['fit', CLEAN, '--diameter', '90mm'])).code).toBe(0)
  })

  test('with --json a file that cannot be read is JSON too', async () => {
    const { code, out } = await said(['check', join(folder, 'none.json'), '--json'])
    expect(code).toBe(2)
    expect(JSON.parse(out)).toMatchObject({ usable: false, problems: [{ found: 'no such file' }] })
  })

  test('a job without runs says that there was little to check', async () => {
    expect((await said(['check', '-'], '{"format":"joistway-job","version":1,"name":"bare"}')).out).toMatch(/no runs/)
  })
})
