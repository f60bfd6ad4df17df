import { memo } from 'react'
import type { Finding } from '#checks/finding.ts'
import { MARK_INK, SHAPE_CORNERS } from '#scene/markerAtlas.ts'
import { MORE_WORDS, groupMarks, moreStep, type MarkGroup } from '#scene/groupMarks.ts'
import { PENCIL, SEVERITY_COLOURS, WHITE } from '#scene/palette.ts'
import type { Box } from './names.ts'
import { toScreen, type PlanFrame } from './planFrame.ts'
import { isPick, type PlanPick } from './planPick.ts'

/** scale of a mark, and of the one that is picked out, px; marks nearer than this to each other stand as one, px */
const MARK = 15, PICKED = 21, APART_PX = 26

/** Findings in the shapes and with the numbers of the list; the worst lies on top, with how many more lie under it. */
export const PlanMarks = memo(({ findings, frame, pick }: { readonly findings: readonly Finding[], readonly frame: PlanFrame, readonly pick: PlanPick | null }) => {
  const { at, groups, picked } = marksInPlan(findings, frame, pick)
  return groups.toReversed().map(({ lead, more }) => (
    <Mark key={findings[lead].id} finding={findings[lead]} number={String(lead + 1)} x={at[2 * lead]} y={at[2 * lead + 1]} more={more} isPicked={lead === picked} />
  ))
})

/** Where marks and their badges stand: no name is written there. */
export function markBoxes(findings: readonly Finding[], frame: PlanFrame, pick: PlanPick | null): Box[] {
  const { at, groups } = marksInPlan(findings, frame, pick)
  return groups.map(({ lead, more }) => {
    const x = at[2 * lead], y = at[2 * lead + 1]
    return [x - MARK, y - (more > 0 ? 1.6 : 1) * MARK, x + (more > 0 ? 2.1 : 1) * MARK, y + MARK]
  })
}

function marksInPlan(findings: readonly Finding[], frame: PlanFrame, pick: PlanPick | null): { readonly at: readonly number[], readonly groups: readonly MarkGroup[], readonly picked: number } {
  const at = findings.flatMap(({ mark }) => {
    const [x, y] = toScreen(frame, [mark.x, mark.y])
    return x < -20 || y < -20 || x > frame.widthPx + 20 || y > frame.heightPx + 20 ? [NaN, NaN] : [x, y]
  })
  const picked = findings.findIndex(({ id }) => isPick(pick, 'finding', id))
  const order = findings.flatMap((_, i) => i === picked ? [] : [i])
  return { at, groups: groupMarks(at, picked < 0 ? order : [picked, ...order], APART_PX), picked }
}

function Mark({ finding: { id, severity }, number, x, y, more, isPicked }: {
  readonly finding: Finding, readonly number: string, readonly x: number, readonly y: number, readonly more: number, readonly isPicked: boolean
}) {
  const corners = SHAPE_CORNERS[severity], ink = severity === 'advice' ? PENCIL : '#ffffff'
  return (
    <g data-pick={`finding:${id}`} className="plan-mark" transform={`translate(${x} ${y}) scale(${isPicked ? PICKED : MARK})`}>
      <circle r="1.3" fill="transparent" />
      {corners.length === 0
        ? <circle r="0.95" fill={SEVERITY_COLOURS[severity]} stroke={ink} strokeWidth="0.16" />
        : <polygon points={corners.map(corner => corner.join(',')).join(' ')} fill={SEVERITY_COLOURS[severity]} stroke={ink} strokeWidth="0.12" strokeLinejoin="round" />}
      <text textAnchor="middle" dominantBaseline="central" y="0.04" style={{ fill: MARK_INK[severity], fontSize: number.length > 2 ? 0.7 : 0.9, fontWeight: 700 }}>{number}</text>
      {more > 0 && (
        <g data-more={more}>
          <rect x="0.5" y="-1.5" width="1.5" height="1" rx="0.25" fill={WHITE} stroke={PENCIL} strokeWidth="0.12" />
          <text textAnchor="middle" dominantBaseline="central" x="1.25" y="-0.98" style={{ fill: PENCIL, fontSize: 0.78, fontWeight: 700 }}>{MORE_WORDS[moreStep(more)]}</text>
        </g>
      )}
    </g>
  )
}
