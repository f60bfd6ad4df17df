import { describe, expect, it } from 'vitest'
import { checkJob, checkRun, contextFor, withRun } from '#checks/index.ts'
import { placeRun } from '#assembly/runs.ts'
import { assemblyOf, box, codesOf, findingsOf, freeRun, jobOf, oneJoist, together, type EquipmentInput, type Point } from './smallJob.ts'

/** A straight 90 mm duct along y at x 0, its axis at this height. */
const along = (z: number, id = 'R1') => freeRun(id, [[0, -1000, z], [0, 1000, z]])
/** A beam along x whose top is at z 0. */
const beam = box('B1', 'beam', [0, 0, -50], [1000, 200, 100])

describe('a run and a solid', () => {
  it('cuts 12.4 mm into a beam when its axis is 32.6 mm over it', () => {
    const [finding, ...rest] = findingsOf(together(along(32.6), beam)) // 45 - 32.6
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ code: 'clash', severity: 'stop', unit: 'mm', required: 0, at: { x: 0, z: 32.6 }, onOther: { x: 0, z: 0 } })
    expect(finding.measured).toBeCloseTo(-12.4, 9)
    expect(finding.parts.map((part) => part.id)).toEqual(['R1', 'B1'])
    expect(finding.mark).toEqual(finding.onOther)
    expect(finding.stationMm).toBeCloseTo(1000 + finding.at.y, 9)
  })

  it('resting on a beam is no clash, and no fault where nothing more is asked', () => {
    expect(findingsOf(together(along(45), beam))).toEqual([])
  })

  it('a touch by construction is told apart from 0.001 mm of overlap', () => {
    expect(codesOf(findingsOf(together(along(45 - 0.00005), beam)))).toEqual([])
    expect(codesOf(findingsOf(together(along(45 - 0.001), beam)))).toEqual(['clash'])
  })

  it('needs the clearance of its pair of classes, from both sides of the edge', () => {
    const asked = together(beam, { settings: { clearances: [{ between: ['duct', 'beam'], mm: 10, why: 'fire batt' }] } })
    expect(findingsOf(together(along(55), asked))).toEqual([])
    const [finding] = findingsOf(together(along(54.9), asked))
    expect(finding).toMatchObject({ code: 'tight', severity: 'mend', required: 10 })
    expect(finding.measured).toBeCloseTo(9.9, 9)
    expect(finding.why).toContain('fire batt')
  })

  it('takes the most particular clearance, and the last of equals', () => {
    const requiredFrom = (clearances: NonNullable<NonNullable<Parameters<typeof jobOf>[0]['settings']>['clearances']>, clearanceMm = 3) =>
      contextFor(assemblyOf(together(along(500), beam, { settings: { clearanceMm, clearances } }))).clearances
    const at = (list: Parameters<typeof requiredFrom>[0]) => Math.max(...findingsOf(together(along(45), beam, { settings: { clearanceMm: 3, clearances: list } })).map((f) => f.required))
    expect(at([])).toBe(3)
    expect(at([{ between: ['any', 'any'], mm: 4 }])).toBe(4)
    expect(at([{ between: ['beam', 'any'], mm: 5 }, { between: ['any', 'any'], mm: 4 }])).toBe(5)
    expect(at([{ between: ['beam', 'duct'], mm: 6 }, { between: ['duct', 'any'], mm: 5 }])).toBe(6)
    expect(at([{ between: ['duct', 'beam'], mm: 6 }, { between: ['beam', 'duct'], mm: 7 }])).toBe(7)
    expect(at([{ between: ['pipe', 'beam'], mm: 50 }])).toBe(3)
    expect(requiredFrom([{ between: ['duct', 'pipe'], mm: 60 }]).mostMm).toBe(60)
  })

  it('insulation counts as part of the duct', () => {
    const wrapped = { kind: 'semi-rigid' as const, id: 'w', name: 'wrapped', innerDiameterMm: 76, outerDiameterMm: 90, insulationMm: 25, minBendRadiusMm: 180 }
    const job = together(freeRun('R1', [[0, -1000, 60], [0, 1000, 60]], { type: 'w' }), beam, { ductTypes: [wrapped] })
    expect(findingsOf(job)[0].measured).toBeCloseTo(60 - 70, 9)
  })

  it('touching one slab twice, a metre apart, is two findings; in one place it is one', () => {
    // down to the slab, up over a hump, down again
    const slab = box('S1', 'slab', [0, 0, -50], [8000, 1000, 100])
    const dips = freeRun('R1', [[-3000, 0, 400], [-1500, 0, 0], [0, 0, 400], [1500, 0, 0], [3000, 0, 400]])
    const two = findingsOf(together(dips, slab)).filter((finding) => finding.code === 'clash')
    expect(two.map((finding) => finding.id).sort()).toEqual(['clash:R1:S1', 'clash:R1:S1:2'])
    expect(two[0].stationMm).not.toBeCloseTo(two[1].stationMm ?? 0, 0)
    const lies = freeRun('R1', [[-3000, 0, 20], [3000, 0, 20]])
    expect(codesOf(findingsOf(together(lies, slab)))).toEqual(['clash'])
  })
})

