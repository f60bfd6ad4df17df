import { useMemo } from 'react'
import { GhostBox } from '#scene/GhostBox.tsx'
import { OpeningFace } from '#scene/OpeningFace.tsx'
import { Spots } from '#scene/Spots.tsx'
import type { Spot } from '#scene/Spots.tsx'
import { useBench } from '../../editing/useBench.ts'
import { useSnapping } from '../../plan/snapping.ts'

/** Every spigot to be tapped; and of the one in hand what it would look through, and where its piece would stand. */
export default function InTheVoid() {
  const assembly = useBench((now) => now.assembly)
  const { spigot, shown } = useSnapping((now) => now)
  const spots = useMemo((): Spot[] => (assembly?.spigots ?? []).flatMap(({ at, equipment, spigot: { id } }): Spot[] =>
    spigot === null ? [{ at, shape: 'ring' }] : equipment.id !== spigot.equipmentId ? [] : [{ at, shape: id === spigot.spigotId ? 'held' : 'ring' }]), [assembly, spigot])
  if (assembly === null) return null
  const equipment = assembly.job.equipment.find(({ id }) => id === spigot?.equipmentId)
  const joist = shown?.target.kind === 'opening' ? assembly.joists.find(({ id }) => shown.target.kind === 'opening' && id === shown.target.joistId) : undefined
  const diameterMm = equipment?.spigots.find(({ id }) => id === spigot?.spigotId)?.diameterMm ?? 0
  return (
    <>
      <Spots spots={spots} />
      {shown !== null && equipment !== undefined && <GhostBox centre={shown.snap.centre} sizeMm={equipment.sizeMm} rotationDeg={equipment.rotationDeg} from={shown.snap.mouth} to={shown.snap.target} />}
      {shown?.target.kind === 'opening' && joist !== undefined && (
        <OpeningFace joist={joist} number={shown.target.opening} fits ductAt={shown.snap.target} ductDiameterMm={diameterMm} words={`${joist.name}, opening ${shown.target.opening}`} />
      )}
    </>
  )
}
