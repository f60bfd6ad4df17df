import { Canvas, useThree } from '@react-three/fiber'
import { Suspense, lazy, useEffect, useMemo, useRef } from 'react'
import type { KeyboardEvent, PointerEvent as ReactPointerEvent, RefObject } from 'react'
import { Raycaster, Vector2, Vector3 } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import type { Finding } from '#checks/finding.ts'
import { Boxes } from './Boxes.tsx'
import { Markers } from './Markers.tsx'
import { DrawMeter } from './DrawMeter.tsx'
import { Focus } from './Focus.tsx'
import { HoleMouths } from './HoleMouths.tsx'
import { Merged, useDrawable } from './Merged.tsx'
import { PencilLines } from './PencilLines.tsx'
import { PencilWeight } from './PencilWeight.tsx'
import type { Tag } from './Pointing.tsx'
import { Rig } from './Rig.tsx'
import type { Covered } from './Rig.tsx'
import { Zones } from './Zones.tsx'
import { boxChunksOf } from './boxInstances.ts'
import type { Frame } from './frame.ts'
import { frameOf, toScene, toSiteMm } from './frame.ts'
import { useMaterials } from './materials.ts'
import { mergedRuns, mergedShapes, mergedThinShapes } from './meshSpans.ts'
import { openingBehind } from './openings.ts'
import { PAPER, isFaint } from './palette.ts'
import { nearestMarker, pick } from './pick.ts'
import type { Hit } from './pick.ts'
import { inFocus } from './selection.ts'
import type { CameraAsk, CameraOrder, Selection } from './selection.ts'

// wanted only once something is picked out, so it comes after the first picture, and without waiting to be asked for
const loadPointing = () => import('./Pointing.tsx')
const Pointing = lazy(async () => ({ default: (await loadPointing()).Pointing }))

export interface VoidViewProps {
  readonly assembly: Assembly
  readonly findings: readonly Finding[]
  /** ids of the findings whose markers are shown */
  readonly shown: ReadonlySet<string>
  readonly selection: Selection | null
  /** short name that floats at the thing picked out, and where, mm; null for none */
  readonly tag: Tag | null
  readonly order: CameraOrder
  readonly covered: Covered
  readonly onSelect: (selection: Selection | null) => void
  readonly onOrder: (ask: CameraAsk) => void
}

const FOV_DEG = 32
/** a pointer that moved farther than this was turning the view, CSS px */
const STILL_PX = 7
const FINGER_PX = 30
const POINTER_PX = 20

/** The void in 3D: props in, events out. Keys when it has the focus: arrows turn it, + and - bring it nearer and farther. */
export function VoidView(props: VoidViewProps) {
  const wrapper = useRef<HTMLDivElement>(null)
  const tags = useRef<HTMLDivElement>(null)
  const probe = useRef<Probe>(null)
  const pressed = useRef<{ x: number, y: number, id: number } | null>(null)
  const { assembly, onSelect } = props

  const frame = useMemo(() => frameOf(assembly), [assembly])

  const press = (event: ReactPointerEvent): void => {
    pressed.current = event.isPrimary ? { x: event.clientX, y: event.clientY, id: event.pointerId } : null
  }
  const lift = (event: ReactPointerEvent): void => {
    const from = pressed.current
    pressed.current = null
    if (from === null || from.id !== event.pointerId || event.button !== 0) return
    if (Math.hypot(event.clientX - from.x, event.clientY - from.y) > STILL_PX) return
    const box = wrapper.current?.getBoundingClientRect()
    if (box === undefined) return
    onSelect(probe.current?.(event.clientX - box.left, event.clientY - box.top, event.pointerType === 'mouse' ? POINTER_PX : FINGER_PX) ?? null)
  }

  return (
    <div ref={wrapper} className="void-view" role="application" tabIndex={0}
      aria-label="The void in 3D. Arrow keys turn it, plus and minus bring it nearer and farther."
      onPointerDown={press} onPointerUp={lift} onPointerCancel={() => { pressed.current = null }}
      onKeyDown={(event) => { turnByKey(event, props.onOrder) }}>
      <Canvas frameloop="demand" flat dpr={[1, 2]} camera={{ fov: FOV_DEG, near: 0.05, far: 1_500, up: [0, 0, 1], position: [0, -5, 5] }}
        onCreated={({ gl }) => { gl.setClearColor(PAPER) }} aria-hidden>
        <Contents {...props} frame={frame} tags={tags} probe={probe} />
        <DrawMeter on={wrapper} frame={frame} />
      </Canvas>
      <div ref={tags} className="void-tags" />
    </div>
  )
}

/** What lies at a place of the view, CSS px from its top left corner. */
type Probe = (x: number, y: number, reachPx: number) => Selection | null

interface ContentsProps extends VoidViewProps {
  readonly frame: Frame
  readonly tags: RefObject<HTMLDivElement | null>
  readonly probe: RefObject<Probe | null>
}

