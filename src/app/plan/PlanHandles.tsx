import type { Job, Point2 } from '#model/index.ts'
import { mmText } from '../figures.ts'
import { toScreen, type PlanFrame } from './planFrame.ts'
import { nameOfPick, type PlanCorner } from './planPick.ts'

/** a thumb in a glove */
const GRIP_PX = 22

/** The corners of what is picked out, each to be dragged or moved with the arrow keys; and how long the sides are. */
export function PlanHandles({ corners, frame, job }: { readonly corners: readonly (PlanCorner & { readonly at: Point2 })[], readonly frame: PlanFrame, readonly job: Job }) {
  return (
    <g className="plan-handles">
      {corners.map((here, i) => {
        const next = corners.find(({ ring, corner }) => ring === here.ring && corner === here.corner + 1) ?? corners.find(({ ring, corner }) => ring === here.ring && corner === 0)!
        return <Side key={`side${i}`} from={here.at} to={next.at} frame={frame} />
      })}
      {corners.map(({ of, ring, corner, at }) => {
        const [x, y] = toScreen(frame, at)
        return (
          <g key={`${ring} ${corner}`} className="plan-handle" data-corner={`corner ${ring} ${corner}`} transform={`translate(${x} ${y})`} role="button" tabIndex={0}
            aria-label={`Corner ${corner + 1} of ${nameOfPick(job, of)}: x ${mmText(at[0])}, y ${mmText(at[1])}. Arrow keys move it.`}>
            <circle r={GRIP_PX} fill="transparent" />
            <rect className="plan-handle-mark" x="-8" y="-8" width="16" height="16" />
          </g>
        )
      })}
    </g>
  )
}

/** The length of a side, beside its middle; left out where there is no room for it. */
function Side({ from, to, frame }: { readonly from: Point2, readonly to: Point2, readonly frame: PlanFrame }) {
  const a = toScreen(frame, from), b = toScreen(frame, to)
  const longPx = Math.hypot(b[0] - a[0], b[1] - a[1])
  if (longPx < 90) return null
  return <text className="plan-length" x={(a[0] + b[0]) / 2} y={(a[1] + b[1]) / 2} textAnchor="middle" dominantBaseline="central">{mmText(Math.hypot(to[0] - from[0], to[1] - from[1]))}</text>
}
