import { memo } from 'react'
import type { Finding } from '#checks/finding.ts'
import { MARK_INK, SHAPE_CORNERS } from '#scene/markerAtlas.ts'
import { PENCIL, SEVERITY_COLOURS } from '#scene/palette.ts'
import { toScreen, type PlanFrame } from './planFrame.ts'
import { isPick, type PlanPick } from './planPick.ts'

/** Findings in the shapes and with the numbers of the list; the worst lies on top. */
export const PlanMarks = memo(({ findings, frame, pick }: { readonly findings: readonly Finding[], readonly frame: PlanFrame, readonly pick: PlanPick | null }) => findings.map((finding, i) => {
  const [x, y] = toScreen(frame, [finding.mark.x, finding.mark.y])
  if (x < -20 || y < -20 || x > frame.widthPx + 20 || y > frame.heightPx + 20) return null
  const { severity } = finding, corners = SHAPE_CORNERS[severity], ink = severity === 'advice' ? PENCIL : '#ffffff'
  const number = String(i + 1), isPicked = isPick(pick, 'finding', finding.id)
  return (
    <g key={finding.id} data-pick={`finding:${finding.id}`} className="plan-mark" transform={`translate(${x} ${y}) scale(${isPicked ? 21 : 15})`}>
      <circle r="1.3" fill="transparent" />
      {corners.length === 0
        ? <circle r="0.95" fill={SEVERITY_COLOURS[severity]} stroke={ink} strokeWidth="0.16" />
        : <polygon points={corners.map(corner => corner.join(',')).join(' ')} fill={SEVERITY_COLOURS[severity]} stroke={ink} strokeWidth="0.12" strokeLinejoin="round" />}
      <text textAnchor="middle" dominantBaseline="central" y="0.04" style={{ fill: MARK_INK[severity], fontSize: number.length > 2 ? 0.7 : 0.9, fontWeight: 700 }}>{number}</text>
    </g>
  )
}).toReversed())
