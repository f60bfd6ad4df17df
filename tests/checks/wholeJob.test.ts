import { describe, expect, it } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkJob, checkRun, contextFor } from '#checks/index.ts'
import { FINDING_CODES, type Finding } from '#checks/finding.ts'
import { moveSentence, sentenceOf, titleOf } from '#checks/wording.ts'
import type { Job } from '#model/index.ts'
import { assemblyOf, box, freeRun, jobOf, oneJoist, together, type EquipmentInput, type Point } from './smallJob.ts'

type Fields = Parameters<typeof jobOf>[0]

/** A job with something wrong of every kind. */
function badJob(turnDeg = 0, shift: Point = [0, 0, 0]): Fields {
  const c = [1, 0, -1, 0][turnDeg / 90 % 4], s = [0, 1, 0, -1][turnDeg / 90 % 4]
  const turned = ([x, y, z]: Point): Point => [c * x - s * y, s * x + c * y, z]
  const moved = (p: Point): Point => { const [x, y, z] = turned(p); return [x + shift[0], y + shift[1], z + shift[2]] }
  const moved2 = ([x, y]: [number, number]): [number, number] => moved([x, y, 0]).slice(0, 2) as [number, number]
  const ring = (points: [number, number][]) => points.map(moved2)
  const sized = ([x, y, z]: Point): Point => c === 0 ? [y, x, z] : [x, y, z]
  const turn: Point = [0, 0, turnDeg]
  const run = (id: string, points: Point[], more = {}) => freeRun(id, points.map(moved), more)
  const equip = (e: EquipmentInput): EquipmentInput => ({ ...e, centre: moved(e.centre as Point), rotationDeg: turn })
  const manifold = equip({
    id: 'M1', name: 'manifold M1', kind: 'unit', centre: [-500, 3000, 120], sizeMm: [400, 200, 200],
    spigots: [{ id: 'p1', at: [-60, 140, 0], axis: [0, 1, 0], diameterMm: 90 }, { id: 'p2', at: [60, 140, 0], axis: [0, 1, 0], diameterMm: 75 }],
  })
  const onto = (id: string, spigot: string, points: Point[]): Fields => {
    const free = run(id, points)
    return { runs: [{ ...free.runs[0], from: { equipment: 'M1', spigot } }], sleeves: [free.sleeves[1]] }
  }
  const outdoor = (id: string, air: 'intake' | 'exhaust', centre: Point): EquipmentInput => equip({ id, name: id, kind: 'outdoor-terminal', centre, sizeMm: [150, 150, 150], air })
  const field = (id: string, section: string, origin: Point, joist: string) => ({ id, name: id, section, origin: moved(origin), directionDeg: turnDeg, centresMm: 400, lengthMm: 2400, joists: [{ id: joist }] })
  return together(
    oneJoist(), {
      joistFields: [field('g', 's', [0, 1500, 0], 'J2'), field('t', 'timber', [0, 6000, 0], 'J3')],
      sections: [{ kind: 'solid-timber', id: 'timber', name: '47 x 220', depthMm: 220, widthMm: 47 }],
      holes: [{ id: 'H1', joist: 'J3', alongMm: 800, heightMm: 110, diameterMm: 80 }],
      ductTypes: [{ kind: 'semi-rigid', id: 'big', name: 'big duct', innerDiameterMm: 150, outerDiameterMm: 160, minBendRadiusMm: 320 }],
      zones: [{ id: 'Z1', name: 'the void', outline: ring([[-3000, -3000], [6000, -3000], [6000, 9000], [-3000, 9000]]), undersideMm: -400 + shift[2], topMm: 600 + shift[2] }],
      rooms: [{ id: 'bed', name: 'Bedroom', outline: ring([[0, 0], [3000, 0], [3000, 3000], [0, 3000]]), doors: [{ at: moved2([1000, 0]), widthMm: 800 }] }],
      settings: { clearanceMm: 5, terminals: { wallMm: 300, doorMm: 1200 } },
      equipment: [manifold, equip({ id: 'P1', name: 'plenum P1', kind: 'plenum', centre: [1000, 100, -300], sizeMm: [200, 200, 100], room: 'bed' }), outdoor('I1', 'intake', [8000, 0, 0]), outdoor('E1', 'exhaust', [8300, 0, 0]), outdoor('E2', 'exhaust', [9000, 0, 0])],
    },
    { joistFields: [{ ...oneJoist().joistFields![0], origin: moved([0, 0, 0]), directionDeg: turnDeg }] },
    run('R01', [[300, -1000, 90], [300, 1000, 90]]), // cuts the bottom chord
    run('R02', [[300, 1000, 117.75], [300, 2500, 117.75]], { type: 'big' }), // too big for its opening
    run('R03', [[-1000, 800, 100], [600, 800, 100], [600, 1300, 100], [600, 1300, 250]]), // meets R01 and has no room
    run('R04', [[800, 5000, 110], [800, 7000, 110]]), // its hole is too small
    run('R05', [[1200, 5000, 110], [1200, 7000, 110]]), // cuts a timber joist
    run('R06', [[-2000, -2000, 300], [-2000, 1000, 300], [-2000, 1000, 900]]), // out through the top
    run('R07', [[3000, -1000, 0], [3000, 0, 0], [4000, 0, 0]], { type: 'r125', waypoints: [[3000, -1000, 0], [3000, 0, 0], [4000, 700, 0]].map((at) => ({ at: moved(at as Point) })) }),
    onto('R08', 'p1', [[-560, 3140, 120], [-560, 3400, 120], [-1000, 3400, 120]]), // too little straight
    onto('R09', 'p1', [[-560, 3145, 120], [-500, 4400, 120]]), // same spigot, off it, askew
    onto('R10', 'p2', [[-440, 3140, 120], [-440, 5000, 120]]), // wrong size
    { solids: [{ id: 'X1', name: 'bow tie', class: 'steel', shape: { kind: 'prism', outline: [[0, 0], [100, 100], [100, 0], [0, 150]], bottomMm: 0, topMm: 100, origin: moved([5000, 5000, 0]), rotationDeg: turn } }] },
    { solids: [{ ...box('B1', 'beam', moved([-1000, -1500, 398]), sized([3000, 100, 100])).solids![0] }] }, // tight beside R06
    { solids: [{ ...box('B2', 'steel', moved([-500, 2880, 120]), sized([100, 100, 100])).solids![0] }] }, // stands in the unit
    { runs: [{ ...run('R11', [[4000, 4000, 0], [5000, 4000, 0]]).runs[0], waypoints: [{ at: moved([4000, 4000, 0]), radiusMm: 50 }, { at: moved([4500, 4000, 0]), radiusMm: 50 }, { at: moved([4500, 4500, 0]) }] }], sleeves: run('R11', [[4000, 4000, 0], [4500, 4500, 0]]).sleeves },
  )
}

