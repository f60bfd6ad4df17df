/** Changes that are tried to free a run: which there are, in what order, and that each is made as it is told. */
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { webMembers } from '#assembly/openWeb.ts'
import { contextFor } from '#checks/index.ts'
import type { Job } from '#model/index.ts'
import { curesFor, shorterMove } from '#routing/router/cures.ts'
import { joistCures } from '#routing/router/joistCures.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { cureCaution, cureWords } from '#routing/router/whyWords.ts'
import { impossibleFloor, windowFloor } from '../../../fixtures/generate/impossibleFloors.ts'

/** Three runs on a manifold with four spigots; run R1 is to be freed, its terminal on packers. */
function triesOf(change: (job: Job) => Job = (job) => job) {
  const floor = windowFloor(240, 130, 3), job = change({ ...floor, equipment: floor.equipment.map((one) => one.id === 'terminal-1' ? { ...one, packerMm: 40 } : one) })
  const assembly = assemble(job), [placed, ...others] = assembly.runs
  return { job, tries: curesFor(contextFor({ ...assembly, runs: others }), job, placed, ['R2'], ['J2', 'J3']) }
}

describe('changes that would free a run', () => {
  const { job, tries } = triesOf()

  test('are tried cheapest first: a free spigot, a swap, moves by how far and how many runs hang on them, a smaller duct, the joist maker, and last leaving a run out', () => {
    expect(tries.map(({ dearness }) => dearness)).toEqual(tries.map(({ dearness }) => dearness).toSorted((a, b) => a - b))
    expect(tries[0].cure).toEqual({ kind: 'next-spigot', equipmentId: 'manifold', spigotId: 'S4' })
    expect([...new Set(tries.map(({ cure }) => cure.kind))]).toEqual(['next-spigot', 'swap-spigots', 'move', 'smaller-type', 'turn-joist', 'shift-webs', 'without'])
    const moves = tries.flatMap(({ cure, laysAgain }) => cure.kind === 'move' ? [{ ...cure, laysAgain }] : [])
    // the terminal alone before the manifold, with which two other runs are laid again
    expect(moves[0]).toEqual({ kind: 'move', equipmentId: 'terminal-1', byMm: [50, 0, 0], laysAgain: ['R1'] })
    expect(moves.find(({ equipmentId }) => equipmentId === 'manifold')!.laysAgain).toEqual(['R1', 'R2', 'R3'])
    expect(tries.at(-1)!.cure).toEqual({ kind: 'without', runIds: ['R2'] })
  })

  test('leave a box alone that a locked run hangs on, and a unit always', () => {
    const moved = (change: (job: Job) => Job) => new Set(triesOf(change).tries.flatMap(({ cure }) => cure.kind === 'move' ? [cure.equipmentId] : []))
    expect(moved((one) => one)).toEqual(new Set(['manifold', 'terminal-1']))
    expect(moved((one) => ({ ...one, runs: one.runs.map((run) => run.id === 'R3' ? { ...run, locked: true } : run) }))).toEqual(new Set(['terminal-1']))
    expect(moved((one) => ({ ...one, equipment: one.equipment.map((each) => ({ ...each, kind: 'unit' })) }))).toEqual(new Set())
  })

  test('up on its packers takes them along, and every run end on what is moved', () => {
    const lift = tries.find(({ cure }) => cure.kind === 'move' && cure.equipmentId === 'terminal-1' && cure.byMm[2] === 50)!
    expect(lift.job.equipment.find(({ id }) => id === 'terminal-1')).toMatchObject({ packerMm: 90 })
    expect(lift.job.runs[0].waypoints.at(-1)!.at[2]).toBe(job.runs[0].waypoints.at(-1)!.at[2] + 50)
    expect(lift.job.runs.slice(1)).toEqual(job.runs.slice(1))
  })

  test('a move is tried shorter only between what was tried anyway and itself', () => {
    const move = tries.find(({ cure }) => cure.kind === 'move' && cure.byMm[0] === 200)!
    const shorter = [0.25, 0.5, 0.75].map((share) => shorterMove(job, move, share)!.cure)
    expect(shorter.map((cure) => cure.kind === 'move' ? cure.byMm[0] : 0)).toEqual([125, 150, 175])
    expect(shorterMove(job, tries[0], 0.5)).toBeNull()
  })
})

describe('what would be asked of the maker of the joists', () => {
  const withJoist = (set: { readonly firstNodeMm?: number, readonly webFree?: { readonly fromMm: number, readonly toMm: number }[] }): Job => {
    const { job } = impossibleFloor('web-before-spigot')
    return { ...job, joistFields: job.joistFields.map((field) => ({ ...field, joists: field.joists.map((joist) => joist.id === 'J2' ? { ...joist, ...set, webFree: [...set.webFree ?? joist.webFree] } : joist) })) }
  }
  const membersOf = (job: Job): [number, number][] => {
    const [field] = job.joistFields, joist = field.joists.find(({ id }) => id === 'J2')!, section = job.sections[0]
    if (section.kind !== 'open-web') throw new Error('an open-web joist')
    return webMembers(section, field, joist, field.lengthMm).map(({ x0, x1 }): [number, number] => [x0, x1]).sort((a, b) => a[0] - b[0])
  }

  test('a joist turned end for end has its webs where a mirror has them', () => {
    const job = withJoist({ firstNodeMm: 170, webFree: [{ fromMm: 1_000, toMm: 1_400 }] }), lengthMm = job.joistFields[0].lengthMm
    const turned = joistCures(job, ['J2']).find(({ cure }) => cure.kind === 'turn-joist')!
    const mirrored = membersOf(job).map(([x0, x1]): [number, number] => [lengthMm - x1, lengthMm - x0]).sort((a, b) => a[0] - b[0])
    const members = membersOf(turned.job)
    expect(members).toHaveLength(mirrored.length)
    members.flat().forEach((x, i) => { expect(x).toBeCloseTo(mirrored.flat()[i], 6) })
    // the same from both ends: turning it is no change
    expect(joistCures(withJoist({ firstNodeMm: 0 }), ['J2']).some(({ cure }) => cure.kind === 'turn-joist')).toBe(false)
  })

  test('a stretch without webs that would free the run is found, laid and checked, and told as a question with its caution', () => {
    const job = withJoist({ webFree: [{ fromMm: 1_000, toMm: 1_500 }] })
    const { cannot: [why] } = routeJob(job, { runs: 'all' })
    expect(why).toMatchObject({ cause: 'spigot-blocked', by: ['J2'], cure: { kind: 'move-web-free', joistId: 'J2', fromMm: 1_000, byMm: 600 } })
    expect(cureWords(job, 'R1', why.cure!)).toBe('if joist J2 is made with the stretch without webs, which begins 1,000 mm from its datum end, 600 mm further from that end')
    expect(cureCaution(why.cure!)).toMatch(/question for the maker of the joists.*never cut, notch, drill or shift/)
  })
})
