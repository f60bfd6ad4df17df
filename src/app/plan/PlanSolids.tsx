import { memo, useMemo } from 'react'
import type { Job } from '#model/index.ts'
import { colourOfClass, isFaint } from '#scene/palette.ts'
import { footprintOf, sleeveRing } from './outlines.ts'
import { isPick, type PlanPick } from './planPick.ts'
import { linePath, ringsPath } from './svgPath.ts'

/** @param isRound what stands round the void (walls, slabs, linings) rather than in it, which is drawn first */
export const PlanSolids = memo(({ solids, sleeves, pick, isRound = false }: {
  readonly solids: Job['solids'], readonly sleeves: Job['sleeves'], readonly pick: PlanPick | null, readonly isRound?: boolean
}) => {
  const drawn = useMemo(() => solids.filter(solid => isFaint(solid.class) === isRound && (solid.class !== 'slab' || !isRound || solid.shape.kind !== 'prism'))
    .map(({ id, class: kind, shape }) => ({ id, kind, print: footprintOf(shape) })), [solids, isRound])
  return (
    <>
      {drawn.map(({ id, kind, print }) => (
        <g key={id} data-pick={`solid:${id}`} data-class={kind} className={isPick(pick, 'solid', id) ? 'plan-solid is-picked' : 'plan-solid'}>
          {print.kind === 'area'
            ? <path d={ringsPath(print.rings)} fill={colourOfClass(kind)} fillRule="evenodd" />
            : <>
                <path className="plan-line" d={linePath(print.points)} stroke={colourOfClass(kind)} strokeWidth={print.widthMm} />
                <path className="plan-axis" d={linePath(print.points)} />
                <path className="plan-reach" d={linePath(print.points)} />
              </>}
        </g>
      ))}
      {!isRound && sleeves.map(sleeve => (
        <g key={sleeve.id} data-pick={`sleeve:${sleeve.id}`} className={isPick(pick, 'sleeve', sleeve.id) ? 'plan-solid plan-sleeve is-picked' : 'plan-solid plan-sleeve'}>
          <path d={ringsPath([sleeveRing(sleeve)])} fill={colourOfClass('sleeve')} />
        </g>
      ))}
    </>
  )
})
