import { describe, expect, test } from 'vitest'
import { parseJob } from '#model/index.ts'
import { type Migrations, migrate } from '#model/migrate.ts'
import { Problems } from '#model/problem.ts'
import { richJob } from './richJob.ts'

/** invented: in version 0 the name was called title, and in version -1 the title was in capitals */
const invented: Migrations = {
  0: ({ title, ...rest }) => ({ ...rest, name: title }),
  [-1]: ({ TITLE, ...rest }) => ({ ...rest, title: TITLE }),
}

describe('a file of an older version', () => {
  test('is brought up a version at a time, and it is said from which', () => {
    const { name, ...rest } = richJob()
    const read = parseJob(JSON.stringify({ ...rest, version: -1, TITLE: name }), { migrations: invented })
    const now = parseJob(JSON.stringify(richJob()))
    expect(read).toEqual({ ...now, migratedFrom: -1 })
    expect(now).not.toHaveProperty('migratedFrom')
  })
  test('is judged by the rules of this version afterwards', () => {
    const read = parseJob(JSON.stringify({ ...richJob(), name: undefined, version: 0 }), { migrations: invented })
    expect(read).toMatchObject({ ok: false, problems: [{ path: 'name', code: 'missing' }] })
  })
  test('from before the oldest that can be read is refused with the range', () => {
    const read = parseJob(JSON.stringify({ ...richJob(), version: -2 }), { migrations: invented })
    expect(read).toMatchObject({ ok: false, problems: [{ path: 'version', code: 'unknown-version', found: 'version -2', allowed: 'version -1 to 1' }] })
  })
  test('is refused where a step between is missing', () => {
    const problems = new Problems()
    expect(migrate({ format: 'joistway-job', version: 1 }, problems, { 1: old => old, 3: old => old }, 4)).toBeUndefined()
    expect(problems.listed).toMatchObject([{ code: 'unknown-version' }])
  })
  test('that its migration cannot make sense of is refused, not thrown', () => {
    const migrations: Migrations = { 0: old => ({ ...old, runs: (old['runs'] as { waypoints: unknown[] }[]).map(run => run.waypoints.length) }) }
    const read = parseJob('{ "format": "joistway-job", "version": 0 }', { migrations })
    expect(read).toMatchObject({ ok: false, problems: [{ code: 'failed-migration', found: 'a file of version 0 that could not be brought from version 0 to 1' }] })
  })
})
