import { memo, useEffect, useMemo, useRef, useState } from 'react'
import type { KeyboardEvent, PointerEvent } from 'react'
import { AIR, airOf } from '#scene/air.ts'
import { PLAIN_DUCT } from '#scene/palette.ts'
import { mmText } from '../../figures.ts'
import { useSize } from '../looking/useSize.ts'
import { useViewing, viewing } from '../looking/viewing.ts'
import { heightAt, StripDrawing } from './StripDrawing.tsx'
import { freeText, partText, spoken, WAYS } from './readout.ts'
import { StripHandles } from './StripHandles.tsx'
import { MARGIN_PX, shiftedScale, stripScale } from './stripScale.ts'
import type { StripScale } from './stripScale.ts'
import { pointAtStation, useClearances, useUnrolled } from './unrolled.ts'
import type { Unrolled } from './unrolled.ts'
import './strip.css'

/** The run laid flat under the view: moved along with a finger, a mouse or the arrow keys. */
export function Unroll() {
  const unrolled = useUnrolled()
  const [isWhole, setWhole] = useState(false)
  const isTrueScale = useViewing((now) => now.isTrueScale)
  if (unrolled === null) return <section className="strip strip-empty" aria-label="Run unrolled"><p>No run to unroll yet. A run goes from one spigot to another; thread one, and it is laid flat here with every joist that it passes.</p></section>
  return (
    <section className={isWhole ? 'strip strip-whole' : 'strip'} aria-label="Run unrolled"
      onKeyDown={(event) => { if (event.key === 'Escape' && isWhole) { event.stopPropagation(); setWhole(false) } }}>
      <header className="strip-head">
        <h2>{unrolled.strip.run.name} <span className="quiet">{mmText(Math.round(unrolled.strip.lengthMm))} long, {mmText(2 * unrolled.strip.outerRadiusMm)} across</span></h2>
        <button type="button" className="button" aria-pressed={isTrueScale} onClick={() => { viewing.setState({ isTrueScale: !isTrueScale }) }}>True scale</button>
        <button type="button" className="button" aria-pressed={isWhole} onClick={() => { setWhole(!isWhole) }}>{isWhole ? 'Back to the view' : 'Whole screen'}</button>
      </header>
      <Paper unrolled={unrolled} isTrueScale={isTrueScale} />
      <Readout unrolled={unrolled} />
    </section>
  )
}

const STEP_MM = 10, STRIDE_MM = 100

function Paper({ unrolled, isTrueScale }: { readonly unrolled: Unrolled, readonly isTrueScale: boolean }) {
  const { strip, checks, runIndex } = unrolled
  const { ref, width, height } = useSize<HTMLDivElement>()
  const fitting = useMemo(() => stripScale(strip, width, height, isTrueScale), [strip, width, height, isTrueScale])
  const [heldIndex, setHeldIndex] = useState<number | null>(null)
  const kept = useRef({ scale: fitting, lengthMm: strip.lengthMm })
  if (heldIndex === null) kept.current = { scale: fitting, lengthMm: strip.lengthMm }
  // while a point is pulled the paper lies still; where it is the start, what follows stays and the start moves
  const byMm = heldIndex === 0 ? kept.current.lengthMm - strip.lengthMm : 0
  const scale = useMemo(() => heldIndex === null ? fitting : shiftedScale(kept.current.scale, byMm), [heldIndex, fitting, byMm])
  const air = airOf(checks.runs[runIndex].placed)
  const pressed = useRef(false)
  const toPointer = (event: PointerEvent<SVGSVGElement>): void => {
    const left = event.currentTarget.getBoundingClientRect().left
    pointAtStation(scale.stationAt(event.clientX - left), strip.lengthMm)
  }
  return (
    <div ref={ref} className="strip-paper">
      {width > 0 && (
        <Pointed unrolled={unrolled} scale={scale} box={ref} isStill={heldIndex !== null}>
          <svg width={scale.width} height={scale.height} aria-hidden="true"
            onPointerDown={(event) => {
              if (event.button !== 0) return
              pressed.current = true
              event.currentTarget.setPointerCapture(event.pointerId)
              toPointer(event)
            }}
            onPointerMove={(event) => { if (pressed.current) toPointer(event) }}
            onPointerUp={() => { pressed.current = false }} onPointerCancel={() => { pressed.current = false }}>
            <StripDrawing strip={strip} scale={scale} colour={air === undefined ? PLAIN_DUCT : AIR[air].colour} />
            <Pointer unrolled={unrolled} scale={scale} />
          </svg>
        </Pointed>
      )}
      {width > 0 && (
        <StripHandles key={strip.run.id} placed={checks.runs[runIndex].placed} scale={scale} onHold={setHeldIndex} />
      )}
    </div>
  )
}

