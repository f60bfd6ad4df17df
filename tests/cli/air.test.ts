import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { main } from '#cli/main.ts'
import { formatJob } from '#model/index.ts'
import { FAMILY, VALVE, houseOf } from '../air/airHouse.ts'

const folder = mkdtempSync(join(tmpdir(), 'joistway-air-'))
const fileOf = (name: string, text: string): string => {
  const file = join(folder, name)
  writeFileSync(file, text)
  return file
}
const WISHES = FAMILY.map((room) => ({ ...room, undercutMm: 10, terminal: { settings: VALVE, settingUnit: 'mm' } }))
const GOOD = fileOf('good.json', formatJob(houseOf(WISHES, { air: { floorAreaM2: 92 } }, { fan: [{ flowLps: 0, pressurePa: 400 }, { flowLps: 90, pressurePa: 0 }] })))
const LACKING = fileOf('lacking.json', formatJob(houseOf(WISHES.map((room) => room.id === 'bath' ? { ...room, ductsMm: [] } : room))))

async function said(argv: string[]): Promise<{ code: number, out: string, err: string }> {
  let out = '', err = ''
  const code = await main(argv, { out: (text) => { out += `${text}\n` }, err: (text) => { err += `${text}\n` }, readStandardInput: () => '' })
  return { code, out, err }
}

describe('joistway air', () => {
  test('a house that has what it needs exits 0, with rates, pressures, fan and settings', async () => {
    const { code, out } = await said(['air', GOOD])
    expect(code).toBe(0)
    for (const words of [/Whole dwelling by the table: 31\.0 l\/s, decided by bedrooms/, /Normal: supply 31\.0 l\/s, extract 31\.0 l\/s\. Boost: supply 43\.0 l\/s, extract 43\.0 l\/s/, /supply fan: 31\.0 l\/s against [\d.]+ Pa .*\d+ % of full speed/, /Index of the supply: Valve /, /the index, which stays the most open: set to 20\.0 mm/, /not estimated/, /Ends of ducts: 0\.5 velocity pressures/, /How rough the bore of Semi-rigid 75 is has not been entered; 0\.09 mm is taken/, /Never cut, drill or notch/]) expect(out).toMatch(words)
    expect(out).not.toMatch(/undefined|NaN/)
  })
  test('a bathroom without extract exits 1 and says so', async () => {
    const { code, out } = await said(['air', LACKING])
    expect(code).toBe(1)
    expect(out).toMatch(/TO PUT RIGHT {2}No extract: Room bath/)
  })
  test('--json gives the same as data with the ids of the file', async () => {
    const { code, out } = await said(['air', GOOD, '--json'])
    const report = JSON.parse(out)
    expect(code).toBe(0)
    expect(report).toMatchObject({ usable: true, tableLps: 31, normal: { fans: [{ unit: 'unit', fan: 'supply' }, { unit: 'unit', fan: 'extract' }] } })
    expect(report.terminals.map((row: { terminal: string }) => row.terminal)).toContain('bed1-1')
    expect(report.normal.systems[0].runs.map((row: { run: string }) => row.run)).toContain('R-bed1-1')
    expect(report.normal.systems[0].runs[0]).toHaveProperty('frictionPaPerM')
  })
  test('--sheet prints the record to sign', async () => {
    const { code, out } = await said(['air', GOOD, '--sheet'])
    expect(code).toBe(0)
    expect(out).toMatch(/RECORD OF COMMISSIONING[\s\S]*Valve bed1-1[\s\S]*Signatures/)
  })
  test('a fan whose curve rises is no curve: exit 2 with its place', async () => {
    const text = formatJob(houseOf(WISHES, {}, { fan: [{ flowLps: 0, pressurePa: 400 }, { flowLps: 90, pressurePa: 0 }] })).replace('"pressurePa": 0', '"pressurePa": 401')
    const { code, err } = await said(['air', fileOf('rising.json', text)])
    expect(code).toBe(2)
    expect(err).toMatch(/airflow\.fan\[1\]\.pressurePa.*401 Pa.*less than 400 Pa/s)
  })
  test('half a bedroom is refused in words', async () => {
    const { code, err } = await said(['air', fileOf('half.json', formatJob(houseOf(WISHES, { air: { bedrooms: 3 } })).replace('"bedrooms": 3', '"bedrooms": 3.5'))])
    expect(code).toBe(2)
    expect(err).toMatch(/air\.bedrooms.*3\.5.*a whole number from 0 to 100/s)
  })
})
