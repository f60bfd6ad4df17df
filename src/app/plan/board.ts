/** The drawing board: the tool in hand, the points laid down so far and what is picked out in plan. Commands go to the bench. */
import { createStore } from 'zustand/vanilla'
import type { Command } from '#commands/index.ts'
import type { Job, Point2 } from '#model/index.ts'
import { pickOut } from '../desk.ts'
import { bench } from '../editing/theBench.ts'
import { moveBy, moveCorner, removalOf } from './moving.ts'
import { newPen, penBack, penClose, penTap, penTowards, penTyped, type Pen, type PenStep } from './pen.ts'
import { isThere, nameOfPick, type PlanPick } from './planPick.ts'
import type { DragPhase } from './usePlanGestures.ts'
import type { PlanHold } from './PlanView.tsx'
import { holdsOf, snapPoint, type Snapped } from './snapPoint.ts'
import { newcomer, type Tool, type Values } from './tool.ts'

export interface Board {
  readonly pick: PlanPick | null
  readonly tool: Tool | null
  readonly pen: Pen
  /** where the pointer would put the next point */
  readonly hover: Snapped | null
  /** what was typed for each tool; stays for the next time */
  readonly typed: Readonly<Record<string, Values>>
  /** what was just done or why it was not, for the person to read */
  readonly said: { readonly words: string, readonly isRefusal: boolean } | null
  /** taps go here instead, such as two points of a picture; null when nobody asks */
  readonly asked: { readonly words: string, readonly take: (at: Point2) => void } | null
}

export const board = createStore<Board>()(() => ({ pick: null, tool: null, pen: newPen('point'), hover: null, typed: {}, said: null, asked: null }))

export function jobNow(): Job | null {
  return bench.store.getState().history?.present ?? null
}

// what was picked out may be gone after an undo
bench.store.subscribe(({ history }, was) => {
  const { pick } = board.getState()
  if (pick !== null && history?.present !== was.history?.present && (history === null || !isThere(history.present, pick))) board.setState({ pick: null })
})

export function takeTool(tool: Tool): void {
  board.setState({ tool, pen: newPen(tool.shape, board.getState().pen.square || board.getState().tool === null), hover: null, pick: null, said: null, asked: null })
}

export function putToolAway(): void {
  board.setState({ tool: null, hover: null, said: null, asked: null })
}

/** Runs and findings are picked out on the whole desk, so that they still are in the next place. */
export function pickInPlan(pick: PlanPick | null): void {
  board.setState({ pick, said: null })
  if (pick?.kind === 'run') pickOut({ kind: 'run', runId: pick.id })
  if (pick?.kind === 'finding') pickOut({ kind: 'finding', id: pick.id })
}

export function askForPoint(words: string, take: (at: Point2) => void): void {
  board.setState({ asked: { words, take }, tool: null, hover: null, said: null })
}

/** What was typed for a tool, over what is usual. */
export function valuesOf({ typed }: Pick<Board, 'typed'>, tool: Tool, job: Job): Values {
  return { ...tool.usual(job), ...typed[tool.id] }
}

export function typeValue(tool: Tool, key: string, value: number | string): void {
  board.setState(({ typed }) => ({ typed: { ...typed, [tool.id]: { ...typed[tool.id], [key]: value } } }))
}

export function setSquare(square: boolean): void {
  board.setState(({ pen }) => ({ pen: { ...pen, square } }))
}

function snapped(raw: Point2, reachMm: number): Snapped {
  const job = jobNow()
  const { pen: { shape, points, square } } = board.getState()
  const holds = job === null ? { corners: [], edges: [] } : holdsOf(job)
  return snapPoint(raw, { ...holds, reachMm, square, from: points.at(-1), first: shape === 'ring' && points.length >= 3 ? points[0] : undefined })
}

export function hoverOver(raw: Point2 | null, reachMm: number): void {
  const { tool, pen } = board.getState()
  if (tool === null) return
  const hover = raw === null ? null : snapped(raw, reachMm)
  board.setState({ hover, pen: hover === null ? pen : penTowards(pen, hover.at) })
}

export function tapPlan(raw: Point2, reachMm: number): void {
  const { asked, pen } = board.getState()
  if (asked !== null) asked.take(raw)
  else step(penTap(pen, snapped(raw, reachMm).at))
}

export function typePoint(at: Point2): void {
  step(penTap(board.getState().pen, at))
}

export function typeLength(lengthMm: number): void {
  step(penTyped(board.getState().pen, lengthMm))
}

export function pointTowards(towards: Point2): void {
  board.setState(({ pen }) => ({ pen: { ...pen, towards }, hover: null }))
}

