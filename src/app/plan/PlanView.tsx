/** The job in plan. Knows no store: the assembly and what is picked out come in, what a person does goes out. */
import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react'
import type { KeyboardEvent, ReactNode } from 'react'
import type { Assembly } from '#assembly/assembly.ts'
import type { Finding } from '#checks/finding.ts'
import type { Point2 } from '#model/index.ts'
import { PlanEquipment } from './PlanEquipment.tsx'
import { PlanHandles } from './PlanHandles.tsx'
import { PlanJoists } from './PlanJoists.tsx'
import { PlanMarks } from './PlanMarks.tsx'
import { PlanNames } from './PlanNames.tsx'
import { PlanRooms, PlanZones } from './PlanRooms.tsx'
import { PlanRuns } from './PlanRuns.tsx'
import { PlanScale } from './PlanScale.tsx'
import { PlanSolids } from './PlanSolids.tsx'
import { cornersOf, nudgeOf } from './moving.ts'
import { planBounds } from './planBounds.ts'
import { fitted, panned, resized, siteMatrix, zoomedAt, type PlanFrame } from './planFrame.ts'
import { isPickKind, type PlanCorner, type PlanPick } from './planPick.ts'
import { usePlanGestures, type DragPhase } from './usePlanGestures.ts'
import './plan.css'

export type PlanLayer = 'rooms' | 'zones' | 'joists' | 'solids' | 'equipment' | 'runs' | 'findings' | 'names'
/** What is being dragged: the thing that is picked out, or one of its corners. */
export type PlanHold = { readonly pick: PlanPick } | { readonly corner: PlanCorner }

export interface PlanViewProps {
  readonly assembly: Assembly
  readonly findings?: readonly Finding[]
  /** layers that are not drawn */
  readonly hidden?: ReadonlySet<PlanLayer>
  readonly pick?: PlanPick | null
  /** a run whose course is about to go */
  readonly faintRuns?: ReadonlySet<string>
  /** says what the plan is for, to a screen reader */
  readonly label?: string
  /** what was touched; null for bare paper */
  readonly onPick?: (pick: PlanPick | null, at: Point2, reachMm: number) => void
  /** a tool is in hand: taps are points for it and pick nothing out */
  readonly onPoint?: (at: Point2, reachMm: number) => void
  readonly onHover?: (at: Point2 | null, reachMm: number) => void
  /** `by`: from where the drag began, mm. Absent where nothing can be moved */
  readonly onDrag?: (hold: PlanHold, phase: DragPhase, at: Point2, by: Point2, reachMm: number) => void
  /** arrow keys on what is picked out or on a corner of it: 10 mm, 1 mm with Alt */
  readonly onNudge?: (hold: PlanHold, by: Point2, isHeld: boolean) => void
  readonly onRemove?: (hold: PlanHold) => void
  /** Escape */
  readonly onPutAway?: () => void
  /** under everything, in site coordinates */
  readonly under?: ReactNode
  /** over everything, in screen px */
  readonly over?: (frame: PlanFrame) => ReactNode
  /** shows all of the job again whenever this changes */
  readonly fitTo?: string | number
}

/** A fingertip is half of 44 px; a mouse does with less, but one reach for both is easier to learn. */
const REACH_PX = 20
const NONE: ReadonlySet<PlanLayer> = new Set()
const NO_FINDINGS: readonly Finding[] = []
const PAN_PX = 60

