import { useThree } from '@react-three/fiber'
import { Suspense, lazy, useEffect, useMemo, useRef } from 'react'
import type { KeyboardEvent, PointerEvent as ReactPointerEvent, ReactNode, RefObject } from 'react'
import { Raycaster, Vector2, Vector3 } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import type { Finding } from '#checks/finding.ts'
import { Boxes } from './Boxes.tsx'
import { Markers, apartPx, grownAt, isNarrowPicture, marksInOrder, marksOnScreen } from './Markers.tsx'
import { DrawMeter } from './DrawMeter.tsx'
import { Focus } from './Focus.tsx'
import { HoleMouths } from './HoleMouths.tsx'
import { Merged, useDrawable } from './Merged.tsx'
import { PencilLines } from './PencilLines.tsx'
import { PencilWeight } from './PencilWeight.tsx'
import type { Tag } from './Pointing.tsx'
import { Rig } from './Rig.tsx'
import type { Covered } from './Rig.tsx'
import { SceneCanvas } from './SceneCanvas.tsx'
import { Zones } from './Zones.tsx'
import { boxChunksOf } from './boxInstances.ts'
import { cutAwayBy, keptRay } from './cutAway.ts'
import type { Cut } from './cutAway.ts'
import { groupMarks } from './groupMarks.ts'
import type { Frame, Xyz } from './frame.ts'
import { frameOf, toScene, toSiteMm } from './frame.ts'
import type { Hand, Touch } from './hand.ts'
import { AS_USUAL } from './kinds.ts'
import type { Drawing } from './kinds.ts'
import { useMaterials } from './materials.ts'
import { mergedShapes, mergedThinShapes } from './meshSpans.ts'
import { openingBehind } from './openings.ts'
import { PAPER, WHITE } from './palette.ts'
import { nearestMarker, pick } from './pick.ts'
import type { Hit } from './pick.ts'
import { SceneFrameContext } from './sceneFrame.ts'
import { inFocus } from './selection.ts'
import type { CameraAsk, CameraOrder, Selection } from './selection.ts'
import { useRunDrawables, useStill } from './useRunDrawables.ts'
import { useStrongContrast } from './useStrongContrast.ts'

// wanted only once something is picked out, so it comes after the first picture, and without waiting to be asked for
const loadPointing = () => import('./Pointing.tsx')
const Pointing = lazy(async () => ({ default: (await loadPointing()).Pointing }))
const WarmUp = lazy(async () => ({ default: (await import('./WarmUp.tsx')).WarmUp }))

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
  /** after every drawn frame */
  readonly onDrawn?: () => void
  /** something else lies over it: nothing is drawn until it is seen again */
  readonly isHidden?: boolean
  /** the first picture has been drawn: ways of drawing that it did without may be made */
  readonly isSettled?: boolean
  /** of the place that is open: asked before the camera turns and before anything is picked out */
  readonly hand?: Hand
  /** how each kind of thing is drawn; as usual when left out */
  readonly drawing?: Drawing
  /** a plane that cuts the picture away: nothing beyond it is touched (Overlay.tsx leaves it undrawn) */
  readonly cut?: Cut | null
  /** ids of runs that are drawn faint: their courses are about to go, or they are not in yet */
  readonly faintRuns?: ReadonlySet<string>
  /** drawn in the void as well (useSceneFrame tells them where things lie) */
  readonly children?: ReactNode
}

const NONE: ReadonlySet<string> = new Set()
const FOV_DEG = 32
/** a pointer that moved farther than this was turning the view, CSS px */
const STILL_PX = 7
const FINGER_PX = 30
const POINTER_PX = 20
/** what lies in the plane of a cut is seen, mm */
const ON_PLANE_MM = 0.01

