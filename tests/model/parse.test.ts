import { describe, expect, test } from 'vitest'
import { type Problem, formatProblems, jobSchema, parseJob, readJobValue } from '#model/index.ts'
import { LISTED_PROBLEMS } from '#model/problem.ts'
import { DEEPEST, LONGEST_TEXT, MOST_VALUES } from '#model/jsonText.ts'
import { richJob, richJobWith } from './richJob.ts'

function problemsOf(value: unknown): readonly Problem[] {
  const read = parseJob(typeof value === 'string' ? value : JSON.stringify(value))
  return read.ok ? [] : read.problems
}

function problemsOfValue(value: unknown): readonly Problem[] {
  const read = readJobValue(value)
  return read.ok ? [] : read.problems
}

describe('a right file', () => {
  test('reads as the schema reads it, defaults filled in', () => {
    const read = parseJob(JSON.stringify(richJob()))
    expect(read).toEqual({ ok: true, job: jobSchema.parse(richJob()) })
  })
  test('may hold nothing but a name', () => {
    const read = parseJob('{ "format": "joistway-job", "version": 1, "name": "Empty" }')
    expect(read.ok && read.job.settings.connection).toEqual({ offMm: 2, offDeg: 2 })
    expect(read.ok && read.job.runs).toEqual([])
  })
  test('may start with a byte order mark', () => {
    expect(parseJob(`\ufeff${JSON.stringify(richJob())}`).ok).toBe(true)
  })
  test('reads -0 as 0, since a minus nothing turns an arctangent round', () => {
    const read = parseJob(JSON.stringify(richJob()).replace('"directionDeg":0', '"directionDeg":-0').replace('"at":[140,0,0]', '"at":[140,-0,0]'))
    expect(read.ok && Object.is(read.job.joistFields[1].directionDeg, 0)).toBe(true)
    expect(read.ok && Object.is(read.job.equipment[1].spigots[0].at[1], 0)).toBe(true)
  })
  test('from a value in which what is left out holds undefined is the same job', () => {
    const read = readJobValue({ ...richJob(), datum: undefined, runs: richJob().runs.map(run => ({ ...run, waypoints: run.waypoints.map(({ at }) => ({ at, radiusMm: undefined })) })) })
    expect(read.ok && Object.keys(read.job.runs[0].waypoints[1])).toEqual(['at'])
    expect(read.ok && read.job.datum).toBe('')
  })
  test('does not change or keep the value it is read from', () => {
    const value = richJob()
    const read = readJobValue(value)
    expect(value).toEqual(richJob())
    if (!read.ok) throw new Error(formatProblems(read))
    ;(read.job.runs[0].waypoints[0].at as number[])[0] = 7
    expect(value).toEqual(richJob())
  })
  test('keeps its defaults apart from those of the next file', () => {
    const first = readJobValue(richJob())
    const second = readJobValue(richJob())
    if (!first.ok || !second.ok) throw new Error('not read')
    ;(first.job.solids[3] as { note: string }).note = 'changed'
    ;(first.job.equipment[0].rotationDeg as number[])[2] = 45
    expect(second.job.equipment[0].rotationDeg).toEqual([0, 0, 0])
    const third = readJobValue(richJob())
    expect(third.ok && third.job.equipment[0].rotationDeg).toEqual([0, 0, 0])
  })
})

