import { memo, useMemo } from 'react'
import type { PlacedJoist } from '#assembly/assembly.ts'
import { webMembers } from '#assembly/openWeb.ts'
import { widthOf } from '#commands/joistFields.ts'
import type { Point2 } from '#model/index.ts'
import { isPick, type PlanPick } from './planPick.ts'
import { linePath, ringsPath } from './svgPath.ts'

/** Joists with their webs hinted: a zigzag across the joist, its points at the nodes, bottom nodes on the right-hand side. */
export const PlanJoists = memo(({ joists, pick, isNear }: { readonly joists: readonly PlacedJoist[], readonly pick: PlanPick | null, readonly isNear: boolean }) => {
  const drawn = useMemo(() => joists.map(joist => ({ id: joist.id, fieldId: joist.field.id, body: bodyPath(joist), axis: axisPath(joist), joist })), [joists])
  return drawn.map(({ id, fieldId, body, axis, joist }) => (
    <g key={id} data-pick={`joist:${id}`} className={isPick(pick, 'joist', id) || isPick(pick, 'field', fieldId) ? 'plan-joist is-picked' : 'plan-joist'}>
      <path d={body} />
      {isNear && <path className="plan-webs" d={websPath(joist)} />}
      <path className="plan-reach" d={axis} />
    </g>
  ))
})

function siteOf({ origin, along, across }: PlacedJoist, x: number, n: number): Point2 {
  return [origin[0] + along[0] * x + across[0] * n, origin[1] + along[1] * x + across[1] * n]
}

function bodyPath(joist: PlacedJoist): string {
  const half = widthOf(joist.section) / 2, { lengthMm } = joist
  return ringsPath([[siteOf(joist, 0, -half), siteOf(joist, lengthMm, -half), siteOf(joist, lengthMm, half), siteOf(joist, 0, half)]])
}

function axisPath(joist: PlacedJoist): string {
  return linePath([siteOf(joist, 0, 0), siteOf(joist, joist.lengthMm, 0)])
}

function websPath(joist: PlacedJoist): string {
  const { section, field, lengthMm } = joist
  if (section.kind !== 'open-web') return ''
  const half = section.chordWidthMm / 2
  const side = (y: number): number => y > section.depthMm / 2 ? half : -half
  return webMembers(section, field, joist.joist, lengthMm).map(({ x0, y0, x1, y1 }) => linePath([siteOf(joist, x0, side(y0)), siteOf(joist, x1, side(y1))])).join('')
}
