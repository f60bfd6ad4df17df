import { createRoot, extend } from '@react-three/fiber'
import type { ReconcilerRoot, RootState } from '@react-three/fiber'
import { Component, Suspense, useEffect, useLayoutEffect, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import {
  DirectionalLight, Group, HemisphereLight, LatheGeometry, LineBasicMaterial, LineLoop, LineSegments, Mesh, MeshBasicMaterial, MeshLambertMaterial, Points,
  ShaderMaterial, SphereGeometry, TorusGeometry,
} from 'three'
import { atRest } from './atRest.ts'

// what the elements of src/scene are named after, and no more: given all of three, a quarter of it would be loaded for nothing
extend({
  DirectionalLight, Group, HemisphereLight, LatheGeometry, LineBasicMaterial, LineLoop, LineSegments, Mesh, MeshBasicMaterial, MeshLambertMaterial, Points,
  ShaderMaterial, SphereGeometry, TorusGeometry,
})

type Root = ReconcilerRoot<HTMLCanvasElement>

/**
 * A canvas that fills its place, with what is in it drawn on demand. Each mounting has a canvas of its own, which goes with it,
 * so that mounting twice (as React's strict mode does) never draws on one that has been given up. What goes wrong inside is thrown outside.
 */
export function SceneCanvas({ fovDeg, isHidden = false, onCreated, children }: {
  readonly fovDeg: number
  /** nothing is drawn, and the size stays, until it is seen again */
  readonly isHidden?: boolean
  readonly onCreated: (state: RootState) => void
  readonly children: ReactNode
}) {
  const place = useRef<HTMLDivElement>(null)
  const [made, setMade] = useState<{ readonly root: Root, readonly element: HTMLCanvasElement } | null>(null)
  const [size, setSize] = useState({ width: 0, height: 0 })
  const [failure, setFailure] = useState<{ readonly error: unknown } | null>(null)
  const created = useRef(onCreated)
  const view = useRef<RootState>(null)
  const hidden = useRef(isHidden)
  hidden.current = isHidden
  created.current = onCreated

  useLayoutEffect(() => {
    const element = document.createElement('canvas')
    element.style.display = 'block'
    place.current!.append(element)
    const root = createRoot(element)
    setMade({ root, element })
    return () => {
      view.current = null
      root.unmount()
      element.remove()
      setMade(null)
    }
  }, [])
  useLayoutEffect(() => {
    const measure = (): void => {
      const { clientWidth: width, clientHeight: height } = place.current!
      setSize((was) => was.width === width && was.height === height ? was : { width, height })
    }
    if (isHidden) return
    measure()
    const watch = new ResizeObserver(measure)
    watch.observe(place.current!)
    return () => { watch.disconnect() }
  }, [isHidden])
  useEffect(() => {
    view.current?.setFrameloop(isHidden ? 'never' : 'demand')
    if (!isHidden) view.current?.invalidate()
  }, [isHidden])
  useLayoutEffect(() => {
    if (made === null || size.width === 0 || size.height === 0) return
    const configure = (): Promise<unknown> => made.root.configure({
      flat: true, frameloop: hidden.current ? 'never' : 'demand', dpr: [1, 2], size: { ...size, top: 0, left: 0 },
      gl: { antialias: true, powerPreference: 'high-performance' },
      camera: { fov: fovDeg, near: 0.05, far: 1_500, up: [0, 0, 1], position: [0, -5, 5] },
      onCreated: (state) => {
        // asking each for its faults makes the page wait for the graphics card, which has a way of its own to tell of them: the console
        state.gl.debug.checkShaderErrors = false
        view.current = state
        created.current(state)
      },
    })
    let isWanted = true
    const tell = (error: unknown): void => { if (isWanted) setFailure({ error }) }
    if (view.current === null) configure().catch(tell)
    else void atRest(view.current.gl.getContext() as WebGL2RenderingContext).then(() => isWanted ? configure().catch(tell) : undefined)
    return () => { isWanted = false }
  }, [made, size, fovDeg])
  useEffect(() => {
    if (made === null || size.width === 0 || size.height === 0 || failure !== null) return
    try {
      made.root.render(<Inside tell={setFailure}><Suspense fallback={null}>{children}</Suspense></Inside>)
    } catch (error) {
      setFailure({ error })
    }
  })
  if (failure !== null) throw failure.error
  return <div ref={place} aria-hidden="true" style={{ position: 'absolute', inset: 0, overflow: 'hidden' }} />
}

class Inside extends Component<{ readonly tell: (failure: { readonly error: unknown }) => void, readonly children: ReactNode }, { readonly failed: boolean }> {
  override state = { failed: false }

  static getDerivedStateFromError(): { failed: boolean } {
    return { failed: true }
  }

  override componentDidCatch(error: unknown): void {
    this.props.tell({ error })
  }

  override render(): ReactNode {
    return this.state.failed ? null : this.props.children
  }
}
