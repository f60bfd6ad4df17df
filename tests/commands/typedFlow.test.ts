import { describe, expect, test } from 'vitest'
import { flowNumber, formatFlow, parseFlow } from '#commands/typedFlow.ts'

describe('a flow as a meter shows it', () => {
  test.each([
    ['5.2', 5.2], ['5,2', 5.2], [' 5.2 l/s ', 5.2], ['5.2 L/S', 5.2], ['.5', 0.5], ['7.', 7], ['0', 0], ['12lps', 12],
    ['18 m3/h', 5], ['18m³/h', 5], ['18,0 m3/h', 5], ['36 m³', 10],
  ])('%j is %d l/s', (text, lps) => expect(parseFlow(text)).toEqual({ ok: true, lps }))
  test('a number without a unit is in what the meter shows; a unit typed beside it wins', () => {
    expect(parseFlow('18', 'm3/h')).toEqual({ ok: true, lps: 5 })
    expect(parseFlow('5 l/s', 'm3/h')).toEqual({ ok: true, lps: 5 })
  })
  test.each(['', 'five', '-3', '5 6', '5 cfm', '1.2.3', '1e3', 'NaN', '99999999', '5 m', '4 h'])('%j is refused with a reason', (text) => {
    const read = parseFlow(text)
    expect(read.ok ? '' : read.why).toMatch(/.{10,}/)
  })
  test('is written to the tenth with its unit, and reads back as the same', () => {
    expect(formatFlow(5.55)).toBe('5.5 l/s')
    expect(formatFlow(5, 'm3/h')).toBe('18.0 m³/h')
    for (let tenths = 0; tenths < 400; tenths++) {
      const read = parseFlow(flowNumber(tenths / 10 / 3.6, 'm3/h'), 'm3/h')
      expect(read.ok && flowNumber(read.lps, 'm3/h')).toBe((tenths / 10).toFixed(1))
    }
  })
})