export function PlanView(props: PlanViewProps) {
  const { assembly, findings, hidden = NONE, pick = null, onPoint, onPick, onDrag, onHover, onNudge, onRemove, onPutAway, fitTo } = props
  const box = useRef<HTMLDivElement>(null), picture = useRef<SVGSVGElement>(null)
  const [frame, setFrame] = useState<PlanFrame | null>(null)
  const changeFrame = useCallback((change: (now: PlanFrame) => PlanFrame) => { setFrame(now => now === null ? null : change(now)) }, [])
  const latest = useRef(assembly)
  latest.current = assembly
  const fit = useCallback(() => {
    const { clientWidth, clientHeight } = box.current!
    setFrame(fitted(planBounds(latest.current), clientWidth, clientHeight))
  }, [])
  useLayoutEffect(() => {
    fit()
    const watch = new ResizeObserver(() => {
      const { clientWidth, clientHeight } = box.current!
      changeFrame(now => resized(now, clientWidth, clientHeight))
    })
    watch.observe(box.current!)
    return () => { watch.disconnect() }
  }, [fit, changeFrame])
  useEffect(() => { fit() }, [fit, fitTo])

  const reachMm = frame === null ? 0 : REACH_PX / frame.pxPerMm
  const corners = useMemo(() => onDrag === undefined ? [] : cornersOf(assembly.job, pick), [assembly, pick, onDrag])
  const holdNamed = (name: string): PlanHold | null => {
    if (name === 'pick') return pick === null ? null : { pick }
    const found = corners.find(({ ring, corner }) => name === `corner ${ring} ${corner}`)
    return found === undefined ? null : { corner: { of: found.of, ring: found.ring, corner: found.corner } }
  }
  const gestures = usePlanGestures(picture, frame, changeFrame, {
    holdAt(target) {
      if (onDrag === undefined || onPoint !== undefined) return null
      const corner = target.closest('[data-corner]')?.getAttribute('data-corner')
      if (corner !== null && corner !== undefined) return corner
      const touched = pickAt(target)
      return touched !== null && pick !== null && touched.kind === pick.kind && touched.id === pick.id ? 'pick' : null
    },
    onDrag(name, phase, at, by) {
      const hold = holdNamed(name)
      if (hold !== null) onDrag?.(hold, phase, at, by, reachMm)
    },
    onTap(target, at) {
      if (onPoint !== undefined) onPoint(at, reachMm)
      else if (target.closest('[data-corner]') === null) onPick?.(pickAt(target), at, reachMm)
    },
    onHover: onHover === undefined ? undefined : at => { onHover(at, reachMm) },
  })

  const onKeyDown = (event: KeyboardEvent): void => {
    const by = nudgeOf(event.key, event.altKey)
    const held = (event.target as Element).closest('[data-corner]')?.getAttribute('data-corner')
    const hold = holdNamed(held ?? 'pick')
    if (by !== null) {
      event.preventDefault()
      if (hold !== null && onNudge !== undefined && onPoint === undefined) onNudge(hold, by, event.repeat)
      else changeFrame(now => panned(now, -Math.sign(by[0]) * PAN_PX, Math.sign(by[1]) * PAN_PX))
    } else if ((event.key === 'Delete' || event.key === 'Backspace') && hold !== null) {
      event.preventDefault()
      onRemove?.(hold)
    } else if (event.key === '+' || event.key === '=') zoom(1.4)
    else if (event.key === '-') zoom(1 / 1.4)
    else if (event.key === '0') fit()
    else if (event.key === 'Escape') onPutAway?.()
  }
  const zoom = (by: number): void => { changeFrame(now => zoomedAt(now, [now.widthPx / 2, now.heightPx / 2], by)) }
  const shows = (layer: PlanLayer): boolean => !hidden.has(layer)
  const { job } = assembly

  return (
    <div className="plan" ref={box} data-px-per-mm={frame?.pxPerMm} data-centre={frame?.centre.join(' ')}>
      <div className="plan-keys" role="application" tabIndex={0} onKeyDown={onKeyDown}
        aria-label={props.label ?? 'Plan. Arrow keys move what is picked out by 10 millimetres, with Alt by 1; plus and minus zoom, 0 shows all of it.'}>
        <svg ref={picture} className={onPoint === undefined ? 'plan-picture' : 'plan-picture is-drawing'} width="100%" height="100%" {...gestures}>
          {frame !== null && (
            <>
              <g transform={siteMatrix(frame)}>
                {props.under}
                {shows('rooms') && <PlanRooms rooms={job.rooms} pick={pick} />}
                {shows('zones') && <PlanZones zones={job.zones} pick={pick} />}
                {shows('solids') && <PlanSolids solids={job.solids} sleeves={job.sleeves} pick={pick} isRound />}
                {shows('joists') && <PlanJoists joists={assembly.joists} pick={pick} isNear={frame.pxPerMm > 0.05} />}
                {shows('solids') && <PlanSolids solids={job.solids} sleeves={job.sleeves} pick={pick} />}
                {shows('equipment') && <PlanEquipment job={job} spigots={assembly.spigots} pick={pick} />}
                {shows('runs') && <PlanRuns runs={assembly.runs} pick={pick} faintRuns={props.faintRuns} />}
              </g>
              <PlanScale frame={frame} />
              {shows('names') && <PlanNames assembly={assembly} findings={shows('findings') ? findings ?? NO_FINDINGS : NO_FINDINGS} frame={frame} hidden={hidden} pick={pick} />}
              {shows('findings') && findings !== undefined && <PlanMarks findings={findings} frame={frame} pick={pick} />}
              {onPoint === undefined && <PlanHandles corners={corners} frame={frame} job={job} />}
              {props.over?.(frame)}
            </>
          )}
        </svg>
      </div>
      <div className="plan-buttons" role="group" aria-label="Nearer and farther">
        <button type="button" className="button" onClick={fit}>All of it</button>
        <button type="button" className="button button-square" aria-label="Nearer" onClick={() => { zoom(1.4) }}>+</button>
        <button type="button" className="button button-square" aria-label="Farther" onClick={() => { zoom(1 / 1.4) }}>{'\u2212'}</button>
      </div>
    </div>
  )
}

function pickAt(target: Element): PlanPick | null {
  const [kind, ...id] = target.closest('[data-pick]')?.getAttribute('data-pick')?.split(':') ?? []
  return isPickKind(kind) ? { kind, id: id.join(':') } : null
}