export function closePen(): void {
  step(penClose(board.getState().pen))
}

export function backPen(): void {
  board.setState(({ pen }) => ({ pen: penBack(pen), said: null }))
}

function step(made: PenStep): void {
  const { tool, pen } = board.getState()
  if (tool === null) return
  if ('why' in made) board.setState({ said: { words: sentence(made.why), isRefusal: true } })
  else if ('pen' in made) board.setState({ pen: made.pen, hover: null, said: null })
  else finish(tool, made.done, pen.square)
}

function finish(tool: Tool, points: readonly Point2[], square: boolean): void {
  const before = jobNow()
  if (before === null) return
  const command = tool.make(points, valuesOf(board.getState(), tool, before), before)
  if (typeof command === 'string') {
    board.setState({ said: { words: sentence(command), isRefusal: true } })
    return
  }
  const done = bench.perform(command)
  if (!done.ok) {
    board.setState({ said: { words: sentence(done.why), isRefusal: true } })
    return
  }
  const after = jobNow()!
  const pick = newcomer(before, after)
  const words = pick === null ? 'Done.' : `${sentence(nameOfPick(after, pick)).slice(0, -1)} is in.`
  board.setState({
    said: { words: tool.again === true ? `${words} Tap for another, or put the tool away.` : words, isRefusal: false },
    pen: newPen(tool.shape, square), hover: null, tool: tool.again === true ? tool : null, pick: tool.again === true ? null : pick,
  })
}

/** A command whose refusal is shown beside the plan. */
export function performInPlan(command: Command, options?: { readonly held?: boolean }): boolean {
  const done = bench.perform(command, options)
  board.setState({ said: done.ok ? null : { words: sentence(done.why), isRefusal: true } })
  return done.ok
}

let base: Job | null = null

/** A drag of what is picked out or of a corner of it: one step at its end. */
export function dragInPlan(hold: PlanHold, phase: DragPhase, at: Point2, by: Point2, reachMm: number): void {
  if (phase === 'start') {
    base = jobNow()
    bench.beginDrag()
    return
  }
  if (phase === 'end') bench.endDrag()
  if (phase === 'cancel') bench.cancelDrag()
  if (phase !== 'move' || base === null) return
  const command = 'corner' in hold
    ? moveCorner(hold.corner, snapPoint(at, { ...holdsOf(base, hold.corner.of.id), reachMm: reachMm / 2, square: false }).at)
    : moveBy(base, hold.pick, [Math.round(by[0]), Math.round(by[1])])
  if (command === null) return
  const done = bench.updateDrag(command)
  board.setState({ said: done.ok ? null : { words: sentence(done.why), isRefusal: true } })
}

export function nudgeInPlan(hold: PlanHold, by: Point2, isHeld: boolean): void {
  const job = jobNow()
  if (job === null) return
  const command = 'corner' in hold ? cornerBy(job, hold.corner, by) : moveBy(job, hold.pick, by)
  if (command === null) board.setState({ said: { words: 'That is not moved here: a joist stands where it was measured, and a run follows its points.', isRefusal: true } })
  else performInPlan(command, { held: isHeld })
}

export function removeInPlan(hold: PlanHold): void {
  const job = jobNow()
  if (job === null) return
  const command: Command | null = 'corner' in hold ? { do: 'remove-corner', of: hold.corner.of.id, ring: hold.corner.ring, corner: hold.corner.corner } : removalOf(hold.pick)
  if (command === null) return
  const name = 'corner' in hold ? `Corner ${hold.corner.corner + 1}` : nameOfPick(job, hold.pick)
  if (performInPlan(command)) board.setState({ said: { words: `${sentence(name).slice(0, -1)} is gone.`, isRefusal: false } })
}

function cornerBy(job: Job, { of, ring, corner }: Extract<PlanHold, { corner: unknown }>['corner'], by: Point2): Command | null {
  const rings = of.kind === 'room' ? [job.rooms.find(({ id }) => id === of.id)?.outline]
    : of.kind === 'zone' ? job.zones.filter(({ id }) => id === of.id).flatMap(({ outline, holes }) => [outline, ...holes])
      : job.solids.flatMap(({ id, shape }) => id === of.id && shape.kind === 'prism' ? [shape.outline, ...shape.holes] : [])
  const at = rings[ring]?.[corner]
  return at === undefined ? null : moveCorner({ of, ring, corner }, [at[0] + by[0], at[1] + by[1]])
}

function sentence(words: string): string {
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}${/[.!?]$/.test(words) ? '' : '.'}`
}