/** The void in 3D: props in, events out. Keys when it has the focus: arrows turn it, + and - bring it nearer and farther. */
export function VoidView(props: VoidViewProps) {
  const wrapper = useRef<HTMLDivElement>(null)
  const tags = useRef<HTMLDivElement>(null)
  const probe = useRef<Probe>(null)
  const pressed = useRef<{ x: number, y: number, id: number, taken?: boolean } | null>(null)
  const { onSelect, hand } = props
  const isStrong = useStrongContrast()

  const still = useStill(props.assembly)
  const frame = useSameFrame(useMemo(() => frameOf(still), [still]))

  const touchOf = (event: ReactPointerEvent): Touch | null => {
    const box = wrapper.current?.getBoundingClientRect()
    return box === undefined ? null : probe.current?.(event.clientX - box.left, event.clientY - box.top, event.pointerType !== 'touch') ?? null
  }
  /** Before the camera hears of it. */
  const take = (event: ReactPointerEvent): void => {
    if (hand?.press === undefined || !event.isPrimary || event.button !== 0) return
    const touch = touchOf(event)
    if (touch === null || !hand.press(touch)) return
    event.stopPropagation()
    wrapper.current?.setPointerCapture(event.pointerId)
    wrapper.current?.focus({ preventScroll: true })
    pressed.current = { x: event.clientX, y: event.clientY, id: event.pointerId, taken: true }
  }
  const press = (event: ReactPointerEvent): void => {
    pressed.current = event.isPrimary ? { x: event.clientX, y: event.clientY, id: event.pointerId } : null
  }
  const move = (event: ReactPointerEvent): void => {
    const isTaken = pressed.current?.taken === true && pressed.current.id === event.pointerId
    const listens = isTaken ? hand?.drag : event.buttons === 0 && event.pointerType !== 'touch' ? hand?.hover : undefined
    const touch = listens === undefined ? null : touchOf(event)
    if (touch !== null) listens?.(touch)
  }
  const lift = (event: ReactPointerEvent): void => {
    const from = pressed.current
    pressed.current = null
    if (from === null || from.id !== event.pointerId || event.button !== 0) return
    if (from.taken === true) {
      hand?.drop?.()
      return
    }
    if (Math.hypot(event.clientX - from.x, event.clientY - from.y) > STILL_PX) return
    const touch = touchOf(event)
    if (touch !== null && hand?.tap?.(touch) !== true) onSelect(touch.pick())
  }
  const giveUp = (): void => {
    if (pressed.current?.taken === true) hand?.cancel?.()
    pressed.current = null
  }

  return (
    <div ref={wrapper} className="void-view" role="application" tabIndex={0}
      aria-label="The void in 3D. Arrow keys turn it, plus and minus bring it nearer and farther."
      onPointerDownCapture={take} onPointerDown={press} onPointerMove={move} onPointerUp={lift} onPointerCancel={giveUp} onPointerLeave={({ pointerType }) => { if (pointerType !== 'touch') hand?.hover?.(null) }}
      onKeyDown={(event) => {
        if (hand?.key?.(event, rightOf(wrapper.current)) === true) event.preventDefault()
        else turnByKey(event, props.onOrder)
      }}>
      <SceneCanvas fovDeg={FOV_DEG} isHidden={props.isHidden} onCreated={({ gl }) => { gl.setClearColor(isStrong ? WHITE : PAPER) }}>
        <Contents {...props} isStrong={isStrong} still={still} frame={frame} tags={tags} probe={probe} />
        <DrawMeter on={wrapper} frame={frame} onDrawn={props.onDrawn} />
      </SceneCanvas>
      <div ref={tags} className="void-tags" />
    </div>
  )
}

/** What is to the right in the picture, level, as DrawMeter last told it. */
function rightOf(wrapper: HTMLElement | null): Xyz {
  const [eye, target] = [wrapper?.dataset.eye, wrapper?.dataset.target].map((text) => (text ?? '').split(' ').map(Number))
  const x = target[0] - eye[0], y = target[1] - eye[1], size = Math.hypot(x, y)
  return size > 0 ? [y / size, -x / size, 0] : [1, 0, 0]
}

/** The frame as it was for as long as it says the same, so that the camera stays where it is. */
function useSameFrame(frame: Frame): Frame {
  const kept = useRef(frame)
  if (kept.current.boundsMm.some((value, i) => value !== frame.boundsMm[i])) kept.current = frame
  return kept.current
}

