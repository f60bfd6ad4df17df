import { useCallback, useEffect, useMemo, useState } from 'react'
import type { KeyboardEvent } from 'react'
import { AIR, airOf } from '#scene/air.ts'
import { PLAIN_DUCT } from '#scene/palette.ts'
import type { ElevationOpening } from '#checks/joistElevation.ts'
import { capital } from '../../facts.ts'
import { countText, mmText } from '../../figures.ts'
import { useDesk } from '../../useDesk.ts'
import { useSize } from '../looking/useSize.ts'
import { useViewing } from '../looking/viewing.ts'
import { goToOpening, stepJoist, useJoist } from './joistShown.ts'
import type { ShownJoist } from './joistShown.ts'
import { JoistDrawing, joistScale } from './JoistDrawing.tsx'
import './joist.css'

/** One joist seen square on, under the view. */
export function JoistInset() {
  const shown = useJoist()
  const [isWhole, setWhole] = useState(false)
  if (shown === null) return <section className="strip strip-empty" aria-label="Joist seen square on"><p>No joists yet. Lay a joist field, and each joist can be seen here with the largest duct that every opening takes.</p></section>
  const { elevation, joistIndex, checks } = shown
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'Escape' && isWhole) setWhole(false)
    else if (event.key === 'PageDown') stepJoist(1)
    else if (event.key === 'PageUp') stepJoist(-1)
    else return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <section className={isWhole ? 'strip joist strip-whole' : 'strip joist'} aria-label="Joist seen square on" onKeyDown={onKeyDown}>
      <header className="strip-head">
        <h2>{capital(elevation.joist.name)} <span className="quiet">{mmText(elevation.lengthMm)} long, {countText(elevation.openings.length, 'opening')}</span></h2>
        <button type="button" className="button" disabled={joistIndex === 0} onClick={() => { stepJoist(-1) }} aria-label="Joist before this one">{'\u25c0'} Before</button>
        <button type="button" className="button" disabled={joistIndex === checks.assembly.joists.length - 1} onClick={() => { stepJoist(1) }} aria-label="Next joist">Next {'\u25b6'}</button>
        <button type="button" className="button" aria-pressed={isWhole} onClick={() => { setWhole(!isWhole) }}>{isWhole ? 'Back to the view' : 'Whole screen'}</button>
      </header>
      <Paper shown={shown} />
    </section>
  )
}

function Paper({ shown: { checks, joistIndex, elevation } }: { readonly shown: ShownJoist }) {
  const { ref, width, height } = useSize<HTMLDivElement>()
  const wantedMm = useViewing((now) => now.wantedMm)
  const growMm = useViewing((now) => now.joistGrowMm)
  const { lengthMm, depthMm } = elevation
  const scale = useMemo(() => joistScale({ lengthMm, depthMm }, width, height), [lengthMm, depthMm, width, height])
  const colourOf = useCallback((runId: string) => {
    const placed = checks.assembly.runs.find(({ run }) => run.id === runId)
    const air = placed === undefined ? undefined : airOf(placed)
    return air === undefined ? PLAIN_DUCT : AIR[air].colour
  }, [checks])
  const onOpening = useCallback(({ number, x, y }: ElevationOpening) => { goToOpening(checks, joistIndex, number, x, y) }, [checks, joistIndex])
  const chosen = useDesk(({ selection }) => selection?.kind === 'opening' && selection.joistIndex === joistIndex ? selection.number : null)
  const middle = elevation.openings.find(({ number }) => number === chosen)
  useEffect(() => {
    if (ref.current !== null && middle !== undefined) ref.current.scrollLeft = scale.x(middle.x) - ref.current.clientWidth / 2
  }, [middle, scale, ref])
  return (
    <div ref={ref} className="strip-paper joist-paper" tabIndex={0} role="group" aria-label="Elevation; Page keys go from joist to joist, the table beside it says the same in words">
      {width > 0 && (
        <svg width={scale.width} height={scale.height} aria-hidden="true">
          {middle !== undefined && <rect x={scale.x(middle.x) - 30} y={2} width={60} height={24} rx={6} className="joist-chosen" />}
          <JoistDrawing elevation={elevation} scale={scale} wantedMm={wantedMm} growMm={growMm} colourOf={colourOf} onOpening={onOpening} />
        </svg>
      )}
    </div>
  )
}