describe('text that is no JSON', () => {
  test.each([
    ['', 'an empty file'],
    [' \n ', 'an empty file'],
    ['{', 'the end of the file at line 1, column 2'],
    ['{\n  "name": "a",\n}', '"}" at line 3, column 1'],
    ['{\r\n"a": 1,\r\n"b" 2 }', '"2" at line 3, column 5'],
    ['{ "a": 01 }', '"1" at line 1, column 9'],
    ['{ "a": .5 }', '"." at line 1, column 8'],
    ['{ "a": - }', '" " at line 1, column 9'],
    ['{ "a": NaN }', '"N" at line 1, column 8'],
    ['{ "a": Infinity }', '"I" at line 1, column 8'],
    ['{ "a": "x', 'the end of the file at line 1, column 10'],
    ['{ "a": "x\ny" }', '"\\u000a" at line 1, column 10'],
    ['{ "a": "\\x" }', '"x" at line 1, column 10'],
    ['{ "a": "\\u12g4" }', '"u" at line 1, column 10'],
    ["{ 'a': 1 }", '"\'" at line 1, column 3'],
    ['{} {}', '"{" at line 1, column 4'],
    ['[1, 2', 'the end of the file at line 1, column 6'],
  ])('%j is told with its place', (text, found) => {
    const [problem, ...more] = problemsOf(text)
    expect(more).toEqual([])
    expect(problem).toMatchObject({ path: '', code: 'not-json', found })
    expect(problem.allowed).not.toBe('')
  })
  test('nesting without end is refused, not followed', () => {
    const deep = 2_000_000
    for (const text of ['['.repeat(deep), '{"a":'.repeat(deep), `${'['.repeat(deep)}${']'.repeat(deep)}`]) {
      expect(problemsOf(text)).toMatchObject([{ code: 'too-deep' }])
    }
    expect(problemsOf(`${'['.repeat(DEEPEST + 1)}${']'.repeat(DEEPEST + 1)}`)).toMatchObject([{ code: 'too-deep' }])
    expect(problemsOf(`${'['.repeat(DEEPEST)}${']'.repeat(DEEPEST)}`)).toMatchObject([{ code: 'not-a-job' }])
  })
  test('more text, or more values, than any job needs is refused', () => {
    expect(problemsOf(' '.repeat(LONGEST_TEXT + 1))).toMatchObject([{ code: 'too-large' }])
    expect(problemsOf(`[${'0,'.repeat(MOST_VALUES)}0]`)).toMatchObject([{ code: 'too-large' }])
  })
})

describe('a file that is no job of this version', () => {
  test.each([['null', 'null'], ['[]', 'an empty list'], ['7', '7'], ['"job"', '"job"'], ['{}', 'nothing, so this is no Joistway job'], ['{ "format": "other" }', '"other", so this is no Joistway job']])(
    '%s is said to be none', (text, found) => {
      expect(problemsOf(text)).toMatchObject([{ code: 'not-a-job', found }])
    })
  test('a newer version says so, and nothing else', () => {
    expect(problemsOf({ ...richJob(), version: 3, runs: 'in a new form' })).toEqual([
      { path: 'version', code: 'newer-version', found: 'a file made by a newer Joistway: version 3, this one reads up to 1', allowed: 'version 1' },
    ])
  })
  test.each([[0], [-1], [1.5], ['1'], [null], [1e308]])('version %j is no version', (version) => {
    expect(problemsOf({ ...richJob(), version })).toMatchObject([{ path: 'version' }])
  })
  test('a version left out is missing', () => {
    expect(problemsOf(richJobWith({ version: undefined }))).toMatchObject([{ path: 'version', code: 'missing', found: 'nothing', allowed: 'version 1' }])
  })
})

