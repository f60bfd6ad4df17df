import { CameraControls, CameraControlsImpl } from '@react-three/drei'
import { useThree } from '@react-three/fiber'
import { useEffect, useRef } from 'react'
import { Vector3 } from 'three'
import type { PerspectiveCamera } from 'three'
import type { Frame } from './frame.ts'
import type { CameraOrder } from './selection.ts'
import { toScene } from './frame.ts'
import { lookAtPlace, lookAtThing, lookFrom } from './views.ts'

/** Frames are only drawn on demand, so the first step after a rest would swallow a whole flight: no step is longer than this, s. */
const LONGEST_STEP_S = 0.1

class SteadyControls extends CameraControlsImpl {
  override update(deltaS: number): boolean {
    return super.update(Math.min(deltaS, LONGEST_STEP_S))
  }
}

/** How much of the picture lies under buttons, and under the card once something is picked out, CSS px. */
export interface Covered { readonly topPx: number, readonly bottomPx: number }

/** The camera: turned, moved and brought nearer by hand, or sent somewhere by an order. */
export function Rig({ frame, order, covered }: {
  readonly frame: Frame, readonly order: CameraOrder
  readonly covered: Covered
}) {
  const controls = useRef<CameraControlsImpl>(null)
  const camera = useThree((state) => state.camera) as PerspectiveCamera
  const { width, height } = useThree((state) => state.size)
  const invalidate = useThree((state) => state.invalidate)
  const shownFrame = useRef<Frame>(null)
  const obeyed = useRef(-1)

  useEffect(() => {
    const rig = controls.current
    if (rig === null || width === 0 || height === 0) return
    const fresh = shownFrame.current !== frame
    if (!fresh && obeyed.current === order.ticket) return
    // something new is shown at once; from then on the camera flies, unless the person has asked for no motion
    const flies = !fresh && !matchMedia('(prefers-reduced-motion: reduce)').matches
    shownFrame.current = frame
    obeyed.current = order.ticket
    if ('zoomBy' in order) {
      void rig.dollyTo(rig.distance * order.zoomBy, flies)
    } else if ('turnDeg' in order) {
      void rig.rotate(order.turnDeg[0] * Math.PI / 180, order.turnDeg[1] * Math.PI / 180, flies)
    } else {
      const picture = { fovDeg: camera.fov, aspect: width / height, coveredTop: Math.min(0.3, covered.topPx / height), coveredBottom: 'boundsMm' in order ? Math.min(0.4, covered.bottomPx / height) : 0 }
      const eye = rig.getPosition(new Vector3()).toArray()
      const look = 'eyeMm' in order ? { eye: toScene(frame, ...order.eyeMm), target: toScene(frame, ...order.targetMm) }
        : 'stand' in order ? lookFrom(frame, order.stand, picture)
        : 'boundsMm' in order ? lookAtThing(frame, order.boundsMm, eye, picture)
        : lookAtPlace(frame, order.placeMm, eye)
      void rig.setLookAt(...look.eye, ...look.target, flies)
    }
    invalidate()
  }, [frame, order, camera, width, height, covered, invalidate])

  return <CameraControls ref={controls} impl={SteadyControls} makeDefault smoothTime={0.22} draggingSmoothTime={0.06}
    minDistance={0.15} maxDistance={600} dollyToCursor />
}
