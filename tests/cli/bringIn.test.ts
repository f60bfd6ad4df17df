import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { formatJob, parseJob } from '#model/index.ts'
import { ifcOf } from '#sheets/ifc/ifcOf.ts'
import { box, freeRun, jobOf } from '../checks/smallJob.ts'
import { said } from './said.ts'

const folder = mkdtempSync(join(tmpdir(), 'joistway-bring-in-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('joistway bring-in', () => {
  const ifc = join(folder, 'steel.ifc'), out = join(folder, 'with.json')
  const duct = formatJob(jobOf(freeRun('A', [[0, 0, 0], [2000, 0, 0]])))
  test('a steel beam across a duct is brought in, and the check finds the clash that was not there before', async () => {
    writeFileSync(ifc, ifcOf(contextFor(assemble(jobOf(box('girder', 'steel', [1000, 0, 20], [100, 600, 40])))), '2031-05-01T00:00:00'))
    const { code, out: words } = await said(['bring-in', '-', '--ifc', ifc, '--out', out], duct)
    expect([code, words]).toEqual([0, 'small job: 1 solids brought in from IFC4\n'])
    expect(parseJob(readFileSync(out, 'utf8')).ok).toBe(true)
    expect((await said(['check', '-'], duct)).code).toBe(0)
    const checked = await said(['check', out])
    expect(checked.code).toBe(1)
    expect(checked.out).toMatch(/Clash: Run A and girder/)
  })
  test.each<[string[], RegExp]>([
    [['bring-in', 'fixtures/good/canal-house.json', '--out', 'x'], /name the building with --ifc/],
    [['bring-in', 'fixtures/good/canal-house.json', '--ifc', 'none.ifc', '--out', 'x'], /none\.ifc cannot be read/],
    [['bring-in', 'fixtures/good/canal-house.json', '--ifc', 'package.json', '--out', 'x'], /package\.json: /],
  ])('%j is refused in words', async (argv, words) => {
    const { code, err } = await said(argv)
    expect(code).toBe(2)
    expect(err).toMatch(words)
    expect(existsSync('x')).toBe(false)
  })
})
