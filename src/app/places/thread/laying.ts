/** A run threaded tap by tap: from a spigot, through openings and bays, to a spigot. */
import { mm } from '#checks/wording.ts'
import type { Assembly } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import { crossingsOf } from '#checks/crossings.ts'
import type { Command } from '#commands/index.ts'
import type { Job, RunEnd } from '#model/index.ts'
import { siteOf } from '#routing/threadGates.ts'
import { bayAt } from '#routing/snap.ts'
import { gatePreview } from '#routing/threadPreview.ts'
import { threadRun, type Gate } from '#routing/threadRun.ts'
import type { Xyz } from '#scene/frame.ts'
import { bench } from '../../editing/theBench.ts'
import { goToRun, pickOut, turnTo } from '../../desk.ts'
import { viewing } from '../looking/viewing.ts'
import { endPlacesOf, keyOfEnd, typeFor, type EndPlace } from './ends.ts'
import { newRun } from './newRun.ts'
import { say, threading, type Aim, type Laying } from './threading.ts'

/** Why threading was slow is read off this, ms. */
const LAID = 'joistway-thread'

/** how much is seen round the spigots that a run may go between, mm each way */
const ROUND_MM = 350

/** @param flies the spigot was not touched in the picture, or with a thumb: it is flown to where both it and the ends that the run may have are in sight */
export function startAt(end: RunEnd, flies = false): void {
  const context = bench.context()
  const place = context === null ? undefined : endPlacesOf(context.assembly).find(({ key }) => key === keyOfEnd(end))
  if (context === null || place === undefined) return
  const types = context.assembly.job.ductTypes
  const type = types.find(({ id }) => id === threading.getState().typeId) ?? typeFor(types, place.diameterMm)
  if (type === undefined) {
    say('The job has no duct type yet: add one before a run can be threaded.')
    return
  }
  pickOut(null)
  threading.setState({ laying: { typeId: type.id, from: end, gates: [], to: null, laid: null }, aim: null, several: [], point: null, least: null })
  if (flies) lookOver([place.at, ...endsFor(context.assembly, place).map(({ at }) => at)])
  say('Now what the duct passes, in its order, then where it ends.')
}

/** Where a run from there may end: free ends on other things, those for its own duct when there are any. */
export function endsFor(assembly: Assembly, from: EndPlace): EndPlace[] {
  const free = endPlacesOf(assembly).filter(({ takenBy, on, key }) => takenBy === null && on !== from.on && key !== from.key)
  const same = free.filter(({ diameterMm }) => diameterMm === from.diameterMm)
  return same.length > 0 ? same : free
}

/** Stands where all of these places are seen. */
function lookOver(places: readonly Xyz[]): void {
  const least = (k: number): number => Math.min(...places.map((place) => place[k])), most = (k: number): number => Math.max(...places.map((place) => place[k]))
  turnTo({ boundsMm: [least(0) - ROUND_MM, least(1) - ROUND_MM, least(2) - 200, most(0) + ROUND_MM, most(1) + ROUND_MM, most(2) + 200] })
}

/** A run of the job through other openings: its ends stay, its course is drawn faint until the new one is taken. A locked one stays in hand instead. */
export function startAnew(runId: string): void {
  const run = bench.context()?.assembly.job.runs.find(({ id }) => id === runId)
  if (run === undefined) return
  if (run.locked === true) {
    goToRun(runId)
    say(`${run.name} is locked: unlock it, and it can be threaded anew.`)
    return
  }
  goToRun(runId)
  pickOut(null)
  threading.setState({ laying: { typeId: run.type, from: run.from, gates: [], to: run.to, anewId: runId, laid: null }, aim: null, several: [], point: null, least: null })
  say(`${run.name} keeps its ends: now the openings and bays that it shall pass, in their order.`)
}

// the course that is to go is drawn faint for as long as another is being laid in its place
threading.subscribe(({ laying }, was) => {
  if (laying?.anewId !== was.laying?.anewId) viewing.setState({ faintRuns: new Set(laying?.anewId === undefined ? [] : [laying.anewId]) })
})