/** oneJoist() gives a field at 0, 0; the turned one takes its place. */
function job(turnDeg = 0, shift: Point = [0, 0, 0]): Job {
  const fields = badJob(turnDeg, shift)
  return jobOf({ ...fields, joistFields: fields.joistFields!.slice(1) })
}

const bare = (findings: readonly Finding[]) => findings.map(({ id, code, severity, parts, unit, measured, required, why, stationMm }) => ({
  id, code, severity, parts, unit, required, why,
  measured: Math.round(measured * 1e3) / 1e3 + 0, stationMm: stationMm === undefined ? undefined : Math.round(stationMm * 10) / 10 + 0,
})).sort((a, b) => a.id < b.id ? -1 : 1)

describe('a whole job', () => {
  const findings = checkJob(assemble(job()))

  it('shows a fault of every kind', () => {
    const seen = new Set(findings.map((finding) => finding.code))
    expect(FINDING_CODES.filter((code) => !seen.has(code))).toEqual([])
  })

  it('has no two findings of one id, worst first, and every figure a number', () => {
    expect(new Set(findings.map((finding) => finding.id)).size).toBe(findings.length)
    const rank = { stop: 0, mend: 1, advice: 2 }
    expect(findings.map((f) => rank[f.severity])).toEqual(findings.map((f) => rank[f.severity]).sort())
    for (const { at, mark, onOther = at, measured, required, stationMm = 0, id } of findings) {
      for (const value of [at, mark, onOther].flatMap(({ x, y, z }) => [x, y, z]).concat(measured, required, stationMm)) expect(Number.isFinite(value), id).toBe(true)
    }
  })

  it('is found at fault alike whatever the order of the file', () => {
    const given = job()
    const reversed = jobOf(JSON.parse(JSON.stringify({
      ...given, runs: [...given.runs].reverse(), solids: [...given.solids].reverse(), equipment: [...given.equipment].reverse(),
      sleeves: [...given.sleeves].reverse(), joistFields: [...given.joistFields].reverse(), holes: [...given.holes].reverse(), ductTypes: [...given.ductTypes].reverse(),
    })) as Fields)
    expect(checkJob(assemble(reversed))).toEqual(findings)
  })

  it.each([[90, [0, 0, 0]], [180, [0, 0, 0]], [270, [0, 0, 0]], [0, [12_345, -6_789, 321]], [90, [-40_000, 25_000, 2_700]]] as [number, Point][])('turned by %d degrees and moved by %j is found at fault alike', (turnDeg, shift) => {
    expect(bare(checkJob(assemble(job(turnDeg, shift))))).toEqual(bare(findings))
  })

  it('each run by itself gives its share of the findings', () => {
    const assembly = assemble(job()), context = contextFor(assembly)
    assembly.runs.forEach(({ run }, i) => {
      const own = findings.filter((finding) => finding.code !== 'degenerate-solid' && finding.parts.some((part) => part.id === run.id))
      expect(checkRun(context, i)).toEqual(own)
    })
  })

  it('every finding has a title, and a sentence with its place and its figures', () => {
    for (const finding of findings) {
      expect(titleOf(finding)).toContain(finding.parts[0].name)
      const sentence = sentenceOf(finding)
      expect(sentence.toLowerCase(), finding.id).toContain(finding.parts[0].name.toLowerCase())
      expect(sentence, finding.id).toMatch(/at x -?[\d,]+ y -?[\d,]+ z -?[\d,]+ mm/)
      expect(sentence, finding.id).not.toMatch(/undefined|NaN|Infinity|null/)
      expect(sentence.trimEnd(), finding.id).toMatch(/\.$/)
      if (finding.stationMm !== undefined) expect(sentence).toMatch(/mm along/)
    }
  })
})

