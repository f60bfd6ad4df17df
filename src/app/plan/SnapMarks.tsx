import type { Equipment } from '#model/index.ts'
import { useBench } from '../editing/useBench.ts'
import { equipmentRing } from './outlines.ts'
import { toScreen, type PlanFrame } from './planFrame.ts'
import { useSnapping } from './snapping.ts'

/** The spigots of the picked piece; and of the one in hand, where the piece would stand. In screen px. */
export function SnapMarks({ frame, equipment }: { readonly frame: PlanFrame, readonly equipment: Equipment }) {
  const { spigot, shown } = useSnapping((now) => now)
  const spigots = useBench(({ assembly }) => assembly?.spigots)
  const isSnapping = spigot?.equipmentId === equipment.id
  return (
    <g className="plan-snap" pointerEvents="none">
      {(spigots ?? []).filter(({ equipment: { id } }) => id === equipment.id).map(({ spigot: { id }, at }) => {
        const [x, y] = toScreen(frame, [at[0], at[1]])
        return <circle key={id} cx={x} cy={y} r={isSnapping && spigot.spigotId === id ? 11 : 8} className={isSnapping && spigot.spigotId === id ? 'plan-snap-held' : 'plan-snap-spigot'} />
      })}
      {isSnapping && shown !== null && (() => {
        const { centre: [x, y, z], mouth, target } = shown.snap
        const a = toScreen(frame, [mouth[0], mouth[1]]), b = toScreen(frame, [target[0], target[1]])
        return (
          <>
            <polygon className="plan-snap-ghost" points={equipmentRing({ ...equipment, centre: [x, y, z] }).map((at) => toScreen(frame, at).join(',')).join(' ')} />
            <line className="plan-snap-axis" x1={a[0]} y1={a[1]} x2={b[0]} y2={b[1]} />
            <circle className="plan-snap-target" cx={b[0]} cy={b[1]} r="9" />
          </>
        )
      })()}
    </g>
  )
}
