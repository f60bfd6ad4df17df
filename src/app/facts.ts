/** What the card says of the thing that was picked out: its site name, and its sizes with their units. */
import type { Assembly } from '#assembly/assembly.ts'
import { datumEndOf, placeOn } from '#checks/joistPlace.ts'
import { BOX, CYLINDER, PRISM, TUBE } from '#geometry/solid/solidSet.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import type { RunVerdict } from '#routing/verdict.ts'
import { AIR, airOf } from '#scene/air.ts'
import { countText, lengthText, mmText, sizesText } from './figures.ts'

export interface Fact { readonly label: string, readonly value: string }
export interface Facts { readonly title: string, readonly facts: readonly Fact[] }

/** @param at where it was touched, mm */
export function factsOfSolid(assembly: Assembly, solidIndex: number, at?: readonly [number, number, number]): Facts {
  const { name } = assembly.parts.describe(solidIndex)
  const { bounds } = assembly.solids
  return {
    title: capital(name),
    facts: [
      ...sizeFacts(assembly, solidIndex),
      { label: 'Underside', value: `${mmText(bounds[6 * solidIndex + 2])} above datum` },
      { label: 'Top', value: `${mmText(bounds[6 * solidIndex + 5])} above datum` },
      ...joistFacts(assembly, solidIndex, at),
      ...equipmentFacts(assembly, solidIndex),
    ],
  }
}

function sizeFacts(assembly: Assembly, solidIndex: number): Fact[] {
  const { kind, offset, data, bounds } = assembly.solids
  const s = offset[solidIndex]
  switch (kind[solidIndex]) {
    case BOX: {
      const sizes = [0, 1, 2].map((k) => 2 * data[s + 3 + k]).sort((a, b) => a - b)
      const part = assembly.parts.kindOf(solidIndex)
      if (part === 'whole' || part === 'body') return [{ label: 'Size', value: sizesText([2 * data[s + 3], 2 * data[s + 4], 2 * data[s + 5]]) }]
      return [{ label: part === 'web' || part === 'post' ? 'Plate' : 'Section', value: `${sizesText([sizes[1], sizes[0]])}, ${mmText(sizes[2])} long` }]
    }
    case CYLINDER: return [{ label: 'Diameter', value: mmText(2 * data[s + 6]) }, { label: 'Length', value: lengthText(2 * data[s + 7]) }]
    case PRISM: return [
      { label: Math.abs(data[s + 11]) > 0.999 ? 'Height' : 'Length', value: mmText(data[s + 13] - data[s + 12]) },
      { label: 'Over all', value: sizesText([0, 1, 2].map((k) => Math.round(bounds[6 * solidIndex + 3 + k] - bounds[6 * solidIndex + k]))) },
    ]
    case TUBE: return [{ label: 'Diameter', value: mmText(2 * data[s]) }]
    default: return []
  }
}

function joistFacts(assembly: Assembly, solidIndex: number, at?: readonly [number, number, number]): Fact[] {
  const joist = assembly.joists.find(({ firstSolid, endSolid }) => solidIndex >= firstSolid && solidIndex < endSolid)
  if (joist === undefined) return []
  const count = joist.openings.length
  const touched = at === undefined ? [] : [{ label: 'Touched at', value: `${mmText(Math.round(placeOn(joist, { x: at[0], y: at[1], z: at[2] }).alongMm))} from its datum end (${datumEndOf(joist)})` }]
  return [...touched, { label: 'Joist', value: `${joist.section.name}, ${mmText(joist.section.depthMm)} deep, ${lengthText(joist.lengthMm)} long${count === 0 ? '' : `, ${countText(count, 'opening')}`}` }]
}

function equipmentFacts(assembly: Assembly, solidIndex: number): Fact[] {
  const spigots = assembly.spigots.filter(({ bodySolid, collarSolid }) => bodySolid === solidIndex || collarSolid === solidIndex)
  if (spigots.length === 0) return []
  const sizes = [...new Set(spigots.map(({ spigot }) => spigot.diameterMm))].sort((a, b) => a - b)
  return [{ label: spigots.length === 1 ? 'Spigot' : 'Spigots', value: `${spigots.length === 1 ? '' : `${spigots.length} for `}duct of ${sizes.map(mmText).join(' or ')}` }]
}

/** @param verdict the run's own, when it has been checked */
export function factsOfRun(assembly: Assembly, runId: string, verdict: RunVerdict | undefined): Facts {
  const placed = assembly.runs.find(({ run }) => run.id === runId)
  if (placed === undefined) return { title: runId, facts: [] }
  const air = airOf(placed)
  const facts: Fact[] = [
    { label: 'Duct', value: `${placed.type.name}, ${mmText(2 * placed.outerRadiusMm)} across${placed.type.insulationMm > 0 ? ` with ${mmText(placed.type.insulationMm)} of insulation` : ''}` },
    { label: 'Length', value: `${lengthText(placed.centreline.lengthMm)}, ${countText(placed.bends.length, 'bend')}` },
    { label: 'From, to', value: `${nameOfEnd(placed.from)} to ${nameOfEnd(placed.to)}` },
  ]
  if (air !== undefined) facts.splice(1, 0, { label: 'Air', value: `${AIR[air].letters}, ${AIR[air].words}` })
  if (verdict !== undefined) {
    facts.push({ label: 'Trial size', value: verdict.touchesFirst === null || verdict.trialDiameterMm === null
      ? 'nothing near enough to touch'
      : `${verdict.trialDiameterMm > 0 ? `takes ${mmText(verdict.trialDiameterMm)} across` : 'none goes in'}; touches ${verdict.touchesFirst.name} first` })
  }
  return { title: placed.run.name, facts }
}

function nameOfEnd(end: Assembly['runs'][number]['from']): string {
  return 'spigot' in end ? end.name : end.sleeve.name
}

export function factsOfOpening(assembly: Assembly, joistIndex: number, number: number): Facts {
  const joist = assembly.joists[joistIndex]
  const placed = joist.openings.find((one) => one.number === number)
  const title = `${capital(joist.name)}, opening ${number}`
  if (placed === undefined) return { title, facts: [] }
  const { opening } = placed
  const largest = new Float64Array(8)
  largestStraight(opening, largest)
  const xs = Array.from({ length: opening.verticesXy.length / 2 }, (_, i) => opening.verticesXy[2 * i])
  return {
    title,
    facts: [
      { label: 'Largest duct', value: `${mmText(Math.floor(largest[0] * 10) / 10)} across, straight through` },
      { label: 'Its middle', value: `${mmText(largest[1])} from the datum end (${datumEndOf(joist)}), ${mmText(largest[2])} above the joist\u2019s underside` },
      { label: 'Reaches', value: `from ${mmText(Math.min(...xs))} to ${mmText(Math.max(...xs))} along the joist` },
    ],
  }
}

export function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1)
}
