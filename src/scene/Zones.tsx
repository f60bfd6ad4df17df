import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, DoubleSide } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import type { Frame } from './frame.ts'
import { PENCIL, PLASTERBOARD } from './palette.ts'
import { undersidesOf } from './undersides.ts'

/** The ceiling that hangs below the void, thin enough to see the ducts through it from underneath. */
export function Zones({ assembly, frame, faded }: { readonly assembly: Assembly, readonly frame: Frame, readonly faded: boolean }) {
  const { sheet, outline } = useMemo(() => {
    const made = undersidesOf(assembly.zones, frame)
    const sheet = new BufferGeometry(), outline = new BufferGeometry()
    sheet.setAttribute('position', new BufferAttribute(made.positions, 3))
    sheet.setIndex(new BufferAttribute(made.indices, 1))
    outline.setAttribute('position', new BufferAttribute(made.outline, 3))
    return { sheet, outline }
  }, [assembly, frame])
  useEffect(() => () => {
    sheet.dispose()
    outline.dispose()
  }, [sheet, outline])
  if (sheet.getIndex()?.count === 0) return null
  return (
    <>
      <mesh geometry={sheet} renderOrder={-1} name="ceilings" dispose={null}>
        <meshBasicMaterial color={PLASTERBOARD} transparent opacity={0.62} side={DoubleSide} depthWrite={false} />
      </mesh>
      <lineSegments geometry={outline} name="ceiling-edges" dispose={null}>
        <lineBasicMaterial color={PENCIL} transparent opacity={faded ? 0.15 : 0.6} />
      </lineSegments>
    </>
  )
}