describe('wrong fields', () => {
  test.each<[path: string, value: unknown, expected: Partial<Problem>]>([
    ['name', undefined, { path: 'name', code: 'missing', found: 'nothing', allowed: 'text of 1 to 200 characters' }],
    ['name', 7, { path: 'name', code: 'wrong-type', found: '7', allowed: 'text of 1 to 200 characters' }],
    ['name', '', { path: 'name', code: 'wrong-count', found: 'empty text' }],
    ['name', '  ', { path: 'name', code: 'not-allowed', allowed: 'one line of text, not blank, without control characters' }],
    ['name', 'a\u001b[31mb', { path: 'name', code: 'not-allowed', found: '"a\\u001b[31mb"' }],
    ['name', 'x'.repeat(201), { path: 'name', code: 'wrong-count', found: `"${'x'.repeat(60)}…" (201 characters)` }],
    ['note', 'x\u0000', { path: 'note', code: 'not-allowed' }],
    ['settings', null, { path: 'settings', code: 'wrong-type', found: 'null' }],
    ['settings.clearanceMm', -1, { path: 'settings.clearanceMm', code: 'out-of-range', found: '-1', allowed: 'a number from 0 to 1000000' }],
    ['settings.clearances.0.between', ['duct'], { path: 'settings.clearances[0].between', code: 'wrong-count', found: 'a list of 1' }],
    ['settings.clearances.0.between.1', 'flu', { path: 'settings.clearances[0].between[1]', code: 'not-allowed', found: '"flu"' }],
    ['settings.holeRules.solidTimber', 'rule of thumb', { code: 'not-allowed', allowed: 'one of "uk-classic", "uk-capped", "nhbc-6.4.18", "irc-r502.8"' }],
    ['rooms', {}, { path: 'rooms', code: 'wrong-type', found: 'an object', allowed: 'a list of 0 to 2000 entries' }],
    ['rooms', null, { path: 'rooms', code: 'wrong-type', found: 'null' }],
    ['rooms.0.outline', [[0, 0], [1, 1]], { path: 'rooms[0].outline', id: 'R1', code: 'wrong-count', found: 'a list of 2', allowed: 'a list of 3 to 2000 entries' }],
    ['rooms.0.outline.1', [1, 2, 3], { path: 'rooms[0].outline[1]', code: 'wrong-count', found: 'a list of 3' }],
    ['runs.0.waypoints.1.at.2', '2450', { path: 'runs[0].waypoints[1].at[2]', id: 'N1', code: 'wrong-type', found: '"2450"', allowed: 'a number from -1000000 to 1000000' }],
    ['runs.0.waypoints.1.at.2', 1e308, { path: 'runs[0].waypoints[1].at[2]', code: 'out-of-range', found: '1e+308' }],
    ['runs.0.waypoints', [], { path: 'runs[0].waypoints', code: 'wrong-count', found: 'an empty list', allowed: 'a list of 2 to 500 entries' }],
    ['runs.0.from', {}, { path: 'runs[0].from', code: 'wrong-type', allowed: 'either an object with equipment, spigot, or an object with sleeve' }],
    ['runs.0.from', 'U1', { path: 'runs[0].from', code: 'wrong-type', found: '"U1"' }],
    ['runs.0.from', { equipment: 'U1' }, { path: 'runs[0].from.spigot', code: 'missing' }],
    ['runs.0.to', { sleeve: 5 }, { path: 'runs[0].to.sleeve', code: 'wrong-type', found: '5' }],
    ['runs.0.to', { sleeve: 'SL1', side: 'left' }, { path: 'runs[0].to.side', code: 'unknown-key', allowed: 'only sleeve' }],
    ['solids.0.shape.kind', 'sphere', { path: 'solids[0].shape.kind', id: 'B1', code: 'not-allowed', found: '"sphere"', allowed: 'one of "box", "prism", "cylinder", "tube"' }],
    ['solids.0.shape.kind', undefined, { path: 'solids[0].shape.kind', code: 'missing' }],
    ['solids.0.shape', null, { path: 'solids[0].shape', code: 'wrong-type', found: 'null' }],
    ['solids.0.class', 'beem', { path: 'solids[0].class', code: 'not-allowed', found: '"beem"' }],
    ['solids.0.id', 'a b', { path: 'solids[0].id', code: 'not-allowed', allowed: 'letters, digits, dot, hyphen and underscore only, starting with a letter or digit' }],
    ['sections.0.webFaces', true, { path: 'sections[0].webFaces', code: 'not-allowed', found: 'true' }],
    ['joistFields.0.joists.1.flip', 'yes', { path: 'joistFields[0].joists[1].flip', id: 'J2', code: 'wrong-type', allowed: 'true or false' }],
    ['equipment.0.sizeMm', [1, 0, 1], { path: 'equipment[0].sizeMm[1]', code: 'out-of-range', allowed: 'a number from 0.1 to 1000000' }],
    ['equipment.0.colour', 'grey', { path: 'equipment[0].colour', code: 'unknown-key', allowed: 'only id, name, kind, centre, sizeMm, rotationDeg, air, room, packerMm, spigots, airflow, note' }],
    ['ductTypes.1.minBendRadiusMm', 100, { path: 'ductTypes[1].minBendRadiusMm', code: 'unknown-key' }],
  ])('%s as %j', (path, value, expected) => {
    const problems = problemsOf(richJobWith({ [path]: value }))
    expect(problems.filter(({ code }) => code !== 'no-such-thing')).toMatchObject([expected])
  })

  test.each([[NaN], [Infinity], [-Infinity], [undefined], [10n], [() => 1], [Symbol('x')], [new Date(0)]])('a value that no JSON can hold (%s) is refused as well', (value) => {
    const [problem, ...more] = problemsOfValue(richJobWith({ 'runs.0.waypoints.1.at': [1, value, 3] }))
    expect(more).toEqual([])
    expect(problem).toMatchObject({ path: 'runs[0].waypoints[1].at[1]' })
  })
  test('1e999 in the text is a number too large to hold', () => {
    expect(problemsOf(JSON.stringify(richJob()).replace('"diameterMm":40', '"diameterMm":1e999'))).toMatchObject([{ path: 'holes[0].diameterMm', code: 'out-of-range', found: 'a number too large to hold' }])
  })

  test('are all told at once, each once, with what is wrong between the parts as well', () => {
    const problems = problemsOf(richJobWith({
      'foo': 1, 'settings.clearanceMm': '5', 'rooms.0.floorMm': 1e300, 'solids.2.shape.to': [1, 2], 'equipment.0.sizee': 1,
      'runs.0.from': {}, 'runs.0.type': 'R1', 'runs.0.to.spigot': 'z', 'holes.0.heightMm': 500, 'sleeves.0.axis': [0, 0, 0], 'zones.0.topMm': 0,
    }))
    expect(problems.map(({ path }) => path).sort()).toEqual([
      'equipment[0].sizee', 'foo', 'holes[0].heightMm', 'rooms[0].floorMm', 'runs[0].from', 'runs[0].to.spigot', 'runs[0].type',
      'settings.clearanceMm', 'sleeves[0].axis', 'solids[2].shape.to', 'zones[0].topMm',
    ])
  })
  test('the first of very many are listed and the rest counted', () => {
    const read = parseJob(JSON.stringify(richJobWith({ solids: Array.from({ length: 1000 }, () => 0), sleeves: [] })))
    if (read.ok) throw new Error('read')
    // the run to the sleeve that has gone is the one besides
    expect(read.problems.length).toBe(LISTED_PROBLEMS)
    expect(read.unlisted).toBe(1001 - LISTED_PROBLEMS)
    expect(formatProblems(read)).toMatch(/\nand 801 more$/)
  })
  test('a list longer than any job needs is one problem, not one for each entry', () => {
    expect(problemsOf(richJobWith({ rooms: Array.from({ length: 2001 }, () => 0), 'equipment.1.room': undefined }))).toMatchObject([{ path: 'rooms', code: 'wrong-count', found: 'a list of 2001', allowed: 'a list of 0 to 2000 entries' }])
  })
  test('on a console each takes one line: where, whose, found, allowed', () => {
    const read = parseJob(JSON.stringify(richJobWith({ 'runs.0.waypoints.1.at.2': '2450' })))
    expect(read.ok ? '' : formatProblems(read)).toBe('runs[0].waypoints[1].at[2] (N1): found "2450"; allowed: a number from -1000000 to 1000000')
  })
  test('a key cannot steer the console it is told on', () => {
    const [problem] = problemsOf({ ...richJob(), 'a\u001b[2J\u202eb': 1 })
    expect(problem.path).toBe('["a\\u001b[2J\\u202eb"]')
  })
})