describe('a run and an open-web joist', () => {
  const through = (x: number, y: number, id = 'R1') => freeRun(id, [[x, -1000, y], [x, 1000, y]])

  it('through the middle of an opening touches nothing', () => {
    expect(findingsOf(together(through(300, 47 + 70.75), oneJoist()))).toEqual([])
  })

  it('hitting the plates on both faces of one web is one finding, told by the worse face', () => {
    // the web from node 0 up to x 300 passes (150, 127): straight through both of its plates, a shade more into the left one by slanting towards it
    const slanting = freeRun('R1', [[155, -1000, 127], [145, 1000, 127]])
    const findings = findingsOf(together(slanting, oneJoist()))
    expect(findings.map((finding) => finding.id)).toEqual(['clash:R1:J1/web-1'])
    expect(findings[0].parts[1]).toMatchObject({ id: 'J1', name: expect.stringMatching(/^joist J1, web 1 \((left|right) face\)$/) })
  })

  it('a chord is named as that', () => {
    const [finding] = findingsOf(together(through(300, 47 + 44), oneJoist()))
    expect(finding.parts[1]).toEqual({ id: 'J1', part: 'bottom-chord', name: 'joist J1, bottom chord' })
    expect(finding.measured).toBeCloseTo(-1, 9)
  })
})

describe('two runs', () => {
  it('crossing 80 mm apart on their axes overlap by 10 mm, once, told from the first id', () => {
    const job = together(freeRun('R2', [[-1000, 0, 80], [1000, 0, 80]]), along(0))
    const [finding, ...rest] = findingsOf(job)
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'clash:R1:R2', at: { x: 0, y: 0, z: 0 }, mark: { x: 0, y: 0, z: 35 } }) // 80 - 45
    expect(finding.measured).toBeCloseTo(-10, 9)
  })

  it('side by side at exactly the required distance are fine, and 0.1 mm nearer are not', () => {
    const beside = (x: number) => findingsOf(together(freeRun('R2', [[x, -1000, 0], [x, 1000, 0]]), along(0), { settings: { clearances: [{ between: ['duct', 'duct'], mm: 5 }] } }))
    expect(beside(95)).toEqual([])
    expect(codesOf(beside(94.9))).toEqual(['tight'])
  })

  it('crossing twice, a metre apart, are two findings', () => {
    const back = freeRun('R2', [[-1000, -500, 80], [1000, -500, 80], [1000, 500, 80], [-1000, 500, 80]])
    const found = findingsOf(together(along(0), back))
    expect(found.map((finding) => [finding.id, finding.stationMm])).toEqual([['clash:R1:R2', expect.closeTo(500, 6)], ['clash:R1:R2:2', expect.closeTo(1500, 6)]])
  })

  it('on one axis are a clash as deep as both are thick', () => {
    const [finding] = findingsOf(together(along(0), along(0, 'R2')))
    expect(finding.measured).toBeCloseTo(-90, 9)
    for (const k of ['x', 'y', 'z'] as const) expect(Number.isFinite(finding.mark[k])).toBe(true)
  })
})