describe('words', () => {
  const clash: Finding = {
    id: 'clash:R7:J12/web-3', code: 'clash', severity: 'stop',
    parts: [{ id: 'R7', name: 'Run 7' }, { id: 'J12', part: 'web-3-left', name: 'joist J12, web 3 (left face)' }],
    at: { x: 4120, y: 1860, z: 2655.4 }, mark: { x: 0, y: 0, z: 0 }, stationMm: 2315.2, unit: 'mm', measured: -12.4, required: 5, why: 'the job\'s clearance duct to web',
  }

  it('a clash is told whole', () => {
    expect(sentenceOf(clash)).toBe('Run 7 cuts 12.4 mm into joist J12, web 3 (left face), 2,315 mm along the run, at x 4,120 y 1,860 z 2,655 mm. It must clear it by 5 mm (the job\'s clearance duct to web).')
  })

  it('what is not nothing is never written as nothing, and a near miss never as the very figure', () => {
    expect(sentenceOf({ ...clash, measured: -0.01 })).toContain('cuts less than 0.1 mm into')
    expect(sentenceOf({ ...clash, code: 'tight', measured: 4.97 })).toContain('just under 5 mm')
    expect(sentenceOf({ ...clash, at: { x: -0.2, y: 1_234_567, z: 0 } })).toContain('at x 0 y 1,234,567 z 0')
  })

  it('a move says which points, which way and how far', () => {
    const move = { runId: 'R7', waypoints: [1, 2], direction: { x: 0, y: 0, z: 1 }, byMm: 12.41, way: 'up' }
    expect(moveSentence({ ...clash, move })).toBe('Move points 2 and 3 of the run up by 12.4 mm to clear it.')
    expect(moveSentence({ ...clash, move: { ...move, way: null, direction: { x: 0.6, y: -0.8, z: 0 } } })).toBe('Move points 2 and 3 of the run 7.4 mm east and 9.9 mm south to clear it.')
    expect(moveSentence({ ...clash, move: { ...move, way: 'along -x', direction: { x: -1, y: 0, z: 0 } } })).toBe('Move points 2 and 3 of the run west by 12.4 mm to clear it.')
    expect(moveSentence({ ...clash, move: null })).toBe('No single move of a leg or a corner clears it.')
    expect(moveSentence(clash)).toBe('')
  })
})

describe('what is no proper body', () => {
  const bowTie: Fields = { solids: [{ id: 'X1', name: 'bow tie', class: 'steel', shape: { kind: 'prism', outline: [[-500, -500], [500, 500], [500, -500], [-500, 600]], bottomMm: -100, topMm: 100 } }] }

  it('is named, and judged by no other check', () => {
    const found = checkJob(assemblyOf(together(freeRun('R1', [[0, -1000, 0], [0, 1000, 0]]), bowTie)))
    expect(found).toMatchObject([{ code: 'degenerate-solid', severity: 'stop', parts: [{ id: 'X1', name: 'bow tie' }] }])
    expect(sentenceOf(found[0])).toMatch(/^Bow tie: its outline crosses or touches itself, at x /)
  })

  it('a ceiling zone that crosses itself is named, and the other zones still bound the void', () => {
    const zone = (id: string, outline: [number, number][]) => ({ id, name: `zone ${id}`, outline, undersideMm: 0, topMm: 300 })
    const zones = [zone('bad', [[0, 0], [900, 900], [900, 0], [0, 1000]]), zone('far', [[9000, 0], [9900, 0], [9900, 900]]), zone('good', [[0, 0], [4000, 0], [4000, 2000], [0, 2000]])]
    const found = checkJob(assemblyOf(together(freeRun('R1', [[500, 1000, 40], [3500, 1000, 40]]), { zones })))
    expect(found).toMatchObject([{ code: 'leaves-void', parts: [{ id: 'R1' }, { id: 'good', part: 'underside' }] }, { code: 'degenerate-solid', parts: [{ id: 'bad' }] }])
  })

  it('a run all of whose points are one has no length', () => {
    const free = freeRun('R1', [[0, 0, 0], [100, 0, 0]])
    const found = checkJob(assemblyOf({ ...free, runs: [{ ...free.runs[0], waypoints: [{ at: [0, 0, 0] }, { at: [0, 0, 0] }] }] }))
    expect(found).toMatchObject([{ code: 'off-spigot' }, { code: 'degenerate-solid', parts: [{ id: 'R1' }] }])
  })
})
