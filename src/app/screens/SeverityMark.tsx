import type { Severity } from '#checks/finding.ts'
import { MARK_INK, SHAPE_CORNERS } from '#scene/markerAtlas.ts'
import { PENCIL, SEVERITY_COLOURS } from '#scene/palette.ts'

/** The same shape that marks a finding in the view, with its number. The word stands beside it wherever it is used. */
export function SeverityMark({ severity, number, size = 34 }: { readonly severity: Severity, readonly number?: number, readonly size?: number }) {
  const corners = SHAPE_CORNERS[severity]
  const ink = severity === 'advice' ? PENCIL : '#ffffff'
  const text = number === undefined ? '' : String(number)
  return (
    <svg className="mark" width={size} height={size} viewBox="-1.2 -1.2 2.4 2.4" aria-hidden="true">
      {corners.length === 0
        ? <circle r="0.95" fill={SEVERITY_COLOURS[severity]} stroke={ink} strokeWidth="0.16" />
        : <polygon points={corners.map((corner) => corner.join(',')).join(' ')} fill={SEVERITY_COLOURS[severity]} stroke={ink} strokeWidth="0.12" strokeLinejoin="round" />}
      {text !== '' && (
        <text textAnchor="middle" dominantBaseline="central" y="0.04" fontSize={text.length > 2 ? 0.7 : 0.9} fontWeight="700" fill={MARK_INK[severity]}>{text}</text>
      )}
    </svg>
  )
}
