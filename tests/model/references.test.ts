import { describe, expect, test } from 'vitest'
import { type Problem, readJobValue } from '#model/index.ts'
import { richJob, richJobWith } from './richJob.ts'

function problemsWith(changes: Readonly<Record<string, unknown>>): readonly Problem[] {
  const read = readJobValue(richJobWith(changes))
  return read.ok ? [] : read.problems
}

test('the rich job itself has nothing wrong', () => {
  expect(problemsWith({})).toEqual([])
})

describe('ids', () => {
  test.each([
    ['two rooms', { 'rooms.1': { ...richJob().rooms[0] } }, 'rooms[1].id', '"R1", which is already the id of the room at rooms[0]'],
    ['a zone and a room', { 'zones.0.id': 'R1' }, 'zones[0].id', '"R1", which is already the id of the room at rooms[0]'],
    ['a field and one of its joists', { 'joistFields.0.joists.0.id': 'F1' }, 'joistFields[0].joists[0].id', '"F1", which is already the id of the joist field at joistFields[0]'],
    ['joists of two fields', { 'joistFields.1.joists.1': { id: 'J1' } }, 'joistFields[1].joists[1].id', '"J1", which is already the id of the joist at joistFields[0].joists[0]'],
    ['a run and a duct type', { 'runs.0.id': 'D2' }, 'runs[0].id', '"D2", which is already the id of the duct type at ductTypes[1]'],
  ])('%s may not share one', (_, changes, path, found) => {
    expect(problemsWith(changes)).toMatchObject([{ path, code: 'repeated-id', found }])
  })
  test('spigots of one piece of equipment may not share one, those of two may', () => {
    expect(problemsWith({ 'equipment.0.spigots.2': richJob().equipment[0].spigots[0] })).toMatchObject([{ path: 'equipment[0].spigots[2].id', code: 'repeated-id' }])
    expect(problemsWith({ 'equipment.0.spigots.1.id': 'R1', 'runs.1.from.spigot': 'R1' })).toEqual([])
  })
  test('that are words of the language are only ids', () => {
    expect(problemsWith({ 'rooms.0.id': 'constructor', 'equipment.1.room': 'constructor', 'equipment.0.spigots.0.id': 'toString', 'runs.0.from.spigot': 'toString' })).toEqual([])
    expect(problemsWith({ 'equipment.1.room': 'hasOwnProperty' })).toMatchObject([{ code: 'no-such-thing' }])
  })
})

describe('references', () => {
  test.each([
    ['joistFields.0.section', 'joistFields[0].section', 'a joist section'],
    ['holes.0.joist', 'holes[0].joist', 'a joist'],
    ['sleeves.0.through.0', 'sleeves[0].through[0]', 'a solid'],
    ['equipment.1.room', 'equipment[1].room', 'a room'],
    ['runs.0.type', 'runs[0].type', 'a duct type'],
    ['runs.0.from.equipment', 'runs[0].from.equipment', 'a piece of equipment'],
    ['runs.1.to.sleeve', 'runs[1].to.sleeve', 'a sleeve'],
  ])('%s must lead to a thing of its kind', (place, path, kind) => {
    expect(problemsWith({ [place]: 'nowhere' })).toMatchObject([{ path, code: 'no-such-thing', found: '"nowhere", which nothing in the job has as its id', allowed: `the id of ${kind}` }])
    expect(problemsWith({ [place]: 'Z1' })).toMatchObject([{ path, code: 'no-such-thing', found: '"Z1", which is a zone' }])
  })
  test('to itself are of the wrong kind', () => {
    expect(problemsWith({ 'runs.0.type': 'N1' })).toMatchObject([{ found: '"N1", which is a run' }])
    expect(problemsWith({ 'joistFields.0.section': 'F1' })).toMatchObject([{ found: '"F1", which is a joist field' }])
    expect(problemsWith({ 'sleeves.0.through': ['SL1'] })).toMatchObject([{ found: '"SL1", which is a sleeve' }])
  })
  test('a spigot must be one of that equipment', () => {
    expect(problemsWith({ 'runs.0.to.spigot': 'b' })).toMatchObject([{ path: 'runs[0].to.spigot', found: '"b", which is no spigot of V1', allowed: 'one of a' }])
    expect(problemsWith({ 'equipment.1.spigots': [] })).toMatchObject([{ path: 'runs[0].to.spigot', allowed: 'nothing: it has no spigots' }])
  })
  test('to a thing that is there but wrong in itself are not blamed', () => {
    expect(problemsWith({ 'equipment.1.sizeMm': 'big', 'ductTypes.0.outerDiameterMm': -1, 'solids.1.shape': null, 'joistFields.1.centresMm': 0 }).map(({ path }) => path)).toEqual([
      'joistFields[1].centresMm', 'solids[1].shape', 'equipment[1].sizeMm', 'ductTypes[0].outerDiameterMm',
    ])
  })
  test('two runs at one spigot are not refused here: that is a finding', () => {
    expect(problemsWith({ 'runs.1.from.spigot': 'a' })).toEqual([])
  })
})

