import { useRef } from 'react'
import type { PointerEvent } from 'react'
import type { Point2 } from '#model/index.ts'
import type { Xyz } from '#scene/frame.ts'
import type { Touch } from '#scene/hand.ts'
import { pickOut } from '../../desk.ts'
import { useBench } from '../../editing/useBench.ts'
import { toScreen, toSite, type PlanFrame } from '../../plan/planFrame.ts'
import { pointsAlong } from '../../plan/runLine.ts'
import { PlanView, type PlanLayer } from '../../plan/PlanView.tsx'
import { PointMark, numberedLast, numbersWithRoom } from '../../plan/RunPoints.tsx'
import { useDesk } from '../../useDesk.ts'
import { useViewing } from '../looking/viewing.ts'
import { endPlacesOf, keyOfEnd } from './ends.ts'
import { threadHand } from './threadHand.ts'
import { threading, useThreading } from './threading.ts'
import { placedOf } from './ways/placedOf.ts'
import { useWays } from './ways/ways.ts'

/** The eye of a plan is above everything, mm. */
const ABOVE_MM = 100_000
const HIDDEN: ReadonlySet<PlanLayer> = new Set(['names'])
/** CSS px */
const REACH_PX = 22

/** The same by plan: openings tapped under their chords, points pulled level. */
export default function InPlan() {
  const assembly = useBench((now) => now.assembly)
  const selection = useDesk((now) => now.selection)
  const laying = useThreading((now) => now.laying)
  const faintRuns = useViewing((now) => now.faintRuns)
  const frame = useRef<PlanFrame | null>(null)
  if (assembly === null) return null
  const runId = selection?.kind === 'run' ? selection.runId : null

  const touchAt = (at: Point2, reachMm: number, canHover = true): Touch | null => {
    const now = frame.current
    if (now === null) return null
    const [x, y] = toScreen(now, at)
    return {
      x, y, reachPx: REACH_PX, reachMm, canHover, ray: { from: [at[0], at[1], ABOVE_MM], direction: [0, 0, -1] },
      toPx: ([px, py]) => toScreen(now, [px, py]), pick: () => runId === null ? null : { kind: 'run', runId },
    }
  }
  return (
    <div className="thread-plan">
      <PlanView assembly={assembly} hidden={HIDDEN} label="The void in plan: tap openings under their joists, pull the points of a run" faintRuns={faintRuns} pick={runId === null ? null : { kind: 'run', id: runId }}
        onPoint={laying === null ? undefined : (at, reachMm) => {
          const touch = touchAt(at, reachMm)
          if (touch !== null) threadHand.tap?.(touch)
        }}
        onHover={laying === null ? undefined : (at, reachMm) => { threadHand.hover?.(at === null ? null : touchAt(at, reachMm)) }}
        onPick={(pick) => { if (pick?.kind === 'run') pickOut({ kind: 'run', runId: pick.id }) }}
        over={(now) => {
          frame.current = now
          return <Marks frame={now} touchAt={touchAt} />
        }} />
    </div>
  )
}

/** Free ends, the run being laid, what is pointed at and the points in hand, in px. */
function Marks({ frame, touchAt }: { readonly frame: PlanFrame, readonly touchAt: (at: Point2, reachMm: number) => Touch | null }) {
  const assembly = useBench((now) => now.assembly)
  const selection = useDesk((now) => now.selection)
  const { laying, aim, point } = useThreading((now) => now)
  const laid = useWays((now) => now.stage === 'found' ? now.found.laid : null)
  const pulls = useRef(false)
  if (assembly === null) return null
  if (laid !== null) return placedOf(assembly, laid).map(({ run, centreline }) => <polyline key={run.id} className="thread-plan-ghost" points={pointsAlong(centreline).map((at) => toScreen(frame, [at[0], at[1]]).join(',')).join(' ')} />)
  const px = ([x, y]: Xyz): Point2 => toScreen(frame, [x, y])
  const placed = laying === null && selection?.kind === 'run' ? assembly.runs.find(({ run }) => run.id === selection.runId) : undefined
  const at = (event: PointerEvent<SVGGElement>): Touch | null => {
    const box = event.currentTarget.ownerSVGElement!.getBoundingClientRect()
    return touchAt(toSite(frame, [event.clientX - box.left, event.clientY - box.top]), REACH_PX / frame.pxPerMm)
  }
  const press = (event: PointerEvent<SVGGElement>): void => {
    const touch = at(event)
    threading.setState({ lift: 'level' })
    if (touch === null || event.button !== 0 || threadHand.press?.(touch) !== true) return
    event.stopPropagation()
    event.currentTarget.setPointerCapture(event.pointerId)
    pulls.current = true
  }
  const move = (event: PointerEvent<SVGGElement>): void => {
    const touch = pulls.current ? at(event) : null
    if (touch !== null) threadHand.drag?.(touch)
  }
  const lift = (end: (() => void) | undefined) => (): void => {
    if (pulls.current) end?.()
    pulls.current = false
  }
  const held = placed !== undefined && point?.runId === placed.run.id ? point.index : -1
  const hasRoom = numbersWithRoom((placed?.run.waypoints ?? []).map((waypoint) => px(waypoint.at)), held)
  const ghost = laying?.laid?.placed?.run.waypoints.map((waypoint) => px(waypoint.at).join(',')).join(' ')
  return (
    <>
      {placed === undefined && laying?.anewId === undefined && endPlacesOf(assembly).filter(({ takenBy, key }) => takenBy === null && (laying === null || key !== keyOfEnd(laying.from))).map(({ key, at: place }) => {
        const [x, y] = px(place)
        return <circle key={key} className="thread-plan-end" cx={x} cy={y} r="8" />
      })}
      {ghost !== undefined && <polyline className={laying?.laid?.ok === true ? 'thread-plan-ghost' : 'thread-plan-ghost is-wrong'} points={ghost} />}
      {aim?.kind === 'opening' && <circle className="thread-plan-aim" cx={px(aim.preview.at)[0]} cy={px(aim.preview.at)[1]} r="10" />}
      {placed !== undefined && (
        <g className="thread-plan-points plan-points" onPointerDown={press} onPointerMove={move} onPointerUp={lift(threadHand.drop)} onPointerCancel={lift(threadHand.cancel)}>
          {numberedLast(hasRoom).map((i) => {
            const [x, y] = px(placed.run.waypoints[i].at)
            return (
              <g key={i}>
                <circle cx={x} cy={y} r={REACH_PX} fill="transparent" />
                <PointMark at={[x, y]} number={hasRoom[i] ? i + 1 : null} isHeld={held === i} />
              </g>
            )
          })}
        </g>
      )}
    </>
  )
}
