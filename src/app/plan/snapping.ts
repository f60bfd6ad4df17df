/** A spigot lined up by pointing: which one is in hand, what is pointed at, and where the piece would stand. The job changes when it is taken. */
import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'
import type { PlacedSpigot } from '#assembly/assembly.ts'
import type { Point2 } from '#model/index.ts'
import { bayAt, snapSpigot, type Snap, type SnapTarget } from '#routing/snap.ts'
import type { Ray } from '#scene/pick.ts'
import { placeAtHeight, wayThroughAt } from '#scene/reach.ts'
import { bench } from '../editing/theBench.ts'
import { performInPlan } from './board.ts'

export interface Snapping {
  readonly spigot: { readonly equipmentId: string, readonly spigotId: string } | null
  /** what is pointed at, and the move that it would be */
  readonly shown: { readonly target: SnapTarget, readonly key: string, readonly snap: Snap } | null
  /** why nothing is shown where it is pointed */
  readonly why: string
}

const NOTHING: Snapping = { spigot: null, shown: null, why: '' }

export const snapping = createStore<Snapping>()(() => NOTHING)

export function useSnapping<T>(select: (state: Snapping) => T): T {
  return useStore(snapping, select)
}

// the piece may be gone after an undo
bench.store.subscribe(({ history }, was) => {
  const { spigot } = snapping.getState()
  if (spigot !== null && history?.present !== was.history?.present && spigotNow() === undefined) stopSnapping()
})

export function startSnapping(equipmentId: string, spigotId: string): void {
  snapping.setState({ spigot: { equipmentId, spigotId }, shown: null, why: '' })
}

export function stopSnapping(): void {
  if (snapping.getState().spigot !== null) snapping.setState(NOTHING)
}

export function spigotNow(): PlacedSpigot | undefined {
  const { spigot } = snapping.getState()
  return spigot === null ? undefined : bench.store.getState().assembly?.spigots.find(({ equipment, spigot: { id } }) => equipment.id === spigot.equipmentId && id === spigot.spigotId)
}

/** The eye of a plan is above everything, mm. */
const ABOVE_MM = 100_000
/** a bay must still be tapped between two joists */
const MOST_BESIDE_MM = 60

export function rayDown([x, y]: Point2): Ray {
  return { from: [x, y, ABOVE_MM], direction: [0, 0, -1] }
}

/** The opening that a ray meets, else the bay. @param besideMm how far beside a chord a touch from straight above is still meant for it */
export function pointSnapping(ray: Ray | null, besideMm = 0): void {
  const context = bench.context(), spigot = spigotNow()
  if (context === null || spigot === undefined) return
  if (ray === null) return
  const { joists } = context.assembly
  const way = wayThroughAt(context.assembly, ray, Math.min(besideMm, MOST_BESIDE_MM))
  const near = placeAtHeight(ray, joists.at(0)?.origin[2] ?? spigot.at[2])
  const target: SnapTarget | null = way?.kind === 'opening' ? { kind: 'opening', joistId: joists[way.joistIndex].id, opening: way.number } : near === null ? null : { kind: 'bay', near }
  if (target === null) {
    snapping.setState({ shown: null, why: 'Point at an opening, or between two joists.' })
    return
  }
  const key = keyOf(target)
  if (key !== null && snapping.getState().shown?.key === key) return
  const snap = snapSpigot(context, spigot.equipment.id, spigot.spigot.id, target)
  snapping.setState('why' in snap ? { shown: null, why: snap.why } : { shown: { target, key: key ?? '', snap }, why: '' })

  function keyOf(of: SnapTarget): string | null {
    if (of.kind === 'opening') return `${of.joistId}/${of.opening}`
    const bay = bayAt(joists, of.near)
    return 'why' in bay ? null : bay.names.join('/') + `/${Math.round(bay.middle[0])}/${Math.round(bay.middle[1])}`
  }
}

/** A tap: what was pointed at already is taken, anything else is shown first. @returns whether it was taken */
export function tapSnapping(ray: Ray, besideMm: number): boolean {
  const before = snapping.getState().shown
  pointSnapping(ray, besideMm)
  const now = snapping.getState().shown
  return before !== null && now !== null && (before === now || near(before.snap, now.snap)) && takeSnapping()
}

/** Two taps of a finger in one bay are never on the same millimetre, mm. */
const SAME_TAP_MM = 60

function near(a: Snap, b: Snap): boolean {
  return Math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1], a.centre[2] - b.centre[2]) < SAME_TAP_MM
}

/** Moves the piece as shown. */
export function takeSnapping(): boolean {
  const { spigot, shown } = snapping.getState()
  if (spigot === null || shown === null) return false
  const [x, y, z] = shown.snap.centre
  if (!performInPlan({ do: 'move-equipment', id: spigot.equipmentId, to: [x, y, z], keepAxis: true })) return false
  stopSnapping()
  return true
}

/** The spigot of the picked piece that a place in plan is meant for. */
export function spigotNear(equipmentId: string, [x, y]: Point2, reachMm: number): PlacedSpigot | undefined {
  const off = ({ at }: PlacedSpigot): number => Math.hypot(at[0] - x, at[1] - y)
  return bench.store.getState().assembly?.spigots.filter(({ equipment: { id } }) => id === equipmentId)
    .reduce<PlacedSpigot | undefined>((best, one) => off(one) <= Math.min(reachMm, best === undefined ? Infinity : off(best)) ? one : best, undefined)
}
