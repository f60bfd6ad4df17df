import { Html, Line } from '@react-three/drei'
import type { RefObject } from 'react'
import type { Xyz } from './frame.ts'
import { toScene } from './frame.ts'
import { PENCIL, SEVERITY_COLOURS } from './palette.ts'
import { useSceneFrame } from './sceneFrame.ts'

/** From a duct to what it comes nearest to, with how much that is at the pointer. */
export function GapLine({ from, to, at, words, isGood }: {
  readonly from: Xyz, readonly to: Xyz
  /** where the words float */
  readonly at: Xyz
  readonly words: string
  readonly isGood: boolean
}) {
  const { frame, tags } = useSceneFrame()
  return (
    <>
      <Line points={[toScene(frame, ...from), toScene(frame, ...to)]} lineWidth={5} color={isGood ? PENCIL : SEVERITY_COLOURS.stop} depthTest={false} transparent renderOrder={9} />
      <Html portal={tags as RefObject<HTMLElement>} position={toScene(frame, ...at)} zIndexRange={[6, 6]} style={{ pointerEvents: 'none' }}>
        <div className="void-tag void-tag-gap">{words}</div>
      </Html>
    </>
  )
}
