import { memo, useMemo } from 'react'
import type { PlacedRun } from '#assembly/assembly.ts'
import { AIR, airOf } from '#scene/air.ts'
import { PLAIN_DUCT } from '#scene/palette.ts'
import { isPick, type PlanPick } from './planPick.ts'
import { pointsAlong } from './runLine.ts'
import { linePath } from './svgPath.ts'

/** Runs as wide as they are, insulation and all, with their centrelines. */
export const PlanRuns = memo(({ runs, pick, faintRuns }: { readonly runs: readonly PlacedRun[], readonly pick: PlanPick | null, readonly faintRuns?: ReadonlySet<string> }) => {
  const drawn = useMemo(() => runs.map((placed) => {
    const air = airOf(placed)
    return { id: placed.run.id, path: linePath(pointsAlong(placed.centreline)), widthMm: 2 * placed.outerRadiusMm, colour: air === undefined ? PLAIN_DUCT : AIR[air].colour }
  }), [runs])
  return drawn.map(({ id, path, widthMm, colour }) => (
    <g key={id} data-pick={`run:${id}`} className={`plan-run${isPick(pick, 'run', id) ? ' is-picked' : ''}${faintRuns?.has(id) === true ? ' is-faint' : ''}`}>
      <path className="plan-line" d={path} stroke={colour} strokeWidth={widthMm} />
      <path className="plan-axis" d={path} />
      <path className="plan-reach" d={path} />
    </g>
  ))
})
