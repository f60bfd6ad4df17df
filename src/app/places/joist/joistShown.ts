/** Which joist is shown, and what its openings take. */
import { useEffect, useMemo } from 'react'
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { CheckContext } from '#checks/context.ts'
import { joistElevation, whereCanGoInSteps } from '#checks/joistElevation.ts'
import type { JoistElevation, OpeningChoice } from '#checks/joistElevation.ts'
import { desk, pickOut, turnTo } from '../../desk.ts'
import { inSlices } from '../../slices.ts'
import { bench } from '../../editing/theBench.ts'
import { useChecks, useSettledChecks } from '../looking/useChecks.ts'
import { useViewing, viewing } from '../looking/viewing.ts'

export interface ShownJoist { readonly checks: CheckContext, readonly joistIndex: number, readonly elevation: JoistElevation }

export function useJoist(): ShownJoist | null {
  const checks = useChecks()
  const joistId = useViewing((now) => now.joistId)
  const growMm = useViewing((now) => now.joistGrowMm)
  return useMemo(() => {
    if (checks === null || checks.assembly.joists.length === 0) return null
    const joistIndex = Math.max(0, checks.assembly.joists.findIndex(({ id }) => id === joistId))
    return { checks, joistIndex, elevation: joistElevation(checks, joistIndex, growMm) }
  }, [checks, joistId, growMm])
}

const sizes = new WeakMap<CheckContext, readonly OpeningChoice[]>()

interface Sizing {
  /** of which they are being worked out, or were stopped; null at rest */
  readonly checks: CheckContext | null
  readonly doneRatio: number
  readonly isStopped: boolean
}

/** Every opening of the job with its largest duct: worked out once for each state of the job, in slices, because of a large job they take seconds. */
export const sizing = createStore<Sizing>()(() => ({ checks: null, doneRatio: 0, isStopped: false }))

let running: Promise<readonly OpeningChoice[] | null> = Promise.resolve(null)

/** @returns null when it was stopped, or another state of the job took its place */
export function sizeOpenings(checks: CheckContext): Promise<readonly OpeningChoice[] | null> {
  const known = sizes.get(checks), now = sizing.getState()
  if (known !== undefined) return Promise.resolve(known)
  return now.checks === checks && !now.isStopped ? running : running = sizeAnew(checks)
}

async function sizeAnew(checks: CheckContext): Promise<readonly OpeningChoice[] | null> {
  sizing.setState({ checks, doneRatio: 0, isStopped: false })
  const all = await inSlices(whereCanGoInSteps(checks, 0), {
    isWanted: () => sizing.getState().checks === checks && !sizing.getState().isStopped,
    progress: (doneRatio) => { sizing.setState({ doneRatio }) },
  })
  if (all === null) return null
  sizes.set(checks, all)
  if (sizing.getState().checks === checks) sizing.setState({ checks: null })
  return all
}

export function stopSizing(): void {
  sizing.setState({ isStopped: true })
}

/** A hair of rounding is no reason to turn a duct away, mm. */
const ROUNDING_MM = 1e-6

/** Those that take a size, as whereCanGo tells them. */
export function thatTake(all: readonly OpeningChoice[], diameterMm: number): OpeningChoice[] {
  return all.filter(({ largestMm }) => largestMm >= diameterMm - ROUNDING_MM)
}

export function isFreeFor({ roomLeftMm }: OpeningChoice, diameterMm: number): boolean {
  return roomLeftMm >= diameterMm - ROUNDING_MM
}

export interface JoistCount { readonly joistIndex: number, readonly joistId: string, readonly name: string, readonly take: number, readonly free: number }

/** How many openings of each joist take the size, and how many of those are free for it now; joists with none too. */
export function countByJoist(checks: CheckContext, all: readonly OpeningChoice[], diameterMm: number): JoistCount[] {
  const counts = checks.assembly.joists.map(({ id, name }, joistIndex) => ({ joistIndex, joistId: id as string, name, take: 0, free: 0 }))
  for (const choice of thatTake(all, diameterMm)) {
    counts[choice.joistIndex].take++
    if (isFreeFor(choice, diameterMm)) counts[choice.joistIndex].free++
  }
  return counts
}

/** null until they are known, and while they are not wanted */
export function useOpeningSizes(isWanted = true): { readonly checks: CheckContext, readonly all: readonly OpeningChoice[] } | null {
  const checks = useSettledChecks()
  const work = useStore(sizing)
  const isIdle = work.checks !== checks
  useEffect(() => { if (isWanted && isIdle && checks !== null) void sizeOpenings(checks) }, [isWanted, isIdle, checks])
  const all = checks === null || !isWanted ? undefined : sizes.get(checks)
  return useMemo(() => checks === null || all === undefined ? null : { checks, all }, [checks, all])
}

/** How far that has come; null at rest. */
export function useSizing(): Sizing | null {
  const work = useStore(sizing)
  return work.checks === null ? null : work
}

export function showJoist(joistId: string): void {
  viewing.setState({ joistId })
}

/** The next joist in the list, or the one before; stops at the ends. */
export function stepJoist(by: 1 | -1): void {
  const joists = bench.context()?.assembly.joists ?? []
  const now = Math.max(0, joists.findIndex(({ id }) => id === viewing.getState().joistId))
  const next = joists[now + by]
  if (next !== undefined) showJoist(next.id)
}

/** Picks an opening out in the view and flies to it. */
export function goToOpening(checks: CheckContext, joistIndex: number, number: number, x: number, y: number): void {
  const { origin, along, id } = checks.assembly.joists[joistIndex]
  const at = [origin[0] + x * along[0], origin[1] + x * along[1], origin[2] + y] as const
  showJoist(id)
  pickOut({ kind: 'opening', joistIndex, number, at })
  turnTo({ placeMm: at })
}

/** A joist or an opening that is touched in the view is shown. @returns what ends it */
export function followTouches(): () => void {
  return desk.subscribe(({ selection, open }, was) => {
    if (selection === was.selection || selection === null || open === null) return
    const { joists } = open.assembly
    const joist = selection.kind === 'opening' ? joists[selection.joistIndex]
      : selection.kind === 'solid' ? joists.find(({ firstSolid, endSolid }) => selection.solidIndex >= firstSolid && selection.solidIndex < endSolid) : undefined
    if (joist !== undefined) showJoist(joist.id)
  })
}
