/** What is on the desk: the open job, its verdict, and what the person is looking at. Changed only through the functions of this file and opening.ts. */
import { createStore } from 'zustand/vanilla'
import type { Assembly } from '#assembly/assembly.ts'
import type { Severity } from '#checks/finding.ts'
import type { Job } from '#model/index.ts'
import type { Problem } from '#model/problem.ts'
import type { Verdict } from '#routing/verdict.ts'
import { boundsOver } from '#scene/frame.ts'
import { CHECK } from './places/index.ts'
import type { CameraAsk, CameraOrder, Selection } from '#scene/selection.ts'

export type Tab = 'findings' | 'runs'
export type Listing = 'severity' | 'run'
export const SEVERITIES: readonly Severity[] = ['stop', 'mend', 'advice']

/** A job and what became of it. */
export interface OpenJob {
  readonly job: Job
  readonly assembly: Assembly
  readonly fileName: string
}

export type WorkStep = 'reading' | 'setting-out' | 'checking'

export interface DeskState {
  readonly open: OpenJob | null
  /** null while it is being worked out, or after that was stopped */
  readonly verdict: Verdict | null
  /** what is being done now; null at rest */
  readonly work: { readonly step: WorkStep, readonly fileName: string, readonly doneRatio: number } | null
  /** true when a person stopped the checking of the open job */
  readonly stopped: boolean
  /** a file that was turned away; the open job is untouched */
  readonly refusal: { readonly fileName: string, readonly problems: readonly Problem[], readonly unlisted: number } | null
  readonly selection: Selection | null
  readonly order: CameraOrder
  readonly tab: Tab
  /** the list of findings: under the runs that they are of, or the worst first */
  readonly listing: Listing
  readonly search: string
  readonly severities: ReadonlySet<Severity>
  /** id of the place of the workshop that is open */
  readonly place: string
  /** the void is shown where the place has the plan */
  readonly inVoid: boolean
}

const FRESH = {
  verdict: null, stopped: false, refusal: null, selection: null, search: '', severities: new Set(SEVERITIES),
} as const

export const desk = createStore<DeskState>()(() => ({
  ...FRESH, open: null, work: null, order: { stand: 'whole', ticket: 0 }, tab: 'findings', listing: 'severity', place: CHECK, inVoid: false,
}))

/** Puts another job on the desk; nothing of the one before is left. */
export function layOut(open: OpenJob): void {
  desk.setState((now) => ({ ...FRESH, open, order: { stand: 'whole', ticket: now.order.ticket + 1 } }))
}

export function turnTo(ask: CameraAsk): void {
  desk.setState((now) => ({ order: { ...ask, ticket: now.order.ticket + 1 } as CameraOrder }))
}

/** Picks a thing out without moving the camera: it was touched in the view, so it is in sight. */
export function pickOut(selection: Selection | null): void {
  desk.setState({ selection })
}

/** Picks a finding out and flies to it. */
export function goToFinding(id: string): void {
  const finding = desk.getState().verdict?.findings.find((one) => one.id === id)
  if (finding === undefined) return
  const { x, y, z } = finding.mark
  pickOut({ kind: 'finding', id })
  turnTo({ placeMm: [x, y, z] })
}

/** Picks a run out and stands where all of it is seen. */
export function goToRun(runId: string): void {
  const placed = desk.getState().open?.assembly.runs.find(({ run }) => run.id === runId)
  if (placed === undefined) return
  pickOut({ kind: 'run', runId })
  turnTo({ boundsMm: boundsOver(...placed.run.waypoints.map(({ at }) => [...at, ...at])) })
}

/** Picks a joist out and stands where all of it is seen. */
export function goToJoist(joistIndex: number): void {
  const open = desk.getState().open, joist = open?.assembly.joists[joistIndex]
  if (open == null || joist === undefined) return
  const { origin: [x, y, z], along, lengthMm, firstSolid, endSolid } = joist
  pickOut({ kind: 'solid', solidIndex: firstSolid, at: [x + along[0] * lengthMm / 2, y + along[1] * lengthMm / 2, z] })
  turnTo({ boundsMm: boundsOver(open.assembly.solids.bounds.subarray(6 * firstSolid, 6 * endSolid)) })
}

export function showTab(tab: Tab): void {
  desk.setState({ tab })
}

export function listBy(listing: Listing): void {
  desk.setState({ listing })
}

/** Goes to another place of the workshop; what is picked out goes along. */
export function goToPlace(place: string): void {
  desk.setState({ place, inVoid: false })
}

export function showVoid(inVoid: boolean): void {
  desk.setState({ inVoid })
}

export function searchFor(search: string): void {
  desk.setState({ search })
}

/** Only the findings of one severity; pressed again, all of them. Others can be pressed in beside it. */
export function toggleSeverity(severity: Severity): void {
  desk.setState((now) => {
    if (now.severities.size === SEVERITIES.length) return { severities: new Set([severity]) }
    const severities = new Set(now.severities)
    if (!severities.delete(severity)) severities.add(severity)
    return { severities: severities.size === 0 ? new Set(SEVERITIES) : severities }
  })
}

export function dismissRefusal(): void {
  desk.setState({ refusal: null })
}
