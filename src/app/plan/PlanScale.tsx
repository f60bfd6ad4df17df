import { toScreen, type PlanFrame } from './planFrame.ts'
import { scaleBar } from './scaleBar.ts'

const EDGE_PX = 16

/** How long things are, and where 0, 0 is. */
export function PlanScale({ frame }: { readonly frame: PlanFrame }) {
  const { lengthPx, words } = scaleBar(frame.pxPerMm, Math.min(220, frame.widthPx * 0.4))
  const [x, y] = toScreen(frame, [0, 0])
  const foot = frame.heightPx - EDGE_PX
  return (
    <g className="plan-scale" pointerEvents="none">
      <g className="plan-datum" transform={`translate(${x} ${y})`}>
        <circle r="9" />
        <path d="M-16 0H16M0-16V16" />
        <path className="plan-datum-dark" d="M0 0V-9A9 9 0 0 1 9 0ZM0 0V9A9 9 0 0 1-9 0Z" />
        <text x="14" y="24">datum 0, 0</text>
      </g>
      <g transform={`translate(${EDGE_PX} ${foot})`}>
        <rect className="plan-scale-paper" x="-8" y="-34" width={lengthPx + 16} height="44" rx="6" />
        <path className="plan-scale-bar" d={`M0 0V-8H${lengthPx}V0M${lengthPx / 2} -8V-3`} />
        <text x={lengthPx / 2} y="-14" textAnchor="middle">{words}</text>
      </g>
    </g>
  )
}