/** What lies at a place of the view, CSS px from its top left corner. */
type Probe = (x: number, y: number, canHover: boolean) => Touch

interface ContentsProps extends VoidViewProps {
  /** the assembly as it was before only runs changed */
  readonly still: Assembly
  readonly frame: Frame
  readonly isStrong: boolean
  readonly tags: RefObject<HTMLDivElement | null>
  readonly probe: RefObject<Probe | null>
}

function Contents({ assembly, still, findings, shown, selection, tag, order, covered, frame, isStrong, tags, probe, children, drawing = AS_USUAL, cut = null, faintRuns = NONE, isSettled = false }: ContentsProps) {
  const get = useThree((state) => state.get)
  const invalidate = useThree((state) => state.invalidate)
  const gl = useThree((state) => state.gl)
  useEffect(() => { gl.setClearColor(isStrong ? WHITE : PAPER) }, [gl, isStrong])
  const chunks = useMemo(() => boxChunksOf(still, frame, false, drawing), [still, frame, drawing])
  const hasFaint = faintRuns.size > 0, selectedId = selection?.kind === 'run' ? selection.runId : null
  const apart = useMemo(() => hasFaint ? faintRuns : selectedId === null ? NONE : new Set([selectedId]), [hasFaint, faintRuns, selectedId])
  const { others: runs, active } = useRunDrawables(assembly, frame, apart)
  const shapes = useDrawable(mergedShapes, still, frame, drawing)
  const thinChunks = useMemo(() => boxChunksOf(still, frame, true, drawing), [still, frame, drawing])
  const thinShapes = useDrawable(mergedThinShapes, still, frame, drawing)
  const focus = useMemo(() => inFocus(assembly, findings, selection), [assembly, findings, selection])
  const outlined = useMemo(() => drawing === AS_USUAL ? undefined
    : Array.from({ length: still.solids.count }, (_, i) => i).filter((i) => drawing(still.parts.classOf(i)) !== 'none'), [still, drawing])
  const runsAs = drawing('duct')
  const materials = useMaterials()
  const faded = selection !== null && (focus.runs.length > 0 || focus.solids.length > 0)
  const chosen = selection?.kind === 'finding' ? findings.find(({ id }) => id === selection.id) : undefined
  const chosenId = chosen?.id ?? null

  // a finding in what is cut away, or on a course that is about to go, is not pointed at; the one that was picked out always is
  const seen = useMemo(() => cut === null && !hasFaint ? shown
    : new Set(findings.flatMap(({ id, mark, parts }) => shown.has(id) && !parts.some((part) => faintRuns.has(part.id)) && (cut === null || id === chosen?.id || cutAwayBy(cut, mark.x, mark.y, mark.z) <= ON_PLANE_MM) ? [id] : [])), [cut, findings, shown, chosen, hasFaint, faintRuns])

  useEffect(() => {
    const ray = new Raycaster()
    const spot = new Vector3()
    probe.current = (x, y, canHover) => {
      const { camera, size } = get()
      camera.updateMatrixWorld()
      const toPx = (placeMm: Xyz): [number, number] | null => {
        spot.set(...toScene(frame, ...placeMm)).project(camera)
        return spot.z > 1 ? null : [(spot.x + 1) / 2 * size.width, (1 - spot.y) / 2 * size.height]
      }
      ray.setFromCamera(new Vector2(x / size.width * 2 - 1, 1 - y / size.height * 2), camera)
      const { origin, direction } = ray.ray
      const siteRay = { from: toSiteMm(frame, origin.x, origin.y, origin.z), direction: direction.toArray() as [number, number, number] }
      const reachPx = canHover ? POINTER_PX : FINGER_PX
      const pickHere = (): Selection | null => {
        // what lies under another mark is not seen, so it is not touched
        const pixels = marksOnScreen(findings, frame, camera, size.width, size.height)
        const leads = groupMarks(pixels, marksInOrder(findings, seen, chosenId), apartPx(grownAt(get(), findings.length), isNarrowPicture(size.width))).map(({ lead }) => lead)
        const nearest = nearestMarker(leads.flatMap((lead) => [pixels[2 * lead], pixels[2 * lead + 1]]), x, y, reachPx)
        const marker = nearest < 0 ? -1 : leads[nearest]
        if (marker >= 0) return { kind: 'finding', id: findings[marker].id }
        const seenRay = cut === null ? siteRay : keptRay(cut, siteRay)
        if (seenRay === null) return null
        const isSeen = (at: Xyz): boolean => cut === null || cutAwayBy(cut, ...at) <= ON_PLANE_MM
        const drawnAs = (solid: number) => drawing(assembly.parts.classOf(solid))
        // what stands round the void is only picked where nothing in it is
        const tubes = runsAs === 'none' ? [] : [...runs.mesh.spans, ...active.mesh.spans]
        const hit = pick(assembly, tubes, shapes.mesh.spans, seenRay, (solid) => drawnAs(solid) !== 'full')
        if (hit !== null && isSeen(hit.at)) return selectionOf(assembly, hit)
        const opening = openingBehind(assembly, seenRay)
        if (opening !== null && isSeen(opening.at)) return opening
        const round = pick(assembly, [], thinShapes.mesh.spans, seenRay, (solid) => drawnAs(solid) !== 'thin')
        return round === null || !isSeen(round.at) ? null : selectionOf(assembly, round)
      }
      return { x, y, canHover, reachPx, ray: siteRay, toPx, pick: pickHere }
    }
    return () => { probe.current = null }
  }, [assembly, findings, seen, chosenId, frame, runs, active, shapes, thinShapes, drawing, runsAs, cut, get, probe])

  useEffect(() => { invalidate() })

  return (
    <>
      <hemisphereLight args={['#ffffff', '#cdbfa8', 2.1]} position={[0, 0, 1]} />
      <directionalLight intensity={1.5} position={[-4, -7, 10]} />
      <directionalLight intensity={0.5} position={[6, 4, -8]} />
      <Rig frame={frame} order={order} covered={covered} />
      <PencilWeight material={materials.pencil} isStrong={isStrong} />
      {drawing('zone') !== 'none' && <Zones assembly={still} frame={frame} faded={faded || drawing('zone') === 'thin'} />}
      <Boxes chunks={chunks} material={faded ? materials.fadedBoxes : materials.boxes} name="boxes" />
      <PencilLines assembly={still} frame={frame} material={faded ? materials.fadedPencil : materials.pencil} only={outlined} />
      <HoleMouths assembly={still} frame={frame} faded={faded} />
      <Merged of={shapes} material={faded ? materials.fadedMerged : materials.merged} name="shapes" />
      {runsAs !== 'none' && <Merged of={runs} material={faded ? materials.fadedMerged : runsAs === 'thin' ? materials.thinMerged : materials.merged} name="runs" />}
      <Boxes chunks={thinChunks} material={faded ? materials.fadedThinBoxes : materials.thinBoxes} name="thin-boxes" />
      <Merged of={thinShapes} material={faded ? materials.fadedThinMerged : materials.thinMerged} name="thin-shapes" />
      <Focus assembly={still} frame={frame} focus={focus} runs={runs} shapes={shapes} thinShapes={thinShapes} materials={materials} />
      {runsAs !== 'none' && <Merged of={active} material={hasFaint ? faded ? materials.fadedThinMerged : materials.thinMerged : materials.merged} name="active-run" />}
      <Markers findings={findings} shown={seen} chosenId={chosenId} frame={frame} />
      <Suspense fallback={null}>
        {(tag !== null || chosen !== undefined) && <Pointing frame={frame} finding={chosen} tag={tag} tags={tags} />}
      </Suspense>
      {isSettled && <Suspense fallback={null}><WarmUp materials={materials} /></Suspense>}
      <SceneFrameContext value={useMemo(() => ({ frame, tags }), [frame, tags])}>{children}</SceneFrameContext>
    </>
  )
}

function selectionOf(assembly: Assembly, hit: Hit): Selection {
  return hit.kind === 'run'
    ? { kind: 'run', runId: assembly.runs[hit.runIndex].run.id, at: hit.at }
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
