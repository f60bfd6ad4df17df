import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readJsonText } from '#model/jsonText.ts'
import { Problems } from '#model/problem.ts'

const SEED = 20_240_611

/** The built-in reader is the reference. */
function builtIn(text: string): { value: unknown } | undefined {
  try {
    return { value: JSON.parse(text) as unknown }
  } catch {
    return undefined
  }
}

function ours(text: string): { read: { value: unknown } | undefined, problems: Problems } {
  const problems = new Problems()
  return { read: readJsonText(text, problems), problems }
}

test(`any JSON reads as the built-in reader reads it (seed ${SEED})`, () => {
  fc.assert(fc.property(fc.json({ maxDepth: 6, stringUnit: 'binary' }), fc.constantFrom(undefined, 0, 2, '\t'), (text, space) => {
    const spaced = space === undefined ? text : JSON.stringify(JSON.parse(text), null, space)
    const { read, problems } = ours(spaced)
    expect(read).toEqual(builtIn(spaced))
    expect(problems.total).toBe(0)
  }), { seed: SEED, numRuns: 500 })
})

test(`damaged JSON is refused exactly where the built-in reader refuses it, with a line and column (seed ${SEED})`, () => {
  const scrap = fc.constantFrom('{', '}', '[', ']', ',', ':', '"', '\\', '\\u', '\\u00e9', '0', '-', '.', 'e', 'E5', '1.5', 'true', 'nul', ' ', '\n', '\u0000', '\u2028', 'é', '😀', '\ud800', 'x')
  let refused = 0
  fc.assert(fc.property(fc.json({ maxDepth: 3, depthSize: 'small' }), fc.array(fc.tuple(fc.nat(), fc.nat(3), scrap), { minLength: 1, maxLength: 3 }), (json, edits) => {
    let text = json
    for (const [at, drop, put] of edits) {
      const place = at % (text.length + 1)
      text = text.slice(0, place) + put + text.slice(place + drop)
    }
    const { read, problems } = ours(text)
    const reference = builtIn(text)
    if (reference === undefined) {
      refused++
      expect(read).toBeUndefined()
      expect(problems.listed.at(-1)).toMatchObject({ code: 'not-json', found: expect.stringMatching(/at line \d+, column \d+$|^an empty file$/) })
    } else expect(read).toEqual(reference)
  }), { seed: SEED, numRuns: 5000 })
  expect(refused).toBeGreaterThan(1000)
})

test('numbers read to the same last bit', () => {
  for (const text of ['0', '-0', '0.1', '1e-7', '123456789.123456789', '5e-324', '1.7976931348623157e308', '2E+3', '-1.5e-300', '9007199254740993']) {
    expect(ours(text).read).toEqual({ value: JSON.parse(text) as number })
  }
})
