/** What a finger, a mouse or a key in the view does while runs are threaded. */
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import type { Xyz } from '#scene/frame.ts'
import type { Hand, Touch } from '#scene/hand.ts'
import { ringGroups } from '#scene/ringGroups.ts'
import { legAt, nearestPlace, placeAtHeight, pulledTo, wayThroughAt, wayUnderThumb } from '#scene/reach.ts'
import { desk } from '../../desk.ts'
import { bench } from '../../editing/theBench.ts'
import { endPlacesOf, keyOfEnd, type EndPlace } from './ends.ts'
import { aimAt, aimAtHole, aimAtOpening, aimAtPlace, isSameGate, startAt, takeAim } from './laying.ts'
import { addPoint, beginPull, cancelPull, endPull, pullTo, stepPoint } from './points.ts'
import { threading, type Aim } from './threading.ts'
import { isBusy, showChange } from './ways/ways.ts'

/** the point in hand: where it was, and how far beside it the ray went */
let held: { readonly at: Xyz, readonly offset: Xyz } | null = null
/** the latest place of the pointer; carried out once a frame, however many come */
let waiting: Touch | null = null

export const threadHand: Hand = {
  press(touch) {
    const run = runInHand()
    if (run === null || threading.getState().laying !== null || isBusy()) return false
    const points = run.run.waypoints.map(({ at }): Xyz => at)
    const index = pointUnder(touch, points)
    if (index < 0) return false
    const at = points[index], on = pulledTo(touch.ray, at, threading.getState().lift) ?? at
    held = { at, offset: [at[0] - on[0], at[1] - on[1], at[2] - on[2]] }
    beginPull(run.run.id, index)
    return true
  },
  drag(touch) {
    if (waiting === null) requestAnimationFrame(carryOut)
    waiting = touch
  },
  drop() {
    carryOut()
    endPull()
    held = null
  },
  cancel() {
    waiting = null
    held = null
    cancelPull()
  },
  hover(touch) {
    if (threading.getState().laying === null || isBusy()) return
    const aim = touch === null ? null : aimOf(touch)
    if (!isSameAim(aim, threading.getState().aim)) aimAt(aim)
  },
  tap(touch) {
    const { laying, aim } = threading.getState()
    const assembly = bench.store.getState().assembly
    if (assembly === null) return false
    if (isBusy()) {
      const picked = touch.pick()
      showChange(picked?.kind === 'run' ? picked.runId : null)
      return true
    }
    if (laying !== null) {
      const several = severalUnder(touch, endsToTake(assembly))
      if (several.length > 1) {
        threading.setState({ several: several.map(({ key }) => key), aim: null })
        return true
      }
      const now = aimOf(touch)
      // a finger cannot point first: its first tap shows, its second takes
      if (now !== null && (touch.canHover || isSameAim(now, aim))) takeAim(now)
      else aimAt(now)
      return true
    }
    const free = freeEnds(assembly)
    const spigot = nearestPlace(touch, free.map(({ at }) => at))
    const picked = touch.pick()
    const several = severalUnder(touch, free)
    if (several.length > 1 && runInHand() === null) {
      threading.setState({ several: several.map(({ key }) => key) })
      return true
    }
    if (spigot >= 0 && picked?.kind !== 'finding') {
      startAt(free[spigot].end, !touch.canHover)
      return true
    }
    threading.setState({ several: [] })
    const run = runInHand()
    if (run === null || picked?.kind !== 'run' || picked.runId !== run.run.id) return false
    const leg = legAt(run, touch.ray)
    if (leg !== null) addPoint(run.run.id, leg.point, leg.at)
    return true
  },
  key({ key, altKey, repeat, ctrlKey, metaKey }, right) {
    const { point, lift, isPulling } = threading.getState()
    if (isPulling && key === 'Escape') {
      threadHand.cancel?.()
      return true
    }
    if (point === null || ctrlKey || metaKey) return false
    const by = stepOf(key, altKey, lift, right)
    if (by === null) return false
    stepPoint(point.runId, point.index, by, repeat)
    return true
  },
}

/** a bay must still be tapped between two joists */
const MOST_BESIDE_MM = 60

/** an end is only meant where no corner is about as near: ends belong to their spigots, CSS px */
const END_NEARER_PX = 8

function pointUnder(touch: Touch, points: readonly Xyz[]): number {
  const inner = nearestPlace(touch, points.slice(1, -1)) + 1, last = points.length - 1
  const end = [0, last, -1].at(nearestPlace(touch, [points[0], points[last]]))!
  if (inner < 1 || end < 0) return inner < 1 ? end : inner
  return offPx(touch, points[end]) + END_NEARER_PX < offPx(touch, points[inner]) ? end : inner
}