function Contents({ assembly, findings, shown, selection, tag, order, covered, frame, tags, probe }: ContentsProps) {
  const get = useThree((state) => state.get)
  const invalidate = useThree((state) => state.invalidate)
  const chunks = useMemo(() => boxChunksOf(assembly, frame), [assembly, frame])
  const runs = useDrawable(mergedRuns, assembly, frame)
  const shapes = useDrawable(mergedShapes, assembly, frame)
  const thinChunks = useMemo(() => boxChunksOf(assembly, frame, true), [assembly, frame])
  const thinShapes = useDrawable(mergedThinShapes, assembly, frame)
  const focus = useMemo(() => inFocus(assembly, findings, selection), [assembly, findings, selection])
  const materials = useMaterials()
  const faded = selection !== null && (focus.runs.length > 0 || focus.solids.length > 0)
  const chosen = selection?.kind === 'finding' ? findings.find(({ id }) => id === selection.id) : undefined

  useEffect(() => {
    const ray = new Raycaster()
    const spot = new Vector3()
    probe.current = (x, y, reachPx) => {
      const { camera, size } = get()
      camera.updateMatrixWorld()
      const pixels = findings.flatMap(({ id, mark }) => {
        if (!shown.has(id)) return [NaN, NaN]
        spot.set(...toScene(frame, mark.x, mark.y, mark.z)).project(camera)
        return spot.z > 1 ? [NaN, NaN] : [(spot.x + 1) / 2 * size.width, (1 - spot.y) / 2 * size.height]
      })
      const marker = nearestMarker(pixels, x, y, reachPx)
      if (marker >= 0) return { kind: 'finding', id: findings[marker].id }
      ray.setFromCamera(new Vector2(x / size.width * 2 - 1, 1 - y / size.height * 2), camera)
      const { origin, direction } = ray.ray
      const siteRay = { from: toSiteMm(frame, origin.x, origin.y, origin.z), direction: direction.toArray() as [number, number, number] }
      const isThin = (solid: number): boolean => isFaint(assembly.parts.classOf(solid))
      // what stands round the void is only picked where nothing in it is
      const hit = pick(assembly, runs.mesh.spans, shapes.mesh.spans, siteRay, isThin)
      if (hit !== null) return selectionOf(assembly, hit)
      const opening = openingBehind(assembly, siteRay)
      if (opening !== null) return opening
      const round = pick(assembly, [], thinShapes.mesh.spans, siteRay, (solid) => !isThin(solid))
      return round === null ? null : selectionOf(assembly, round)
    }
    return () => { probe.current = null }
  }, [assembly, findings, shown, frame, runs, shapes, thinShapes, get, probe])

  useEffect(() => { invalidate() })
  useEffect(() => { void loadPointing() }, [])

  return (
    <>
      <hemisphereLight args={['#ffffff', '#cdbfa8', 2.1]} position={[0, 0, 1]} />
      <directionalLight intensity={1.5} position={[-4, -7, 10]} />
      <directionalLight intensity={0.5} position={[6, 4, -8]} />
      <Rig frame={frame} order={order} covered={covered} />
      <PencilWeight material={materials.pencil} />
      <Zones assembly={assembly} frame={frame} faded={faded} />
      <Boxes chunks={chunks} material={faded ? materials.fadedBoxes : materials.boxes} name="boxes" />
      <PencilLines assembly={assembly} frame={frame} material={faded ? materials.fadedPencil : materials.pencil} />
      <HoleMouths assembly={assembly} frame={frame} faded={faded} />
      <Merged of={shapes} material={faded ? materials.fadedMerged : materials.merged} name="shapes" />
      <Merged of={runs} material={faded ? materials.fadedMerged : materials.merged} name="runs" />
      <Boxes chunks={thinChunks} material={faded ? materials.fadedThinBoxes : materials.thinBoxes} name="thin-boxes" />
      <Merged of={thinShapes} material={faded ? materials.fadedThinMerged : materials.thinMerged} name="thin-shapes" />
      <Focus assembly={assembly} frame={frame} focus={focus} runs={runs} shapes={shapes} thinShapes={thinShapes} materials={materials} />
      <Markers findings={findings} shown={shown} chosenId={chosen?.id ?? null} frame={frame} />
      <Suspense fallback={null}>
        {(tag !== null || chosen !== undefined) && <Pointing frame={frame} finding={chosen} tag={tag} tags={tags} />}
      </Suspense>
    </>
  )
}

function selectionOf(assembly: Assembly, hit: Hit): Selection {
  return hit.kind === 'run'
    ? { kind: 'run', runId: assembly.runs[hit.runIndex].run.id }
    : { kind: 'solid', solidIndex: hit.solidIndex, at: hit.at }
}

const KEYS: Record<string, CameraAsk> = {
  '+': { zoomBy: 0.8 }, '=': { zoomBy: 0.8 }, '-': { zoomBy: 1.25 },
  ArrowLeft: { turnDeg: [-15, 0] }, ArrowRight: { turnDeg: [15, 0] }, ArrowUp: { turnDeg: [0, -10] }, ArrowDown: { turnDeg: [0, 10] },
}

function turnByKey(event: KeyboardEvent, onOrder: (ask: CameraAsk) => void): void {
  const ask = KEYS[event.key]
  if (ask === undefined || event.ctrlKey || event.metaKey || event.altKey) return
  event.preventDefault()
  onOrder(ask)
}
