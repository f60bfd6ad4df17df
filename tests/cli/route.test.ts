import { describe, expect, test } from 'vitest'
import { formatJob } from '#model/write.ts'
import { impossibleFloor } from '../../fixtures/generate/impossibleFloors.ts'
import { said } from './said.ts'

describe('joistway route', () => {
  test('tells of a run that cannot be laid what bars it, where, what would pass, and the change that was tried; what touches a joist with its caution', async () => {
    const { code, out } = await said(['route', '-'], formatJob(impossibleFloor('web-before-spigot').job))
    expect(code).toBe(1)
    expect(out).toContain('A web before the spigot: not every run could be laid; what stops the others is told below')
    expect(out).toContain('0 of 1 runs laid')
    const why = out.slice(out.indexOf('Run R1: ')).split('\n').map((line) => line.trim())
    expect(why).toEqual([
      'Run R1: Proved: it cannot even leave its spigot. What stands before it bars the way, whatever course it takes.',
      'In the way: joist J2.',
      expect.stringMatching(/^Place: x 2,050 y 3\d\d z 2,567 mm; \d+ mm beside joist J2, 2,050 mm from its datum end \(west\)\.$/),
      'No duct at all would pass where its best attempt is narrowest.',
      'Tried and checked: it goes in if joist J2 is made with its webs 150 mm further from its datum end.',
      expect.stringMatching(/^This is a question for the maker of the joists, before the joist is made.*never cut, notch, drill/),
      '',
    ])
  })

  test('tells which runs must pass one place, and how many of them can', async () => {
    const { code, out } = await said(['route', '-'], formatJob(impossibleFloor('one-duct-opening').job))
    expect(code).toBe(1)
    expect(out).toContain('Run R2: Proved: Run R1 and Run R2 must both pass one place, and only 1 of them can, wherever it lies in it.')
    expect(out).toContain('In the way: Run R1 and Board.')
    expect(out).toContain('Tried and checked: it goes in where Run R1 is not in the way.')
  })

  test('--json gives cause, place, size and change with the ids of the file', async () => {
    const { code, out } = await said(['route', '-', '--json'], formatJob(impossibleFloor('wrong-spigot').job))
    expect(code).toBe(1)
    expect(JSON.parse(out)).toMatchObject({
      ended: 'partly', cannot: [{ runId: 'R1', cause: 'ends', isProved: true, by: ['terminal'], at: [3345, 1400, 2567], cure: { kind: 'spigot-of-size', equipmentId: 'terminal', spigotId: 'S1', diameterMm: 90 }, curedWith: [], lookedInto: 'all', triedCount: 1 }],
    })
  })
})
