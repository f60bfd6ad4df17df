import { describe, expect, test } from 'vitest'
import { factsOfOpening, factsOfRun, factsOfSolid } from '#app/facts.ts'
import type { Facts } from '#app/facts.ts'
import { verdictOf } from '#routing/verdict.ts'
import { smallVoid, smallVoidJob } from '../scene/smallVoid.ts'

describe('the card', () => {
  const assembly = smallVoid()
  const named = (name: string) => Array.from({ length: assembly.solids.count }, (_, i) => i).find((i) => assembly.parts.describe(i).name === name)!
  const lines = ({ facts }: Facts) => Object.fromEntries(facts.map(({ label, value }) => [label, value]))

  test('a web plate: its joist, its number, its face, its section and its length', () => {
    const { title, ...rest } = factsOfSolid(assembly, named('joist J2, web 3 (left face)'))
    expect(title).toBe('Joist J2, web 3 (left face)')
    // 40 x 2 mm plate; from node to node hypot(300, 210) = 366.2 mm, and 40 / 2 * 300 / 210 = 28.6 mm more at each end
    expect(lines({ title, ...rest })['Plate']).toBe('40 \u00d7 2 mm, 423.3 mm long')
  })
  test('a chord: its section and its heights above the datum', () => {
    const facts = lines(factsOfSolid(assembly, named('joist J1, bottom chord')))
    expect(facts['Section']).toBe('97 \u00d7 47 mm, 4,000 mm long')
    expect(facts['Underside']).toBe('2,400 mm above datum')
    expect(facts['Top']).toBe('2,447 mm above datum')
    expect(facts['Joist']).toMatch(/^Open web 304, 304 mm deep, 4,000 mm long, \d+ openings$/)
  })
  test('a soil stack, a wall and a manifold', () => {
    expect(lines(factsOfSolid(assembly, named('Soil stack')))).toMatchObject({ Diameter: '110 mm', Length: '1,000 mm' })
    expect(lines(factsOfSolid(assembly, named('Gable wall')))).toMatchObject({ Height: '2,800 mm', 'Over all': '200 \u00d7 2,000 \u00d7 2,800 mm' })
    expect(lines(factsOfSolid(assembly, named('Manifold')))).toMatchObject({ Size: '500 \u00d7 200 \u00d7 200 mm', Spigot: 'duct of 90 mm' })
  })
  test('a run: duct, air, length, ends, and the size at which it would touch', () => {
    const [verdict] = verdictOf(smallVoidJob()).runs
    const { title, ...rest } = factsOfRun(assembly, 'R1', verdict)
    expect(title).toBe('Run 1')
    expect(lines({ title, ...rest })).toMatchObject({
      'Duct': 'Round 90, 90 mm across', 'Air': 'SUP, supply air', 'Length': '2,220 mm, 0 bends',
      // the duct's middle is at 2,500 and the bottom chord's top at 2,447: 2 * 53 mm
      'Trial size': 'takes 106 mm across; touches joist J1, bottom chord first',
    })
  })
  test('an opening: the largest duct that goes straight through', () => {
    const { title, facts } = factsOfOpening(assembly, 0, 2)
    expect(title).toBe('Joist J1, opening 2')
    const largest = Number(/^([\d.]+) mm/.exec(facts[0].value)![1])
    // an isosceles triangle 600 wide and 210 high has an incircle of 126,000 / (600 + 2 * hypot(300, 210)) * 2 mm across,
    // and half a 40 mm web comes off each slope
    expect(largest).toBeGreaterThan(140)
    expect(largest).toBeLessThan(189)
  })
  test('no card says a number without its unit', () => {
    const all = [...Array.from({ length: assembly.solids.count }, (_, i) => factsOfSolid(assembly, i)), factsOfOpening(assembly, 0, 2)]
    // 'opening 3', 'openings', 'Open web 304' and part names are names or counts; every other number is followed by mm, m or another size
    for (const { facts } of all) {
      for (const { label, value } of facts) {
        if (label === 'Joist' || label === 'Spigots') continue
        expect(value).toMatch(/mm|m$/)
        for (const [, after] of value.matchAll(/\d(?![\d.,]*\d)(.{0,4})/g)) expect(after).toMatch(/^( mm| m| \u00d7 )/)
      }
    }
  })
})