describe('keys that reach a prototype', () => {
  test.each(['__proto__', 'constructor', 'prototype'])('%s is refused wherever it stands, and nothing is polluted', (key) => {
    const poison = `{ "polluted": "yes", "name": "x" }`
    const text = JSON.stringify(richJob())
    for (const [place, path] of [['{"format"', key], ['{"clearanceMm"', `settings.${key}`], ['{"id":"R1"', `rooms[0].${key}`]]) {
      const problems = problemsOf(text.replace(place, `{"${key}":${poison},${place.slice(1)}`))
      expect(problems).toMatchObject([{ path, code: 'forbidden-key' }])
    }
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined()
    expect(Object.prototype).not.toHaveProperty('polluted')
  })
  test('a name given only through the prototype is no name', () => {
    const problems = problemsOf(JSON.stringify(richJobWith({ name: undefined })).replace('{', '{"__proto__":{"name":"x"},'))
    expect(problems.map(({ path }) => path).sort()).toEqual(['__proto__', 'name'])
  })
})

describe('values from elsewhere than text', () => {
  test('that contain themselves are refused', () => {
    const job = richJobWith({})
    job['note'] = job
    expect(problemsOfValue(job)).toMatchObject([{ code: 'too-deep' }])
  })
  test('that fan out without end are refused', () => {
    let fan: unknown = 0
    for (let i = 0; i < 30; i++) fan = [fan, fan]
    expect(problemsOfValue(fan)).toMatchObject([{ code: 'too-large' }])
  })
  test('that throw when looked at are refused', () => {
    const job = richJobWith({})
    Object.defineProperty(job, 'runs', { enumerable: true, get() { throw new Error('no') } })
    expect(problemsOfValue(job)).toMatchObject([{ code: 'unreadable' }])
    expect(parseJob(undefined as unknown as string).ok).toBe(false)
  })
})

test('a key given twice is refused, since one of the two would be lost', () => {
  const text = JSON.stringify(richJob()).replace('"id":"B1",', '"id":"B1","id":"B9",')
  expect(problemsOf(text)).toMatchObject([{ path: 'solids[0].id', code: 'repeated-key' }])
})
