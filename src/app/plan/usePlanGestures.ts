import { useEffect, useRef } from 'react'
import type { PointerEvent, RefObject } from 'react'
import type { Point2 } from '#model/index.ts'
import { panned, pinched, toSite, zoomedAt, type PlanFrame } from './planFrame.ts'

export type DragPhase = 'start' | 'move' | 'end' | 'cancel'
export interface PlanGestures {
  /** what is under the pointer can be dragged; its name comes back with the drag */
  readonly holdAt: (target: Element) => string | null
  readonly onDrag: (hold: string, phase: DragPhase, atMm: Point2, byMm: Point2) => void
  readonly onTap: (target: Element, atMm: Point2) => void
  /** null when the pointer leaves */
  readonly onHover?: (atMm: Point2 | null) => void
}
interface Press {
  readonly id: number
  readonly target: Element
  readonly fromPx: Point2
  /** null while the plan itself is moved */
  readonly hold: string | null
  lastPx: Point2
  isMoving: boolean
}

/** A finger shakes by less than this, px. */
const STILL_PX = 6
/** one notch of a wheel is some 100 */
const WHEEL = 0.0015

/** Press and move to pan or to drag what is held, two fingers to pinch, the wheel to zoom, a still press to tap. */
export function usePlanGestures(picture: RefObject<SVGSVGElement | null>, frame: PlanFrame | null, setFrame: (change: (now: PlanFrame) => PlanFrame) => void, gestures: PlanGestures) {
  const press = useRef<Press | null>(null)
  const fingers = useRef(new Map<number, Point2>())
  const ready = frame !== null

  const placePx = (event: { readonly clientX: number, readonly clientY: number }): Point2 => {
    const box = picture.current!.getBoundingClientRect()
    return [event.clientX - box.left, event.clientY - box.top]
  }

  useEffect(() => {
    const svg = picture.current
    if (svg === null || !ready) return
    // React's own wheel listener may not keep the page from scrolling
    const turn = (event: WheelEvent): void => {
      event.preventDefault()
      const box = svg.getBoundingClientRect()
      const by = Math.exp(-event.deltaY * WHEEL * (event.deltaMode === 1 ? 16 : 1))
      setFrame(now => zoomedAt(now, [event.clientX - box.left, event.clientY - box.top], by))
    }
    svg.addEventListener('wheel', turn, { passive: false })
    return () => { svg.removeEventListener('wheel', turn) }
  }, [picture, ready, setFrame])

  const dragTo = (phase: DragPhase, px: Point2): void => {
    const { current } = press
    if (frame === null || current === null || current.hold === null) return
    const at = toSite(frame, px), from = toSite(frame, current.fromPx)
    gestures.onDrag(current.hold, phase, at, [at[0] - from[0], at[1] - from[1]])
  }

  return {
    onPointerDown(event: PointerEvent<SVGSVGElement>): void {
      if (event.button !== 0) return
      // what is typed in a field is taken before the tap: a finger, unlike a mouse, would leave the field only after it
      if (document.activeElement instanceof HTMLInputElement) document.activeElement.blur()
      const px = placePx(event), target = event.target as Element
      event.currentTarget.setPointerCapture(event.pointerId)
      fingers.current.set(event.pointerId, px)
      if (fingers.current.size === 2) {
        if (press.current?.isMoving) dragTo('cancel', px)
        press.current = null
        return
      }
      press.current = { id: event.pointerId, target, fromPx: px, hold: gestures.holdAt(target), lastPx: px, isMoving: false }
    },
    onPointerMove(event: PointerEvent<SVGSVGElement>): void {
      const px = placePx(event)
      const { current } = press
      if (fingers.current.size === 2 && fingers.current.has(event.pointerId)) {
        const before = [...fingers.current.values()] as [Point2, Point2]
        fingers.current.set(event.pointerId, px)
        const now = [...fingers.current.values()] as [Point2, Point2]
        setFrame(was => pinched(was, before, now))
        return
      }
      if (current === null || current.id !== event.pointerId) {
        if (frame !== null && fingers.current.size === 0) gestures.onHover?.(toSite(frame, px))
        return
      }
      fingers.current.set(event.pointerId, px)
      if (!current.isMoving) {
        if (Math.hypot(px[0] - current.fromPx[0], px[1] - current.fromPx[1]) < STILL_PX) return
        current.isMoving = true
        dragTo('start', px)
      }
      const [byX, byY] = [px[0] - current.lastPx[0], px[1] - current.lastPx[1]]
      current.lastPx = px
      if (current.hold === null) setFrame(was => panned(was, byX, byY))
      else dragTo('move', px)
    },
    onPointerUp(event: PointerEvent<SVGSVGElement>): void {
      fingers.current.delete(event.pointerId)
      const { current } = press
      if (current === null || current.id !== event.pointerId) return
      const px = placePx(event)
      if (current.isMoving) dragTo('end', px)
      else if (frame !== null) gestures.onTap(current.target, toSite(frame, px))
      press.current = null
    },
    onPointerCancel(event: PointerEvent<SVGSVGElement>): void {
      fingers.current.delete(event.pointerId)
      if (press.current?.isMoving) dragTo('cancel', placePx(event))
      press.current = null
    },
    onPointerLeave(): void {
      if (press.current === null) gestures.onHover?.(null)
    },
  }
}
