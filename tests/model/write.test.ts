import { expect, test } from 'vitest'
import { type Job, formatJob, parseJob } from '#model/index.ts'
import { richJob } from './richJob.ts'

function read(text: string): Job {
  const result = parseJob(text)
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.job
}

test('a job written and read again is the same job', () => {
  const job = read(JSON.stringify(richJob()))
  expect(read(formatJob(job))).toEqual(job)
})
test('numbers keep their last bit', () => {
  const job = read(JSON.stringify(richJob()))
  job.holes[0].alongMm = 900 + 1 / 3
  job.holes[0].heightMm = 100 + Number.EPSILON * 64
  expect(read(formatJob(job))).toEqual(job)
})
test('keys stand in the order of the format, whatever order the job had them in', () => {
  const job = read(JSON.stringify(richJob()))
  const turned = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(turned)
    if (typeof value !== 'object' || value === null) return value
    return Object.fromEntries(Object.entries(value).reverse().map(([key, inner]) => [key, turned(inner)]))
  }
  expect(formatJob(turned(job) as Job)).toBe(formatJob(job))
  expect(formatJob(job).startsWith('{\n  "format": "joistway-job",\n  "version": 1,\n  "name": ')).toBe(true)
})
test('a point takes one line, never one line a number', () => {
  const job = read(JSON.stringify(richJob()))
  job.rooms[0].outline = Array.from({ length: 40 }, (_, i) => [i * 100.5, i * i])
  const text = formatJob(job)
  expect(text).not.toMatch(/^\s*-?[\d.]+,?$/m)
  expect(text).toContain('\n        [1005, 100],\n')
  expect(text).toContain('{ "at": [500, 500, 2450], "radiusMm": 200 }')
  expect(Math.max(...text.split('\n').map(line => line.length))).toBeLessThanOrEqual(120)
})
test('what is left out stays left out', () => {
  const job = read(JSON.stringify(richJob()))
  job.joistFields[0].joists[1].name = undefined
  expect(formatJob(job)).not.toContain('doubled')
  expect(read(formatJob(job)).joistFields[0].joists[1]).not.toHaveProperty('name')
})