/** The slider that the strip is to keys and screen readers. */
function Pointed({ unrolled, scale, box, isStill, children }: {
  readonly unrolled: Unrolled, readonly scale: StripScale, readonly isStill: boolean, readonly box: React.RefObject<HTMLDivElement | null>, readonly children: React.ReactNode
}) {
  const { strip } = unrolled
  const at = useClearances(unrolled)
  useEffect(() => {
    const paper = box.current
    if (paper === null || isStill) return
    const x = scale.x(at.stationMm), room = Math.min(120, paper.clientWidth / 4)
    if (x < paper.scrollLeft + room) paper.scrollLeft = x - room
    else if (x > paper.scrollLeft + paper.clientWidth - room) paper.scrollLeft = x - paper.clientWidth + room
  }, [at.stationMm, scale, box, isStill])
  const onKeyDown = (event: KeyboardEvent): void => {
    const to = stationFor(event, at.stationMm, unrolled)
    if (to === null) return
    event.preventDefault()
    event.stopPropagation()
    pointAtStation(to, strip.lengthMm)
  }
  return (
    <div className="strip-slider" role="slider" tabIndex={0} aria-label={`Place along ${strip.run.name}; arrow keys go 10 mm, with Shift 100 mm, Page keys from joist to joist`}
      aria-valuemin={0} aria-valuemax={Math.round(strip.lengthMm)} aria-valuenow={Math.round(at.stationMm)} aria-valuetext={spoken(at)} data-station={at.stationMm.toFixed(2)}
      onKeyDown={onKeyDown} style={{ width: scale.width }}>
      {children}
    </div>
  )
}

function stationFor(event: KeyboardEvent, now: number, { strip }: Unrolled): number | null {
  const step = event.shiftKey ? STRIDE_MM : STEP_MM
  switch (event.key) {
    case 'ArrowRight': case 'ArrowUp': return now + step
    case 'ArrowLeft': case 'ArrowDown': return now - step
    case 'Home': return 0
    case 'End': return strip.lengthMm
    case 'PageDown': return strip.crossings.find(({ crossing }) => crossing.stationMm > now + 0.5)?.crossing.stationMm ?? strip.lengthMm
    case 'PageUp': return strip.crossings.findLast(({ crossing }) => crossing.stationMm < now - 0.5)?.crossing.stationMm ?? 0
    default: return null
  }
}

const LINE_PX = 18

const Pointer = memo(function Pointer({ unrolled, scale }: { readonly unrolled: Unrolled, readonly scale: StripScale }) {
  const at = useClearances(unrolled)
  const { x, y } = scale, { outerRadiusMm } = unrolled.strip
  const across = x(at.stationMm), heightMm = heightAt(unrolled.strip, at.stationMm)
  const top = y(heightMm + outerRadiusMm), bottom = y(heightMm - outerRadiusMm)
  const up = at.above.at === null ? MARGIN_PX.top : Math.max(y(at.above.at.z), MARGIN_PX.top)
  const down = at.below.at === null ? scale.height - MARGIN_PX.bottom : Math.min(y(at.below.at.z), scale.height - MARGIN_PX.bottom)
  const isLeft = across > scale.width - 150
  // one under the other, wherever the duct lies
  const lowest = scale.height - MARGIN_PX.bottom - 2
  const aboveY = Math.min(Math.max((top + up) / 2 + 6, MARGIN_PX.top + 12), lowest - LINE_PX)
  return (
    <g className="strip-pointer">
      <line x1={across} x2={across} y1={MARGIN_PX.top - 6} y2={scale.height - MARGIN_PX.bottom + 12} />
      <path className="strip-gap" d={`M${across} ${top}V${up}M${across} ${bottom}V${down}`} />
      <path d={`M${across - 9} ${scale.height - MARGIN_PX.bottom + 14}h18l-9 -13z`} className="strip-hold" />
      <g textAnchor={isLeft ? 'end' : 'start'}>
        <text x={across + (isLeft ? -8 : 8)} y={aboveY}>{freeText(at.above)}</text>
        <text x={across + (isLeft ? -8 : 8)} y={Math.min(Math.max((bottom + down) / 2 + 6, aboveY + LINE_PX), lowest)}>{freeText(at.below)}</text>
      </g>
    </g>
  )
})

function Readout({ unrolled }: { readonly unrolled: Unrolled }) {
  const at = useClearances(unrolled)
  return (
    <dl className="strip-readout">
      <div><dt>Along</dt><dd><b>{mmText(at.stationMm)}</b><span title={endName(unrolled)}>from {endName(unrolled)}</span></dd></div>
      {WAYS.map(([word, key]) => (
        <div key={key} className={(at[key].freeMm ?? 0) < 0 ? 'strip-into' : ''}>
          <dt>{word}</dt>
          <dd data-way={key}><b>{freeText(at[key])}</b><span title={partText(at[key])}>{partText(at[key])}</span></dd>
        </div>
      ))}
    </dl>
  )
}

function endName({ checks, runIndex }: Unrolled): string {
  const { from } = checks.runs[runIndex].placed
  return 'spigot' in from ? from.name : from.sleeve.name
}
