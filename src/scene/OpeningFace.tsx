import { Html } from '@react-three/drei'
import { useEffect, useMemo } from 'react'
import type { RefObject } from 'react'
import { BufferAttribute, BufferGeometry, DoubleSide } from 'three'
import type { PlacedJoist } from '#assembly/assembly.ts'
import type { Xyz } from './frame.ts'
import { toScene } from './frame.ts'
import { PENCIL, SEVERITY_COLOURS, TAPE } from './palette.ts'
import { useSceneFrame } from './sceneFrame.ts'
import { WideLine } from './WideLine.tsx'
import { tagPlace } from './tagPlace.ts'

const SIDES = 40

/** An opening that is pointed at, filled, with the duct drawn in it where it would go and what it has to spare beside it. */
export function OpeningFace({ joist, number, words, fits, ductAt, ductDiameterMm }: {
  readonly joist: PlacedJoist
  readonly number: number
  readonly words: string
  readonly fits: boolean
  /** its middle, mm on site */
  readonly ductAt: Xyz
  readonly ductDiameterMm: number
}) {
  const { frame, tags } = useSceneFrame()
  const { face, edge, ring } = useMemo(() => {
    const site = (x: number, y: number): [number, number, number] => toScene(frame, joist.origin[0] + joist.along[0] * x, joist.origin[1] + joist.along[1] * x, joist.origin[2] + y)
    const v = joist.openings.find((one) => one.number === number)?.opening.verticesXy ?? []
    const corners = Array.from({ length: v.length / 2 }, (_, i) => site(v[2 * i], v[2 * i + 1]))
    const face = new BufferGeometry()
    face.setAttribute('position', new BufferAttribute(Float32Array.from(corners.flat()), 3))
    // openings are convex
    face.setIndex(Array.from({ length: Math.max(0, corners.length - 2) }, (_, i) => [0, i + 1, i + 2]).flat())
    const radius = ductDiameterMm / 2
    const ring = Array.from({ length: SIDES + 1 }, (_, i) => {
      const c = radius * Math.cos(2 * Math.PI * i / SIDES), s = radius * Math.sin(2 * Math.PI * i / SIDES)
      return toScene(frame, ductAt[0] + joist.along[0] * c, ductAt[1] + joist.along[1] * c, ductAt[2] + s)
    })
    return { face, edge: [...corners, ...corners.slice(0, 1)], ring }
  }, [frame, joist, number, ductAt, ductDiameterMm])
  useEffect(() => () => { face.dispose() }, [face])
  return (
    <>
      <mesh geometry={face} renderOrder={5} name="opening-face" dispose={null}>
        <meshBasicMaterial color={fits ? TAPE : SEVERITY_COLOURS.stop} transparent opacity={0.75} depthTest={false} depthWrite={false} side={DoubleSide} forceSinglePass />
      </mesh>
      {[edge, ring].map((points, i) => points.length > 1 && <WideLine key={i} points={points} widthPx={4} colour={PENCIL} renderOrder={6} />)}
      <Html calculatePosition={tagPlace} portal={tags as RefObject<HTMLElement>} position={toScene(frame, ...ductAt)} zIndexRange={[5, 5]} style={{ pointerEvents: 'none' }}>
        <div className="void-tag void-tag-free">{words}</div>
      </Html>
    </>
  )
}
