import { useFrame, useThree } from '@react-three/fiber'
import { useEffect, useMemo, useRef } from 'react'
import { BufferAttribute, BufferGeometry, DoubleSide, Quaternion, Vector3 } from 'three'
import type { Group } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import { CutAway } from './CutAway.tsx'
import type { Extras, Ring, TapeLine } from './extras.ts'
import type { Frame } from './frame.ts'
import { toScene, toSceneLength, toSiteMm } from './frame.ts'
import { GhostRuns } from './GhostRuns.tsx'
import { AS_USUAL } from './kinds.ts'
import { Labels } from './Labels.tsx'
import { pxToMetre } from './nearness.ts'
import type { OpeningTint } from './openingSteps.ts'
import { tintedOpenings } from './openingSteps.ts'
import { PENCIL } from './palette.ts'
import { useSceneFrame } from './sceneFrame.ts'
import { WideLine } from './WideLine.tsx'

const TAPE = '#f4c531'

/** All that the places of the workshop draw in the void; a child of VoidView, which is given the same cut and drawing. */
export function Overlay({ extras, assembly }: { readonly extras: Extras, readonly assembly: Assembly }) {
  const { cut, tints, ring, tape, ghosts, labels, lookNow, drawing = AS_USUAL } = extras
  const { frame, tags } = useSceneFrame()
  const allLabels = useMemo(() => withTape(labels, tape), [labels, tape])
  const get = useThree((state) => state.get)
  useEffect(() => {
    if (lookNow === undefined) return
    lookNow.read = () => {
      const { camera, controls } = get()
      const target = (controls as unknown as { getTarget?: (out: Vector3) => Vector3 } | null)?.getTarget?.(new Vector3()) ?? new Vector3()
      return { eyeMm: toSiteMm(frame, ...camera.position.toArray()), targetMm: toSiteMm(frame, ...target.toArray()) }
    }
    return () => { lookNow.read = null }
  }, [lookNow, get, frame])
  return (
    <>
      <CutAway cut={cut ?? null} assembly={assembly} frame={frame} drawing={drawing} />
      {tints !== undefined && tints.length > 0 && <Tints assembly={assembly} frame={frame} tints={tints} />}
      {ring != null && <RunRing ring={ring} frame={frame} />}
      {tape != null && <TapeBetween tape={tape} frame={frame} />}
      {ghosts != null && <GhostRuns ghosts={ghosts} assembly={assembly} frame={frame} />}
      <Labels labels={allLabels} cut={cut ?? null} frame={frame} tags={tags} />
    </>
  )
}

const NO_LABELS: NonNullable<Extras['labels']> = []

function withTape(labels: Extras['labels'], tape: TapeLine | null | undefined): NonNullable<Extras['labels']> {
  if (tape == null) return labels ?? NO_LABELS
  const { from, to, words } = tape
  const middle = [0, 1, 2].map((k) => (from[k] + to[k]) / 2) as unknown as TapeLine['from']
  return [...labels ?? NO_LABELS, { id: 'tape', words, anchors: [middle, from, to], weight: 1_000, look: 'void-label-tape' }]
}

function Tints({ assembly, frame, tints }: { readonly assembly: Assembly, readonly frame: Frame, readonly tints: readonly OpeningTint[] }) {
  const geometry = useMemo(() => {
    const { positions, colours, indices } = tintedOpenings(assembly, frame, tints)
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(positions, 3))
    made.setAttribute('color', new BufferAttribute(colours, 3))
    made.setIndex(new BufferAttribute(indices, 1))
    return made
  }, [assembly, frame, tints])
  useEffect(() => () => { geometry.dispose() }, [geometry])
  return (
    <mesh geometry={geometry} name="tinted-openings" dispose={null}>
      <meshBasicMaterial vertexColors side={DoubleSide} transparent opacity={0.85} depthWrite={false} forceSinglePass />
    </mesh>
  )
}

/** clear of the duct, and how thick, mm */
const RING_OFF_MM = 14, RING_MM = 9, RING_RIM_MM = 15
/** from afar it is drawn larger than it is, so that it is always found: its radius on the screen, CSS px */
const LEAST_RING_PX = 20

function RunRing({ ring: { at, direction, radiusMm }, frame }: { readonly ring: Ring, readonly frame: Frame }) {
  const turn = useMemo(() => new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), new Vector3(...direction).normalize()), [direction])
  const ring = useRef<Group>(null)
  useFrame((state) => {
    const px = pxToMetre(state) * toSceneLength(radiusMm + RING_OFF_MM)
    if (ring.current !== null && px > 0) ring.current.scale.setScalar(Math.max(1, LEAST_RING_PX / px))
  })
  return (
    <group ref={ring} position={toScene(frame, ...at)} quaternion={turn} name="run-ring">
      <mesh renderOrder={7}>
        <torusGeometry args={[toSceneLength(radiusMm + RING_OFF_MM), toSceneLength(RING_RIM_MM), 8, 40]} />
        <meshBasicMaterial color={PENCIL} depthTest={false} transparent />
      </mesh>
      <mesh renderOrder={8}>
        <torusGeometry args={[toSceneLength(radiusMm + RING_OFF_MM), toSceneLength(RING_MM), 8, 40]} />
        <meshBasicMaterial color={TAPE} depthTest={false} transparent />
      </mesh>
    </group>
  )
}

function TapeBetween({ tape: { from, to }, frame }: { readonly tape: TapeLine, readonly frame: Frame }) {
  const points = useMemo(() => [toScene(frame, ...from), toScene(frame, ...to)], [frame, from, to])
  return (
    <group name="tape">
      <WideLine points={points} widthPx={9} colour={PENCIL} renderOrder={9} />
      <WideLine points={points} widthPx={5} colour={TAPE} renderOrder={10} />
      {points.map((point, i) => (
        <mesh key={i} position={point} renderOrder={11}>
          <sphereGeometry args={[toSceneLength(9), 12, 8]} />
          <meshBasicMaterial color={PENCIL} depthTest={false} transparent />
        </mesh>
      ))}
    </group>
  )
}