describe('spigots', () => {
  const manifold: EquipmentInput = {
    id: 'M1', name: 'manifold M1', kind: 'manifold', centre: [0, -200, 0], sizeMm: [400, 200, 200],
    spigots: [
      { id: 'p1', at: [-60, 140, 0], axis: [0, 1, 0], diameterMm: 90, lengthMm: 40 },
      { id: 'p2', at: [60, 140, 0], axis: [0, 1, 0], diameterMm: 90, lengthMm: 40 },
    ],
  }
  // mouths at y -60
  const fromSpigot = (id: string, spigot: string, points: readonly Point[]) => {
    const free = freeRun(id, points)
    return together({ runs: [{ ...free.runs[0], from: { equipment: 'M1', spigot } }], sleeves: [free.sleeves[1]] }, { equipment: [manifold] })
  }

  it('a run on its own spigot touches its collar and its body freely', () => {
    const job = fromSpigot('R1', 'p1', [[-60, -60, 0], [-60, 2000, 0]])
    expect(findingsOf(together(job, { settings: { clearanceMm: 10 } }))).toEqual([])
  })

  it('the collar next to it is judged like anything else: axes 120 apart leave 30 mm', () => {
    const tightAt = (mm: number) => findingsOf(together(fromSpigot('R1', 'p1', [[-60, -60, 0], [-60, 2000, 0]]), { settings: { clearances: [{ between: ['duct', 'manifold'], mm }] } }))
    expect(tightAt(30)).toEqual([])
    const [finding] = tightAt(31)
    expect(finding).toMatchObject({ code: 'tight', parts: [{ id: 'R1' }, { id: 'M1', part: 'spigot-p2', name: 'manifold M1, spigot p2' }] })
    expect(finding.measured).toBeCloseTo(30, 9)
  })

  it('coming back to the body that it left is a clash', () => {
    // out, over, and back down into the top of the body
    const loop = fromSpigot('R1', 'p1', [[-60, -60, 0], [-60, 500, 0], [-60, 500, 500], [-60, -200, 500], [-60, -200, 120]])
    const [finding] = findingsOf(loop)
    expect(finding).toMatchObject({ code: 'clash', parts: [{ id: 'R1' }, { id: 'M1', part: 'body' }] })
    expect(finding.measured).toBeCloseTo(20 - 45, 6) // 120 - 100 above the body, less the radius
  })
})

describe('one run again', () => {
  const job = jobOf(together(along(32.6), along(200, 'R2'), beam, freeRun('R3', [[-1000, 0, 80], [1000, 0, 80]])))

  it('is found at fault just as in the whole job', async () => {
    const { assemble } = await import('#assembly/assemble.ts')
    const assembly = assemble(job), context = contextFor(assembly)
    const whole = checkJob(assembly, context)
    expect(whole.length).toBeGreaterThan(1)
    assembly.runs.forEach(({ run }, i) => {
      expect(checkRun(context, i)).toEqual(whole.filter((finding) => finding.parts.some((part) => part.id === run.id)))
    })
  })

  it('after it moved gives what a fresh check of the moved job gives', async () => {
    const { assemble } = await import('#assembly/assemble.ts')
    const assembly = assemble(job)
    const { run, type, from, to } = assembly.runs[0]
    const moved = { ...run, waypoints: run.waypoints.map((w) => ({ ...w, at: [w.at[0], w.at[1], w.at[2] + 7.4] as Point })) }
    const context = withRun(contextFor(assembly), 0, placeRun(moved, type, from, to))
    const fresh = assemble({ ...job, runs: [moved, ...job.runs.slice(1)] })
    expect(checkJob(context.assembly, context)).toEqual(checkJob(fresh))
    expect(checkJob(fresh)[0].measured).not.toEqual(checkJob(assembly)[0].measured)
  })
})
