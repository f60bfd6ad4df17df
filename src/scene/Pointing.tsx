import { Html } from '@react-three/drei'
import { useMemo } from 'react'
import type { RefObject } from 'react'
import type { Finding } from '#checks/finding.ts'
import type { Frame, Xyz } from './frame.ts'
import { toScene } from './frame.ts'
import { PENCIL } from './palette.ts'
import { tagUnderButtons as underButtons } from './tagPlace.ts'
import { WideLine } from './WideLine.tsx'

/** A short name, and where it floats, mm. */
export interface Tag { readonly words: string, readonly at: Xyz }

/** Points at what is picked out: its name, and for a finding the line between its two closest points. */
export function Pointing({ frame, finding, tag, tags }: {
  readonly frame: Frame
  readonly finding: Finding | undefined
  readonly tag: Tag | null
  /** where names are put; Html left to itself stays empty when it is mounted with its canvas */
  readonly tags: RefObject<HTMLDivElement | null>
}) {
  const gap = useMemo(() => finding?.onOther === undefined ? null : [finding.at, finding.onOther].map(({ x, y, z }) => toScene(frame, x, y, z)), [finding, frame])
  return (
    <>
      {gap !== null && <WideLine points={gap} widthPx={4} colour={PENCIL} renderOrder={9} />}
      {tag !== null && (
        <Html calculatePosition={underButtons} portal={tags as RefObject<HTMLElement>} position={toScene(frame, ...tag.at)} zIndexRange={[5, 5]} style={{ pointerEvents: 'none' }}>
          <div className="void-tag">{tag.words}</div>
        </Html>
      )}
    </>
  )
}
