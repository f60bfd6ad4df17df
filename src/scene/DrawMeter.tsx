import { addAfterEffect, useThree } from '@react-three/fiber'
import { useEffect } from 'react'
import type { RefObject } from 'react'
import { Vector3 } from 'three'
import type { Frame } from './frame.ts'
import { toSiteMm } from './frame.ts'

/**
 * Writes on the view's own element what the last frame was, so that tests and figures read it instead of guessing by time:
 * data-drawn (frames so far), data-draw-calls, data-triangles, data-markers (findings that are marked, alone or under another), data-target and data-eye
 * (mm), and data-held (geometries and textures that the graphics card holds).
 * It also draws again when the browser gives back a picture that it took away.
 */
export function DrawMeter({ on, frame, onDrawn }: { readonly on: RefObject<HTMLElement | null>, readonly frame: Frame, readonly onDrawn?: () => void }) {
  const gl = useThree((state) => state.gl)
  const get = useThree((state) => state.get)
  const invalidate = useThree((state) => state.invalidate)

  useEffect(() => {
    let seen = -1
    const ahead = new Vector3()
    return addAfterEffect(() => {
      const { frame: drawn, calls, triangles } = gl.info.render
      const element = on.current
      if (drawn === seen || element === null) return
      seen = drawn
      const { camera, controls, scene } = get()
      const rig = controls as { getTarget?: (out: Vector3) => Vector3 } | null
      element.dataset.drawn = String(Number(element.dataset.drawn ?? 0) + 1)
      element.dataset.drawCalls = String(calls)
      element.dataset.triangles = String(triangles)
      element.dataset.held = `${gl.info.memory.geometries} ${gl.info.memory.textures}`
      const markers = scene.getObjectByName('markers')
      element.dataset.markers = String(markers?.userData['shown'] ?? 0)
      element.dataset.eye = toSiteMm(frame, camera.position.x, camera.position.y, camera.position.z).map((n) => n.toFixed(1)).join(' ')
      if (rig?.getTarget !== undefined) {
        const { x, y, z } = rig.getTarget(ahead)
        element.dataset.target = toSiteMm(frame, x, y, z).map((n) => n.toFixed(1)).join(' ')
      }
      onDrawn?.()
    })
  }, [gl, get, on, frame, onDrawn])

  useEffect(() => {
    const canvas = gl.domElement
    const lost = (event: Event): void => {
      event.preventDefault()
      if (on.current !== null) on.current.dataset.picture = 'lost'
    }
    const restored = (): void => {
      if (on.current !== null) on.current.dataset.picture = 'restored'
      invalidate()
    }
    canvas.addEventListener('webglcontextlost', lost)
    canvas.addEventListener('webglcontextrestored', restored)
    return () => {
      canvas.removeEventListener('webglcontextlost', lost)
      canvas.removeEventListener('webglcontextrestored', restored)
    }
  }, [gl, on, invalidate])
  return null
}
