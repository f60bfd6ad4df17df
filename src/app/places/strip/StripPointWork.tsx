import { pointAt } from '#geometry/curve/measure.ts'
import { titleOf } from '#checks/wording.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { amountWords } from '../../words.ts'
import { TypedLength } from '../looking/TypedLength.tsx'
import { useViewing } from '../looking/viewing.ts'
import { addPoint, movePoint, removePoint } from '../thread/points.ts'
import { leastWords, useThreading } from '../thread/threading.ts'
import { movedOnStrip, newPointAt, stripPointsOf } from './stripPoints.ts'
import type { Unrolled } from './unrolled.ts'

/** Beside the strip: the chosen point by its numbers, one more, one less, and what is wrong with the run while it is pulled. */
export function StripPointWork({ unrolled: { checks, runIndex } }: { readonly unrolled: Unrolled }) {
  const { placed } = checks.runs[runIndex]
  const { run, centreline } = placed
  const chosen = useThreading((now) => now.point)
  const least = useThreading((now) => now.least)
  const said = useThreading((now) => now.said)
  const stationMm = useViewing((now) => now.stationMm)
  const findings = useBench((now) => now.verdict?.findings)
  const own = (findings ?? []).filter(({ parts }) => parts.some(({ id }) => id === run.id))
  const points = stripPointsOf(placed)
  const point = chosen?.runId === run.id ? points.at(chosen.index) : undefined
  const isLocked = run.locked === true
  const isEnd = point !== undefined && (point.index === 0 || point.index === points.length - 1)
  const move = (alongMm: number, heightMm: number): void => {
    if (point !== undefined) movePoint(run.id, point.index, movedOnStrip(run.waypoints.map(({ at }) => at), point.index, alongMm, heightMm))
  }
  const add = (): void => {
    const at = [0, 0, 0]
    pointAt(centreline, stationMm, at)
    addPoint(run.id, newPointAt(points, stationMm), [at[0], at[1], at[2]])
  }
  return (
    <section className="looking-group strip-point-work" aria-label="Points of the run">
      <h3>{point === undefined ? 'Its points' : `Point ${point.index + 1}${isEnd ? point.index === 0 ? ', its start' : ', its end' : ''}`}</h3>
      {isLocked ? (
        <div className="looking-note">
          <p>{run.name} is locked: its points stay where they are.</p>
          <button type="button" className="button" onClick={() => { bench.perform({ do: 'lock-run', id: run.id, locked: false }) }}>Unlock it</button>
        </div>
      ) : point === undefined ? <p className="quiet">Pull a numbered square on the strip, or choose one and use the arrow keys: 5 mm, with Shift 50 mm.</p> : (
        <div className="looking-pair">
          <TypedLength key={`h${point.index}`} label="Height above datum" valueMm={point.heightMm} negative onMm={(mm) => { if (mm !== null) move(0, mm) }} />
          <TypedLength key={`a${point.index}`} label="Along the run" valueMm={Math.round(point.stationMm * 10) / 10} onMm={(mm) => { if (mm !== null) move(mm - point.stationMm, point.heightMm) }} />
        </div>
      )}
      {point !== undefined && <p className="strip-least"><b>{least === null ? 'Nothing is near it.' : leastWords(least)}</b>{least !== null && least.requiredMm > 0 ? `; ${least.requiredMm} mm asked` : ''}</p>}
      {!isLocked && (
        <div className="looking-buttons">
          <button type="button" className="button" onClick={add}>Add a point at the pointer</button>
          {point !== undefined && <button type="button" className="button" disabled={isEnd} onClick={() => { removePoint(run.id, point.index) }}>Take it away</button>}
        </div>
      )}
      <p role="status" className="strip-said">{said}</p>
      {own.length === 0 ? <p className="strip-good">{'\u2713'} Nothing to change on it</p> : (
        <ul className="strip-faults" aria-label={`To change on ${run.name}`}>
          {own.slice(0, MOST_TOLD).map((finding) => <li key={finding.id}>{'\u2717'} {titleOf(finding)}: {amountWords(finding)}</li>)}
          {own.length > MOST_TOLD && <li>and {own.length - MOST_TOLD} more</li>}
        </ul>
      )}
    </section>
  )
}

const MOST_TOLD = 4