function offPx(touch: Touch, place: Xyz): number {
  const px = touch.toPx(place)
  return px === null ? Infinity : Math.hypot(px[0] - touch.x, px[1] - touch.y)
}

function carryOut(): void {
  const touch = waiting
  waiting = null
  if (touch === null || held === null) return
  const on = pulledTo(touch.ray, held.at, threading.getState().lift)
  if (on !== null) pullTo([on[0] + held.offset[0], on[1] + held.offset[1], on[2] + held.offset[2]])
}

/** The run whose points can be taken hold of. */
export function runInHand(): PlacedRun | null {
  const { selection } = desk.getState()
  if (selection?.kind !== 'run') return null
  return bench.store.getState().assembly?.runs.find(({ run }) => run.id === selection.runId) ?? null
}

export function freeEnds(assembly: Assembly) {
  return endPlacesOf(assembly).filter(({ takenBy }) => takenBy === null)
}

/** What the run being laid may end at: no spigot of what it comes from, for those lie beside its start. */
export function endsToTake(assembly: Assembly): readonly EndPlace[] {
  const { laying } = threading.getState()
  if (laying === null || laying.anewId !== undefined) return []
  const from = endPlacesOf(assembly).find(({ key }) => key === keyOfEnd(laying.from))
  const free = freeEnds(assembly), others = free.filter(({ on }) => on !== from?.on)
  return others.length > 0 ? others : free.filter(({ key }) => key !== from?.key)
}

/** The ends in one place under a thumb; a mouse tells them apart. */
function severalUnder(touch: Touch, ends: readonly EndPlace[]): EndPlace[] {
  if (touch.canHover) return []
  const groups = ringGroups(ends.map(({ at }) => at), touch.toPx)
  return groups[nearestPlace(touch, groups.map(({ at }) => at))]?.members.map((i) => ends[i]) ?? []
}

function aimOf(touch: Touch): Aim | null {
  const { laying } = threading.getState()
  const assembly = bench.store.getState().assembly
  if (laying === null || assembly === null) return null
  const ends = endsToTake(assembly)
  const end = nearestPlace(touch, ends.map(({ at }) => at))
  if (end >= 0) return { kind: 'end', end: ends[end].end, at: ends[end].at, words: `End at ${ends[end].name}.` }
  const way = touch.canHover ? wayThroughAt(assembly, touch.ray, Math.min(touch.reachMm ?? 0, MOST_BESIDE_MM)) : wayUnderThumb(assembly, touch)
  if (way !== null) {
    const { aim } = threading.getState()
    if (way.kind === 'hole') return aimAtHole(way.holeId)
    const joistId = assembly.joists[way.joistIndex].id
    // the preview of what is pointed at already need not be worked out again
    if (aim?.kind === 'opening' && aim.gate.joistId === joistId && aim.gate.opening === way.number) return aim
    return aimAtOpening(joistId, way.number)
  }
  const at = placeAtHeight(touch.ray, heightOf(assembly))
  return at === null ? null : aimAtPlace(at)
}

/** Where a tap beside everything is taken to lie: as high as the run has come. */
function heightOf(assembly: Assembly): number {
  const { laying } = threading.getState()
  const last = laying?.laid?.waypoints.at(-1)?.at ?? endPlacesOf(assembly).find(({ key }) => laying !== null && key === keyOfEnd(laying.from))?.at
  return last?.[2] ?? 0
}

function isSameAim(a: Aim | null, b: Aim | null): boolean {
  if (a === null || b === null) return a === b
  if (a.kind === 'end' || b.kind === 'end') return a.kind === 'end' && b.kind === 'end' && keyOfEnd(a.end) === keyOfEnd(b.end)
  return isSameGate(a.gate, b.gate)
}

/** 10 mm, with Alt 1 mm: level along the site's own axis that is nearest to right or away in the picture; up and down always with Page Up and Page Down. */
export function stepOf(key: string, isFine: boolean, lift: 'level' | 'upright', right: Xyz): Xyz | null {
  const step = isFine ? 1 : 10
  const isAlongX = Math.abs(right[0]) >= Math.abs(right[1])
  const across: Xyz = isAlongX ? [Math.sign(right[0]) * step, 0, 0] : [0, Math.sign(right[1]) * step, 0]
  const away: Xyz = [-across[1], across[0], 0]
  switch (key) {
    case 'PageUp': return [0, 0, step]
    case 'PageDown': return [0, 0, -step]
    case 'ArrowUp': return lift === 'upright' ? [0, 0, step] : away
    case 'ArrowDown': return lift === 'upright' ? [0, 0, -step] : [-away[0], -away[1], 0]
    case 'ArrowRight': return lift === 'upright' ? null : across
    case 'ArrowLeft': return lift === 'upright' ? null : [-across[0], -across[1], 0]
    default: return null
  }
}

