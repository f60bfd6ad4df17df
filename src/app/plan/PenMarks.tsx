import { mmText } from '../figures.ts'
import type { Pen } from './pen.ts'
import { toScreen, type PlanFrame } from './planFrame.ts'
import type { Snapped } from './snapPoint.ts'
import { linePath } from './svgPath.ts'

const ARROW_PX = 64

/** The points laid down so far, where the next would go and what it holds to, and the way that a typed length goes. */
export function PenMarks({ pen, hover, frame }: { readonly pen: Pen, readonly hover: Snapped | null, readonly frame: PlanFrame }) {
  const placed = pen.points.map(at => toScreen(frame, at)), last = placed.at(-1)
  const next = hover === null ? null : toScreen(frame, hover.at)
  const inLine = hover?.inLineWith === undefined ? null : toScreen(frame, hover.inLineWith)
  const from = pen.points.at(-1)
  return (
    <g pointerEvents="none">
      {pen.shape === 'ring' && placed.length >= 2 && <path className="plan-pen-area" d={`${linePath(next === null ? placed : [...placed, next])}Z`} />}
      {placed.length >= 2 && <path className="plan-pen-line" d={linePath(placed)} />}
      {inLine !== null && next !== null && <path className="plan-pen-line-up" d={linePath([inLine, next])} />}
      {last !== undefined && next === null && (
        <g transform={`translate(${last[0]} ${last[1]}) rotate(${-Math.atan2(pen.towards[1], pen.towards[0]) * 180 / Math.PI})`}>
          <path className="plan-pen-rubber" d={`M0 0H${ARROW_PX}`} />
          <path className="plan-pen-arrow" d={`M${ARROW_PX + 16} 0L${ARROW_PX} -9V9Z`} />
        </g>
      )}
      {next !== null && (
        <>
          {last !== undefined && (pen.shape === 'box'
            ? <rect className="plan-pen-rubber" x={Math.min(last[0], next[0])} y={Math.min(last[1], next[1])} width={Math.abs(next[0] - last[0])} height={Math.abs(next[1] - last[1])} />
            : <path className="plan-pen-rubber" d={linePath([last, next])} />)}
          <circle className="plan-pen-point" cx={next[0]} cy={next[1]} r="7" />
          <text x={next[0]} y={next[1] - 40} textAnchor="middle">{hover!.words}</text>
          <text className="plan-length" x={next[0]} y={next[1] - 20} textAnchor="middle">
            {from === undefined ? `x ${mmText(hover!.at[0])}, y ${mmText(hover!.at[1])}`
              : pen.shape === 'box' ? `${mmText(Math.abs(hover!.at[0] - from[0]))} by ${mmText(Math.abs(hover!.at[1] - from[1]))}`
                : mmText(Math.hypot(hover!.at[0] - from[0], hover!.at[1] - from[1]))}
          </text>
        </>
      )}
      {placed.map(([x, y], i) => <circle key={i} className={i === 0 ? 'plan-pen-point plan-pen-first' : 'plan-pen-point'} cx={x} cy={y} r={i === 0 ? 10 : 6} />)}
    </g>
  )
}
