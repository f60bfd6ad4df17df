import { isDeepStrictEqual } from 'node:util'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type Job, type JobInput, amendJob, parseJob, readJobValue } from '#model/index.ts'
import { richJob } from './richJob.ts'

const SEED = 73_009

function read(text: string): Job {
  const result = parseJob(text)
  if (!result.ok) throw new Error('not a job')
  return result.job
}
const rich = read(JSON.stringify(richJob()))

type Step = string | number
function pathsOf(value: unknown, at: Step[] = [], found: Step[][] = []): Step[][] {
  if (typeof value === 'object' && value !== null) {
    for (const key of Array.isArray(value) ? value.keys() : Object.keys(value)) {
      found.push([...at, key])
      pathsOf((value as Record<Step, unknown>)[key], [...at, key], found)
    }
  }
  return found
}
// of another format or version nothing else is read
const paths = pathsOf(rich).filter(([first]) => first !== 'format' && first !== 'version')

/** The value with something else at a path; what is not on the way there stays the same object. */
function changedAt(value: unknown, [step, ...rest]: readonly Step[], change: (old: unknown) => unknown): unknown {
  if (Array.isArray(value)) {
    const made = change === remove && rest.length === 0 ? value.toSpliced(step as number, 1) : [...value as unknown[]]
    if (change !== remove || rest.length > 0) made[step as number] = rest.length === 0 ? change(made[step as number]) : changedAt(made[step as number], rest, change)
    return made
  }
  const made = { ...value as Record<string, unknown> }
  if (change === remove && rest.length === 0) delete made[step]
  else made[step] = rest.length === 0 ? change(made[step]) : changedAt(made[step], rest, change)
  return made
}
function remove(): undefined {}

const changes: readonly ((old: unknown) => unknown)[] = [
  remove, () => 0, () => -1, () => 'J1', () => 'N1', () => null, () => NaN, () => [], () => ({}), () => 1e9, () => -0, () => 'two\nlines', () => true, () => [1, 2, 3], () => 'S2',
  old => typeof old === 'number' ? old * 1.25 : old, old => typeof old === 'number' ? old / 2 : old, old => typeof old === 'number' ? -old : old,
  old => Array.isArray(old) ? [...old, old[0]] : old, old => Array.isArray(old) ? old.toReversed() : old, old => structuredClone(old),
  old => typeof old === 'object' && old !== null ? { ...old, extra: 1 } : old,
]

describe('a changed job', () => {
  test(`is judged by its changes as it would be whole, and is the same job (seed ${SEED})`, () => {
    let taken = 0, refused = 0
    fc.assert(fc.property(fc.array(fc.tuple(fc.nat(), fc.nat(changes.length - 1)), { minLength: 1, maxLength: 2 }), (edits) => {
      let draft: unknown = rich
      for (const [place, change] of edits) {
        const path = paths[place % paths.length]
        // an earlier edit may have taken away what this one would change
        try {
          draft = changedAt(draft, path, changes[change])
        } catch {
          continue
        }
      }
      const whole = readJobValue(draft), amended = amendJob(rich, draft as JobInput)
      expect(amended.ok).toBe(whole.ok)
      if (amended.ok && whole.ok) {
        taken++
        expect(isDeepStrictEqual(amended.job, whole.job)).toBe(true)
      } else if (!amended.ok && !whole.ok) {
        refused++
        const places = new Set(whole.problems.map(({ path }) => path))
        expect(amended.problems.length).toBeGreaterThan(0)
        // it may stop before it has listed all, but blames nothing that is not to blame
        for (const { path } of amended.problems) expect(places).toContain(path)
      }
    }), { seed: SEED, numRuns: 3000 })
    expect(taken).toBeGreaterThan(300)
    expect(refused).toBeGreaterThan(300)
  })
  test('that says the same is the very same job, however it was copied', () => {
    expect(amendJob(rich, structuredClone(rich))).toEqual({ ok: true, job: rich })
    const amended = amendJob(rich, richJob() as JobInput)
    expect(amended.ok && amended.job).toBe(rich)
  })
  test('keeps what did not change as it was, down to the points', () => {
    const draft = structuredClone(rich)
    draft.runs[0].waypoints[1].at[2] = 2460
    draft.joistFields[0].joists.splice(0, 1)
    const amended = amendJob(rich, draft)
    if (!amended.ok) throw new Error(JSON.stringify(amended.problems))
    const { job } = amended
    for (const key of ['settings', 'rooms', 'zones', 'sections', 'holes', 'solids', 'sleeves', 'equipment', 'ductTypes', 'views', 'underlay'] as const) expect(job[key]).toBe(rich[key])
    expect(job.runs[1]).toBe(rich.runs[1])
    expect(job.runs[0].from).toBe(rich.runs[0].from)
    expect(job.runs[0].waypoints[0]).toBe(rich.runs[0].waypoints[0])
    expect(job.runs[0].waypoints[1]).not.toBe(rich.runs[0].waypoints[1])
    // the joist that has moved up in the list is still itself
    expect(job.joistFields[0].joists[0]).toBe(rich.joistFields[0].joists[1])
    expect(job.joistFields[1]).toBe(rich.joistFields[1])
    // and nothing of the draft is kept
    draft.runs[0].waypoints[1].at[2] = 0
    expect(job.runs[0].waypoints[1].at[2]).toBe(2460)
  })
  test.each<[what: string, change: (job: Job) => JobInput, path: string]>([
    ['a joist that goes while a hole is in it', job => ({ ...job, joistFields: [job.joistFields[0]] }), 'holes[0].joist'],
    ['a spigot that goes while a run is on it', job => ({ ...job, equipment: job.equipment.with(1, { ...job.equipment[1], spigots: [] }) }), 'runs[0].to.spigot'],
    ['a room that goes while a plenum serves it', job => ({ ...job, rooms: [] }), 'equipment[1].room'],
    ['an id that another thing has', job => ({ ...job, solids: job.solids.with(0, { ...job.solids[0], id: 'W1' as never }) }), 'solids[1].id'],
    ['a section that grows too shallow for a hole', job => ({ ...job, sections: job.sections.map(section => section.id === 'S2' ? { ...section, depthMm: 120 } : section) }), 'holes[0].heightMm'],
    ['a newer version', job => ({ ...job, version: 2 as never }), 'version'],
    ['a view from its own target', job => ({ ...job, views: [{ ...job.views[0], eye: job.views[0].target }] }), 'views[0].target'],
    ['a plan with one point for two', job => ({ ...job, underlay: { ...job.underlay!, marks: [job.underlay!.marks[0], job.underlay!.marks[0]] } }), 'underlay.marks[1].pixel'],
  ])('is refused for %s', (_, change, path) => {
    const amended = amendJob(rich, change(rich))
    expect(!amended.ok && amended.problems.map(problem => problem.path)).toContain(path)
  })
})

test('a job written before there were views, groups, locks and packers reads as it did', () => {
  const { views, underlay, ...old } = richJob()
  const job = read(JSON.stringify({ ...old, runs: old.runs.map((run) => ({ ...run, group: undefined, locked: undefined })) }))
  expect(views.length + Number(underlay !== undefined)).toBe(2)
  expect(job.views).toEqual([])
  expect(job).not.toHaveProperty('underlay')
  expect(job.runs[0]).not.toHaveProperty('locked')
  expect(job.runs[0]).not.toHaveProperty('group')
})
