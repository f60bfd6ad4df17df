import { Html } from '@react-three/drei'
import { useMemo } from 'react'
import type { RefObject } from 'react'
import type { Xyz } from './frame.ts'
import { toScene } from './frame.ts'
import { PENCIL, SEVERITY_COLOURS } from './palette.ts'
import { useSceneFrame } from './sceneFrame.ts'
import { WideLine } from './WideLine.tsx'
import { tagPlace } from './tagPlace.ts'

/** From a duct to what it comes nearest to, with how much that is at the pointer. */
export function GapLine({ from, to, at, words, isGood }: {
  readonly from: Xyz, readonly to: Xyz
  /** where the words float */
  readonly at: Xyz
  /** left out where they are told beside the picture */
  readonly words?: string
  readonly isGood: boolean
}) {
  const { frame, tags } = useSceneFrame()
  const points = useMemo(() => [toScene(frame, ...from), toScene(frame, ...to)], [frame, from, to])
  return (
    <>
      <WideLine points={points} widthPx={5} colour={isGood ? PENCIL : SEVERITY_COLOURS.stop} renderOrder={9} />
      {words !== undefined && <Html calculatePosition={tagPlace} portal={tags as RefObject<HTMLElement>} position={toScene(frame, ...at)} zIndexRange={[6, 6]} style={{ pointerEvents: 'none' }}>
        <div className="void-tag void-tag-free void-tag-gap">{words}</div>
      </Html>}
    </>
  )
}