/** What a run passes now, in its order, as gates; and where on site. */
export function gatesNow(context: CheckContext, runId: string): { readonly gate: Gate, readonly at: Xyz, readonly spareMm: number | null }[] {
  const runIndex = context.runs.findIndex(({ placed }) => placed.run.id === runId)
  if (runIndex < 0) return []
  return crossingsOf(context, runIndex).flatMap(({ joistIndex, opening, hole, x, y, spareMm }) => {
    const joist = context.assembly.joists[joistIndex]
    const gate: Gate | null = opening !== null ? { kind: 'opening', joistId: joist.id, opening } : hole !== null ? { kind: 'hole', holeId: hole } : null
    return gate === null ? [] : [{ gate, spareMm, at: siteOf(joist, x, y) }]
  })
}

/** Another opening, hole or place in a bay. */
export function passThrough(gate: Gate): void {
  const { laying } = threading.getState()
  if (laying === null) return
  const last = laying.gates.at(-1)
  if (last !== undefined && isSameGate(last, gate)) {
    say('That is the last one already: tap the next, or take it back.')
    return
  }
  relay({ ...laying, gates: [...laying.gates, gate], to: laying.anewId === undefined ? null : laying.to })
}

/** @param flies the end was not touched in the picture: both are shown, as long as nothing has been passed */
export function endAt(end: RunEnd, flies = false): void {
  const { laying } = threading.getState()
  if (laying === null) return
  if (keyOfEnd(end) === keyOfEnd(laying.from)) {
    say('It starts there: tap where it ends.')
    return
  }
  const assembly = bench.context()?.assembly
  if (flies && laying.gates.length === 0 && assembly !== undefined) lookOver(endPlacesOf(assembly).filter(({ key }) => key === keyOfEnd(laying.from) || key === keyOfEnd(end)).map(({ at }) => at))
  relay({ ...laying, to: end })
}

/** The last tap. */
export function takeBack(): void {
  const { laying } = threading.getState()
  if (laying === null) return
  if (laying.to !== null && laying.anewId === undefined) relay({ ...laying, to: null })
  else if (laying.gates.length > 0) relay({ ...laying, gates: laying.gates.slice(0, -1) })
  else giveUp()
}

export function giveUp(): void {
  const { laying } = threading.getState()
  if (laying === null) return
  threading.setState({ laying: null, aim: null, several: [] })
  if (laying.anewId === undefined) say('Given up: nothing was added.')
  else {
    pickOut({ kind: 'run', runId: laying.anewId })
    say('Given up: its course stays as it was.')
  }
}

export function layAs(typeId: string): void {
  const { laying } = threading.getState()
  threading.setState({ typeId })
  if (laying !== null) relay({ ...laying, typeId })
}

/** The run into the job, as one step; whatever is wrong with it comes along as findings. */
export function finish(): void {
  const { laying } = threading.getState()
  const job = bench.store.getState().history?.present
  if (laying === null || job === undefined) return
  if (laying.to === null || laying.laid === null || laying.laid.placed === null) {
    say(laying.anewId === undefined ? 'It has no end yet: tap the spigot or sleeve where it ends.' : 'Choose the openings or bays first that it shall pass.')
    return
  }
  if (laying.anewId !== undefined) {
    finishAnew(laying, laying.anewId, job)
    return
  }
  const { id, name } = newRun(job)
  const corners = laying.laid.waypoints.slice(1, -1)
  const done = bench.perform({ do: 'add-run', id, name, type: laying.typeId, from: laying.from, to: laying.to, corners })
  if (!done.ok) {
    say(`Not added: ${done.why}.`)
    return
  }
  threading.setState({ laying: null, aim: null })
  pickOut({ kind: 'run', runId: id })
  say(`${name} added${laying.laid.ok ? '' : ', with what there is to put right'}.`)
}