describe('values that are each allowed but not together', () => {
  test.each<[what: string, changes: Record<string, unknown>, path: string | undefined]>([
    ['a zone top at its underside', { 'zones.0.topMm': 2400 }, 'zones[0].topMm'],
    ['a zone top just above its underside', { 'zones.0.topMm': 2400.1 }, undefined],
    ['a ceiling below its floor', { 'rooms.0.ceilingMm': -1 }, 'rooms[0].ceilingMm'],
    ['a prism top below its bottom', { 'solids.1.shape.topMm': -5 }, 'solids[1].shape.topMm'],
    ['a cylinder without length', { 'solids.2.shape.to': [10, 10, 0] }, 'solids[2].shape.to'],
    ['a cylinder 1 mm long', { 'solids.2.shape.to': [10, 10, 1] }, undefined],
    ['a duct wider inside than outside', { 'ductTypes.0.innerDiameterMm': 92.1 }, 'ductTypes[0].outerDiameterMm'],
    ['a duct without thickness', { 'ductTypes.0.innerDiameterMm': 92 }, undefined],
    ['a spigot that points nowhere', { 'equipment.1.spigots.0.axis': [0, 0, 0] }, 'equipment[1].spigots[0].axis'],
    ['a spigot axis too short to be told from none', { 'equipment.1.spigots.0.axis': [1e-200, 0, 0] }, 'equipment[1].spigots[0].axis'],
    ['a sleeve that points nowhere', { 'sleeves.0.axis': [0, -0, 0] }, 'sleeves[0].axis'],
    ['two chords that fill the depth', { 'sections.0.chordHeightMm': 127 }, 'sections[0].chordHeightMm'],
    ['two chords that nearly fill the depth', { 'sections.0.chordHeightMm': 126.9 }, undefined],
    ['a web as wide as its pitch', { 'sections.0.webWidthMm': 600 }, 'sections[0].webWidthMm'],
    ['two flanges that fill the depth', { 'sections.2.flangeHeightMm': 120 }, 'sections[2].flangeHeightMm'],
    ['a web as thick as its flange is wide', { 'sections.2.webThicknessMm': 45 }, 'sections[2].webThicknessMm'],
    ['a sheet as thick as half the depth', { 'sections.3.thicknessMm': 100, 'sections.3.flangeWidthMm': 300, 'sections.3.lipMm': 0 }, 'sections[3].thicknessMm'],
    ['a sheet as thick as half its lipped flange', { 'sections.3.flangeWidthMm': 3 }, 'sections[3].thicknessMm'],
    ['the same flange without a lip', { 'sections.3.flangeWidthMm': 3, 'sections.3.lipMm': 0 }, undefined],
    ['lips that meet', { 'sections.3.lipMm': 100 }, 'sections[3].lipMm'],
    ['a lip no longer than the sheet is thick', { 'sections.3.lipMm': 1.5 }, 'sections[3].lipMm'],
    ['bearings longer than the joist', { 'joistFields.1.bearingMm': 1500 }, 'joistFields[1].lengthMm'],
    ['bearings longer than one joist', { 'joistFields.0.joists.1.lengthMm': 180, 'sections.0.endBlockMm': 0 }, 'joistFields[0].joists[1].lengthMm'],
    ['end blocks longer than the joist', { 'joistFields.0.joists.1.lengthMm': 299 }, 'joistFields[0].joists[1].lengthMm'],
    ['a web-free stretch that ends before it starts', { 'joistFields.0.joists.1.webFree.0.toMm': 1000 }, 'joistFields[0].joists[1].webFree[0].toMm'],
    ['a hole past the end of its joist', { 'holes.0.alongMm': 3100 }, 'holes[0].alongMm'],
    ['a hole that breaks out of the end', { 'holes.0.alongMm': 19.9 }, 'holes[0].alongMm'],
    ['a hole that touches the end', { 'holes.0.alongMm': 20 }, undefined],
    ['a hole that breaks out of the underside', { 'holes.0.heightMm': 19.9 }, 'holes[0].heightMm'],
    ['a hole that breaks out of the top', { 'holes.0.heightMm': 200.1 }, 'holes[0].heightMm'],
    ['a hole that touches the top', { 'holes.0.heightMm': 200 }, undefined],
    ['advice below the least', { 'settings.outdoor.advisedMm': 299 }, 'settings.outdoor.advisedMm'],
    ['joists a kilometre off', { 'joistFields.1.centresMm': 600_000, 'joistFields.1.joists': [{ id: 'J3' }, { id: 'J4' }, { id: 'J5' }] }, 'joistFields[1].joists[2]'],
  ])('%s', (_, changes, path) => {
    const problems = problemsWith(changes)
    if (path === undefined) expect(problems).toEqual([])
    else {
      expect(problems).toMatchObject([{ path, code: 'contradiction' }])
      expect(problems[0].allowed).toMatch(/\d/)
    }
  })
  test('a hole bigger than its joist fits nowhere, and it says so', () => {
    expect(problemsWith({ 'holes.0.diameterMm': 230 })).toMatchObject([{ path: 'holes[0].heightMm', allowed: "nothing: a hole of 230 mm is more than the joist's depth, 220 mm" }])
  })
  test('a joist with its own length has its own room for holes', () => {
    expect(problemsWith({ 'joistFields.1.joists.0.lengthMm': 900 })).toMatchObject([{ path: 'holes[0].alongMm', allowed: "20 to 880 mm, so that the whole hole is inside the joist's length" }])
  })
  test('more joists, or more web members, than a job may hold', () => {
    const joists = (field: string, count: number) => Array.from({ length: count }, (_, i) => ({ id: `${field}-${i}` }))
    const field = (id: string, count: number, section = 'S2') => ({ ...richJob().joistFields[1], id, section, centresMm: 1, joists: joists(id, count) })
    const four = [field('A', 5000), field('B', 5000), field('C', 5000), field('D', 5000)]
    expect(problemsWith({ joistFields: four, holes: [] })).toEqual([])
    expect(problemsWith({ joistFields: [...four, field('E', 1)], holes: [] })).toMatchObject([{ path: 'joistFields[4].joists', found: '20001 joists up to here', allowed: 'at most 20000 joists in all fields together' }])
    // 100 m at a 1 mm pitch, two diagonals and a post on both faces: 600 000 members a joist
    const dense = { ...field('A', 2, 'S1'), lengthMm: 100_000 }
    expect(problemsWith({ 'joistFields': [dense], 'holes': [], 'sections.0.webPitchMm': 1, 'sections.0.webWidthMm': 0.5 })).toMatchObject([{ path: 'joistFields[0].joists[1]', found: '1200000 web members up to here' }])
  })
})
