import { useEffect, useRef } from 'react'
import type { KeyboardEvent, PointerEvent } from 'react'
import type { PlacedRun } from '#assembly/assembly.ts'
import type { Xyz } from '#scene/frame.ts'
import { bench } from '../../editing/theBench.ts'
import { mmText } from '../../figures.ts'
import { beginPull, cancelPull, choosePoint, endPull, movePoint, pullTo, removePoint } from '../thread/points.ts'
import { say, threading, useThreading } from '../thread/threading.ts'
import { movedOnStrip, stepOnStrip, stripPointsOf } from './stripPoints.ts'
import type { StripScale } from './stripScale.ts'
import { pointAtStation } from './unrolled.ts'

/** a press that moves no farther chooses, CSS px */
const STILL_PX = 4

/** What is pulled: the points and the scale as they were when it was taken hold of. */
interface Held { readonly index: number, readonly points: readonly Xyz[], readonly scale: StripScale, readonly fromX: number, readonly fromY: number, pulls: boolean }

/** The points of the run on its strip: each a button to choose, pull and step. */
export function StripHandles({ placed, scale, onHold }: {
  readonly placed: PlacedRun, readonly scale: StripScale
  /** the paper must lie still while a point is pulled */
  readonly onHold: (index: number | null) => void
}) {
  const point = useThreading((now) => now.point)
  const held = useRef<Held | null>(null)
  const frame = useRef(0)
  const list = useRef<HTMLOListElement>(null)
  const { run } = placed
  const shown = stripPointsOf(placed)
  useEffect(() => () => {
    cancelAnimationFrame(frame.current)
    cancelPull()
  }, [])

  const nearest = (event: PointerEvent, index: number): number => {
    const box = list.current!.getBoundingClientRect()
    const away = (i: number): number => Math.hypot(scale.x(shown[i].stationMm) - event.clientX + box.left, scale.y(shown[i].heightMm) - event.clientY + box.top)
    return shown.reduce((best, { index: i }) => away(i) < away(best) - 1 ? i : best, index)
  }
  const choose = (index: number): void => {
    choosePoint(run.id, index)
    pointAtStation(shown[index].stationMm, placed.centreline.lengthMm)
  }
  const press = (event: PointerEvent<HTMLButtonElement>, touched: number): void => {
    if (event.button !== 0 || !event.isPrimary) return
    // reaches overlap where points lie close
    const index = nearest(event, touched)
    event.currentTarget.setPointerCapture(event.pointerId)
    held.current = { index, points: run.waypoints.map(({ at }): Xyz => at), scale, fromX: event.clientX, fromY: event.clientY, pulls: false }
    choose(index)
  }
  const move = (event: PointerEvent): void => {
    const now = held.current
    if (now === null) return
    const byX = event.clientX - now.fromX, byY = event.clientY - now.fromY
    if (!now.pulls) {
      if (Math.hypot(byX, byY) <= STILL_PX) return
      if (run.locked === true) {
        held.current = null
        say(`${run.name} is locked: unlock it first.`)
        return
      }
      now.pulls = true
      onHold(now.index)
      beginPull(run.id, now.index)
    }
    cancelAnimationFrame(frame.current)
    frame.current = requestAnimationFrame(() => { carryOut(now, byX, byY) })
  }
  const carryOut = ({ index, points, scale: { pxPerMmAlong, pxPerMmUp } }: Held, byX: number, byY: number): void => {
    pullTo(movedOnStrip(points, index, byX / pxPerMmAlong, points[index][2] - byY / pxPerMmUp))
    const pulled = bench.store.getState().assembly?.runs.find((one) => one.run.id === run.id)
    // the clearances told are those where the point is now
    if (pulled !== undefined) pointAtStation(stripPointsOf(pulled)[index].stationMm, pulled.centreline.lengthMm)
  }
  const lift = (event: PointerEvent): void => {
    const now = held.current
    held.current = null
    if (now?.pulls !== true) return
    cancelAnimationFrame(frame.current)
    carryOut(now, event.clientX - now.fromX, event.clientY - now.fromY)
    endPull()
    onHold(null)
  }
  const giveUp = (): void => {
    cancelAnimationFrame(frame.current)
    if (held.current?.pulls === true) cancelPull()
    held.current = null
    onHold(null)
  }
  const key = (event: KeyboardEvent, index: number): void => {
    if (event.key === 'Escape' && held.current !== null) {
      event.stopPropagation()
      giveUp()
      return
    }
    if (event.ctrlKey || event.metaKey || event.altKey) return
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault()
      removePoint(run.id, index)
      // the keys go on at the point before it
      list.current?.querySelector<HTMLElement>(`[data-point="${Math.max(1, index)}"]`)?.focus()
      return
    }
    const step = stepOnStrip(event.key, event.shiftKey)
    if (step === null) return
    event.preventDefault()
    event.stopPropagation()
    const points = run.waypoints.map(({ at }): Xyz => at)
    movePoint(run.id, index, movedOnStrip(points, index, step.alongMm, points[index][2] + step.upMm), { held: event.repeat })
  }

  return (
    <ol ref={list} className="strip-points" aria-label={`Points of ${run.name}`} style={{ width: scale.width }}>
      {shown.map(({ index, stationMm, heightMm }) => (
        <li key={index} style={{ left: scale.x(stationMm), top: scale.y(heightMm) }}>
          <button type="button" className="strip-point" aria-pressed={point?.runId === run.id && point.index === index} data-point={index + 1}
            aria-label={`Point ${index + 1}: ${mmText(Math.round(stationMm))} along, ${mmText(heightMm)} high. Arrow keys move it 5 mm, with Shift 50 mm; Delete takes it away.`}
            onPointerDown={(event) => { press(event, index) }} onPointerMove={move} onPointerUp={lift} onPointerCancel={giveUp}
            onClick={(event) => { if (event.detail === 0) choose(index) }}
            onFocus={() => { if (threading.getState().point?.index !== index && held.current === null) choose(index) }}
            onKeyDown={(event) => { key(event, index) }}><span>{index + 1}</span></button>
        </li>
      ))}
    </ol>
  )
}
