import { readFileSync, readdirSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { isDeepStrictEqual } from 'node:util'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { formatJob, parseJob, readJobValue } from '#model/index.ts'
import { LISTED_PROBLEMS } from '#model/problem.ts'
import { richJob } from './richJob.ts'

const SEED = 91_207
/** Longest that one reading may take, ms: a hang, not a slow machine, is what this is for. */
const HANG_MS = 20_000
/** files above this are read whole elsewhere; here each is read hundreds of times */
const LARGEST_FIXTURE = 200_000

const fixtures = path.join(fileURLToPath(new URL('.', import.meta.url)), '../../fixtures')
const sources: [name: string, text: string][] = [
  ['the rich job', JSON.stringify(richJob())],
  ...readdirSync(fixtures, { recursive: true, encoding: 'utf8' }).filter(name => name.endsWith('.json'))
    .map((name): [string, string] => [name, readFileSync(path.join(fixtures, name), 'utf8')])
    .filter(([, text]) => text.length < LARGEST_FIXTURE && parseJob(text).ok),
]

/** Whatever it was given: a clear refusal, or a job that written and read again is the same. */
function expectRefusalOrJob(given: unknown): boolean {
  const start = performance.now()
  const read = typeof given === 'string' ? parseJob(given) : readJobValue(given)
  expect(performance.now() - start).toBeLessThan(HANG_MS)
  if (read.ok) {
    expect(isDeepStrictEqual(parseJob(formatJob(read.job)), { ok: true, job: read.job })).toBe(true)
    return true
  }
  expect(read.problems.length).toBeGreaterThan(0)
  expect(read.problems.length).toBeLessThanOrEqual(LISTED_PROBLEMS)
  for (const { path, found, allowed } of read.problems) {
    expect(found).not.toBe('')
    expect(allowed).not.toBe('')
    expect(`${found} ${allowed}`).not.toMatch(/undefined|\[object|Invalid input/)
    expect(`${path} ${found} ${allowed}`).not.toMatch(/[\u0000-\u001f\u007f-\u009f]/)
    expect(`${path} ${found} ${allowed}`.length).toBeLessThan(2000)
  }
  return false
}

type Place = { holder: Record<string | number, unknown>, key: string | number }

function places(value: unknown, found: Place[] = []): Place[] {
  if (typeof value === 'object' && value !== null) {
    for (const key of Array.isArray(value) ? value.keys() : Object.keys(value)) {
      const holder = value as Record<string | number, unknown>
      found.push({ holder, key })
      places(holder[key], found)
    }
  }
  return found
}

const nested = (depth: number) => {
  let value: unknown = 0
  for (let i = 0; i < depth; i++) value = i % 2 ? [value] : { a: value }
  return value
}
/** Made anew each time, since a mutation may be put inside another. */
const hostile: (() => unknown)[] = [
  () => undefined, () => null, () => true, () => '', () => 'x', () => 'J1', () => 'N1', () => 0, () => -0, () => -1, () => NaN, () => Infinity, () => -Infinity,
  () => 1e308, () => 5e-324, () => 1e-9, () => 999_999.999, () => 2 ** 53, () => [], () => ({}), () => [[]], () => [0, 0, 0], () => 'x'.repeat(100_000), () => ' '.repeat(100_000),
  () => nested(20), () => nested(500), () => Array.from({ length: 60_000 }, () => 0), () => Array.from({ length: 3000 }, () => [0, 0]),
  () => JSON.parse('{"__proto__":{"a":1}}') as unknown, () => ({ constructor: { prototype: { a: 1 } } }), () => new Map(), () => new Date(0), () => 7n, () => Symbol('s'),
  () => 'naïve – 😀 \u202e reversed', () => '\ud800', () => 'a\u0000b', () => 'a\nb', () => '\u001b]0;x\u0007', () => '__proto__', () => 'constructor', () => 'toString',
]

function mutate(job: unknown, edits: readonly (readonly [place: number, kind: number, what: number])[]): void {
  for (const [placeIndex, kind, what] of edits) {
    const all = places(job)
    const { holder, key } = all[placeIndex % all.length]
    const other = all[what % all.length]
    const made = hostile[what % hostile.length]()
    switch (kind) {
      case 0: holder[key] = made; break
      case 1: if (Array.isArray(holder)) holder.splice(key as number, 1); else delete holder[key]; break
      case 2: holder[key] = structuredClone(plainOf(other.holder[other.key])); break
      case 3: if (Array.isArray(holder)) holder.splice(key as number, 0, structuredClone(plainOf(holder[key]))); break
      case 4: holder[`${String(key)}x`] = made; break
      case 5: Object.defineProperty(holder, ['__proto__', 'constructor', 'prototype'][what % 3], { value: made, enumerable: true, configurable: true, writable: true }); break
      default: if (typeof holder[key] === 'number') holder[key] = (holder[key] as number) * [0.5, 1.001, 2, -1, 1000][what % 5]
    }
  }
}

/** structuredClone throws at symbols */
function plainOf(value: unknown): unknown {
  try {
    return structuredClone(value)
  } catch {
    return null
  }
}

const edits = fc.array(fc.tuple(fc.nat(), fc.nat(6), fc.nat()), { minLength: 1, maxLength: 4 })

describe.each(sources)(`%s (seed ${SEED})`, (_, source) => {
  test('damaged in any of its values is refused, or still a whole job', () => {
    let read = 0
    let runs = 0
    fc.assert(fc.property(edits, (list) => {
      const job = JSON.parse(source) as unknown
      mutate(job, list)
      runs++
      if (expectRefusalOrJob(job)) read++
    }), { seed: SEED, numRuns: source.length < 20_000 ? 1000 : 60 })
    // both ways must have been taken, or this has tested nothing
    expect(read).toBeGreaterThan(0)
    expect(read).toBeLessThan(runs)
  })
  test('damaged in its text is refused, or still a whole job', () => {
    const scrap = fc.constantFrom('', '{', '}', '[', ']', ',', ':', '"', '\\', '\\u0000', '0', '-', 'e999', '1e999', 'NaN', 'null', '"__proto__":1,', '\u0000', '\ud800', '\u2028', '\ufeff')
    fc.assert(fc.property(fc.array(fc.tuple(fc.nat(), fc.nat(12), scrap), { minLength: 1, maxLength: 3 }), (list) => {
      let text = source
      for (const [at, drop, put] of list) {
        const place = at % (text.length + 1)
        text = text.slice(0, place) + put + text.slice(place + drop)
      }
      expectRefusalOrJob(text)
    }), { seed: SEED, numRuns: source.length < 20_000 ? 1000 : 60 })
  })
  test('cut short anywhere is refused', () => {
    const whole = source.trimEnd()
    const step = Math.max(1, Math.floor(whole.length / 400))
    for (let length = 0; length < whole.length; length += step) expect(expectRefusalOrJob(whole.slice(0, length))).toBe(false)
  })
})

describe('a file made to be slow', () => {
  const head = '{"format":"joistway-job","version":1,"name":"x"'
  const many = (count: number, entry: (i: number) => string) => Array.from({ length: count }, (_, i) => entry(i)).join(',')
  test.each<[string, () => string]>([
    ['one name of 60 million blanks', () => head.replace('"x"', `"${' '.repeat(60_000_000)}\\u0000"`) + '}'],
    ['a note of 10 million escapes', () => `${head},"note":"${'\\n'.repeat(10_000_000)}"}`],
    ['300 000 unknown keys', () => `${head},${many(300_000, i => `"k${i}":0`)}}`],
    ['50 000 solids of nothing', () => `${head},"solids":[${many(50_000, () => '0')}]}`],
    ['50 000 solids with one id', () => `${head},"solids":[${many(50_000, () => '{"id":"A","name":"a","class":"other","shape":{"kind":"box","centre":[0,0,0],"sizeMm":[1,1,1]}}')}]}`],
    ['one outline of two million wrong corners', () => `${head},"rooms":[{"id":"A","name":"a","outline":[${many(2_000_000, () => '0')}]}]}`],
    ['1 000 runs to nowhere, of 500 points', () => `${head},"runs":[${many(1_000, i => `{"id":"N${i}","name":"n","type":"T","from":{"sleeve":"S"},"to":{"sleeve":"S"},"waypoints":[${many(500, () => '{"at":[0,0,0]}')}]}`)}]}`],
    ['60 million brackets', () => '['.repeat(60_000_000)],
    ['a 60 million digit number', () => `${head},"note":${'1'.repeat(60_000_000)}}`],
  ])('%s is refused in time', (_, make) => {
    expect(expectRefusalOrJob(make())).toBe(false)
  })
  test('as large as a job may be, it is still read in time', () => {
    const job = `${head},"solids":[${many(50_000, i => `{"id":"A${i}","name":"a","class":"other","shape":{"kind":"box","centre":[${i},0,0],"sizeMm":[1,1,1]}}`)}]}`
    expect(expectRefusalOrJob(job)).toBe(true)
  })
})
