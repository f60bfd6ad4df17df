import type { PlacedRun } from '#assembly/assembly.ts'
import { mm } from '#checks/wording.ts'
import { LengthBox } from './LengthBox.tsx'
import { addPointAfter, choosePoint, movePoint, removePoint, setRadius } from './points.ts'
import { leastWords, threading, useThreading } from './threading.ts'

const LIFTS = [['level', 'Level'], ['upright', 'Up and down']] as const

/** The points of a run: chosen from a list or in the picture, pulled, or placed by number. */
export function PointsWork({ placed }: { readonly placed: PlacedRun }) {
  const point = useThreading((now) => now.point)
  const lift = useThreading((now) => now.lift)
  const { run } = placed
  const chosen = point?.runId === run.id && point.index < run.waypoints.length ? point.index : null
  return (
    <section aria-label="Points">
      <h3>Points</h3>
      <div className="thread-lift" role="group" aria-label="A pulled point moves">
        {LIFTS.map(([value, words]) => (
          <button key={value} type="button" className="button thread-toggle" aria-pressed={lift === value} onClick={() => { threading.setState({ lift: value }) }}>{words}</button>
        ))}
      </div>
      <p className="quiet">{run.locked === true ? 'It is locked: its points stay where they are.' : 'Pull a white square in the picture, or tap the duct to add a point. Arrow keys move the chosen one 10 mm, with Alt 1 mm; Page Up and Page Down lift and lower it.'}</p>
      <ol className="thread-points">
        {run.waypoints.map((_, i) => (
          <li key={i}>
            <button type="button" className="button thread-point" aria-pressed={chosen === i} onClick={() => { choosePoint(run.id, chosen === i ? null : i) }}
              aria-label={`Point ${i + 1}, ${pointWords(placed, i)}`}>{i + 1}</button>
          </li>
        ))}
      </ol>
      {chosen === null ? <p className="quiet">Choose a point to place it by number.</p> : <PointNumbers key={chosen} placed={placed} index={chosen} />}
    </section>
  )
}

function pointWords({ run: { waypoints }, bends }: PlacedRun, i: number): string {
  if (i === 0) return 'its start'
  if (i === waypoints.length - 1) return 'its end'
  const bend = bends.find(({ waypointIndex }) => waypointIndex === i)
  return bend === undefined ? 'straight on' : `turns ${Math.round(bend.turnRad * 180 / Math.PI)} degrees`
}

function PointNumbers({ placed, index }: { readonly placed: PlacedRun, readonly index: number }) {
  const least = useThreading((now) => now.least)
  const { run, type, bends } = placed
  const { at, radiusMm } = run.waypoints[index]
  const isEnd = index === 0 || index === run.waypoints.length - 1
  const isLocked = run.locked === true
  const bend = bends.find(({ waypointIndex }) => waypointIndex === index)
  const leastRadius = type.kind === 'semi-rigid' ? `Not below ${mm(type.minBendRadiusMm)} for ${type.name}.`
    : `${type.name} bends by fittings of ${[...new Set(type.fittings.map((fitting) => `${fitting.angleDeg}\u00b0 at ${mm(fitting.radiusMm)}`))].join(', ')}.`
  const why = (done: ReturnType<typeof movePoint>): string | undefined => done.ok ? undefined : done.why
  return (
    <div className="thread-numbers" role="group" aria-label={`Point ${index + 1}`}>
      <p><b>Point {index + 1}</b>, {pointWords(placed, index)}</p>
      <div className="thread-xyz">
        {['x', 'y', 'z'].map((name, k) => (
          <LengthBox key={name} label={name} mm={at[k]} disabled={isLocked}
            take={(value, options) => why(movePoint(run.id, index, [k === 0 ? value : at[0], k === 1 ? value : at[1], k === 2 ? value : at[2]], options))} />
        ))}
      </div>
      {!isEnd && (
        <>
          <LengthBox label="Bend radius" mm={radiusMm ?? bend?.askedMm ?? null} disabled={isLocked} note={leastRadius} take={(value) => why(setRadius(run.id, index, value))} />
          {radiusMm !== undefined && <button type="button" className="button" disabled={isLocked} onClick={() => { setRadius(run.id, index, null) }}>The duct{'\u2019'}s own radius again</button>}
          {bend !== undefined && bend.radiusMm < bend.askedMm - 0.05 && <p className="thread-short">Only {mm(bend.radiusMm)} has room here.</p>}
        </>
      )}
      <p className="thread-least">{least === null ? 'Nothing is near it.' : <><b>{leastWords(least)}</b>{least.requiredMm > 0 ? `; ${mm(least.requiredMm)} asked` : ''}.</>}</p>
      <div className="thread-buttons">
        <button type="button" className="button" disabled={isLocked || index === run.waypoints.length - 1} onClick={() => { addPointAfter(run.id, index) }}>Add a point after it</button>
        <button type="button" className="button" disabled={isLocked || isEnd} onClick={() => { removePoint(run.id, index) }}>Take it away</button>
      </div>
    </div>
  )
}