function finishAnew({ laid, typeId }: Laying, runId: string, job: Job): void {
  const run = job.runs.find(({ id }) => id === runId)
  if (run === undefined || laid === null) return
  const corners: Command = { do: 'set-corners', run: runId, corners: laid.waypoints.slice(1, -1) }
  const done = bench.perform({ do: 'together', name: `Thread ${run.name} anew`, commands: typeId === run.type ? [corners] : [{ do: 'set-run-type', type: typeId, runs: [runId] }, corners] })
  if (!done.ok) {
    say(`Not threaded anew: ${done.why}.`)
    return
  }
  threading.setState({ laying: null, aim: null })
  pickOut({ kind: 'run', runId })
  say(`${run.name} is threaded anew${laid.ok ? '' : ', with what there is to put right'}.`)
}

function relay(next: Laying): void {
  const context = bench.context()
  if (context === null) return
  const laid = laidOf(context, next)
  threading.setState({ laying: { ...next, laid }, aim: null, several: [] })
  say(next.gates.length === 0 && (next.to === null || next.anewId !== undefined) ? ''
    : laid?.ok === false ? 'It does not go in so far:'
    : next.to === null ? 'Good so far.' : 'It goes in: lay it.')
}

function laidOf(context: CheckContext, { typeId, from, gates, to, anewId }: Laying): Laying['laid'] {
  const type = context.assembly.job.ductTypes.find(({ id }) => id === typeId)
  if (type === undefined || gates.length === 0 && (to === null || anewId !== undefined)) return null
  const startMs = performance.now()
  const laid = threadRun(context, { type, from, to, gates, runId: anewId })
  performance.measure(LAID, { start: startMs, end: performance.now() })
  return laid
}

export function isSameGate(a: Gate, b: Gate): boolean {
  if (a.kind === 'opening' && b.kind === 'opening') return a.joistId === b.joistId && a.opening === b.opening
  if (a.kind === 'hole' && b.kind === 'hole') return a.holeId === b.holeId
  return a.kind === 'point' && b.kind === 'point' && a.at.every((value, k) => value === b.at[k])
}

/** What an opening has to spare for the duct being laid, before it is tapped; null when there is none such. */
export function aimAtOpening(joistId: string, opening: number): Aim | null {
  const context = bench.context()
  const { laying } = threading.getState()
  const type = context?.assembly.job.ductTypes.find(({ id }) => id === laying?.typeId)
  if (context === null || type === undefined) return null
  const preview = gatePreview(context, type, joistId, opening, laying?.anewId)
  return preview === null ? null : { kind: 'opening', gate: { kind: 'opening', joistId, opening }, preview, words: capitalised(preview.words) }
}

export function aimAtHole(holeId: string): Aim | null {
  const hole = bench.context()?.assembly.holes.find(({ id }) => id === holeId)
  return hole === undefined ? null : { kind: 'hole', gate: { kind: 'hole', holeId }, words: `Hole ${holeId} is ${mm(2 * hole.radiusMm)} across.` }
}

/** The middle of the bay there; the place itself where it lies between no two joists. */
export function aimAtPlace(at: Xyz): Aim | null {
  const context = bench.context()
  if (context === null) return null
  const bay = bayAt(context.assembly.joists, at)
  const place: Xyz = 'why' in bay ? [Math.round(at[0]), Math.round(at[1]), Math.round(at[2])] : bay.middle
  const words = 'why' in bay ? `A place beside the joists, x ${place[0]} y ${place[1]} z ${place[2]} mm.` : `The middle of the bay between ${bay.names[0]} and ${bay.names[1]}, ${mm(bay.clearMm)} clear.`
  return { kind: 'bay', gate: { kind: 'point', at: place }, words }
}

export function aimAt(aim: Aim | null): void {
  threading.setState({ aim, several: [] })
}

/** What was aimed at. */
export function takeAim(aim: Aim): void {
  if (aim.kind === 'end') endAt(aim.end)
  else passThrough(aim.gate)
}

function capitalised(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1)
}
