import { memo } from 'react'
import type { Strip, StripCrossing } from '#checks/strip.ts'
import { mmText } from '../../figures.ts'
import { ductEdges, keptNames, MARGIN_PX } from './stripScale.ts'
import type { StripScale } from './stripScale.ts'

/** px that a letter of the strip's names takes, on the safe side */
const LETTER_PX = 8.6

/** The strip itself: all that stays where it is while the pointer moves. */
export const StripDrawing = memo(function StripDrawing({ strip, scale, colour }: { readonly strip: Strip, readonly scale: StripScale, readonly colour: string }) {
  const { x, y } = scale
  const edges = ductEdges(strip)
  const duct = [...edges.map(({ stationMm, highMm }) => `${x(stationMm)},${y(highMm)}`), ...edges.toReversed().map(({ stationMm, lowMm }) => `${x(stationMm)},${y(lowMm)}`)].join(' ')
  return (
    <>
      <defs>
        <pattern id="strip-grain" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(38)">
          <rect width="7" height="7" className="strip-timber" />
          <line y2="7" className="strip-grain" />
        </pattern>
      </defs>
      <Zones strip={strip} scale={scale} />
      {strip.crossings.map((crossing) => <JoistPassed key={crossing.crossing.stationMm} of={crossing} scale={scale} />)}
      <polygon points={duct} className="strip-duct" style={{ fill: colour }} />
      <polyline points={strip.centre.map(({ stationMm, heightMm }) => `${x(stationMm)},${y(heightMm)}`).join(' ')} className="strip-centre" />
      <Near strip={strip} scale={scale} />
      <JoistNames strip={strip} scale={scale} />
      <Bends strip={strip} scale={scale} />
      <Ruler strip={strip} scale={scale} />
    </>
  )
})

interface Part { readonly strip: Strip, readonly scale: StripScale }

function Zones({ strip, scale: { x, y, lowMm, highMm } }: Part) {
  return strip.zones.map(({ fromMm, toMm, undersideMm, topMm }) => {
    const low = Math.max(undersideMm, lowMm), high = Math.min(topMm, highMm)
    return high <= low ? null : (
      <g key={fromMm}>
        <rect x={x(fromMm)} y={y(high)} width={x(toMm) - x(fromMm)} height={y(low) - y(high)} className="strip-zone" />
        {undersideMm >= lowMm && <line x1={x(fromMm)} x2={x(toMm)} y1={y(low)} y2={y(low)} className="strip-board" />}
        {topMm <= highMm && <line x1={x(fromMm)} x2={x(toMm)} y1={y(high)} y2={y(high)} className="strip-board" />}
      </g>
    )
  })
}

/** A joist as the run meets it: its members shaded, its opening left open from face to face. */
function JoistPassed({ of: { fromMm, toMm, undersideMm, topMm, open }, scale: { x, y } }: { readonly of: StripCrossing, readonly scale: StripScale }) {
  const through = open.filter((one) => one !== null)
  // the first and last place seen open may lie within the joist, where a web stands aslant
  const mouth = through.length < 2 ? '' : [...through.map(({ stationMm, highMm }) => `${x(stationMm)},${y(highMm)}`), ...through.toReversed().map(({ stationMm, lowMm }) => `${x(stationMm)},${y(lowMm)}`)].join(' ')
  return (
    <g>
      <rect x={x(fromMm)} y={y(topMm)} width={Math.max(1, x(toMm) - x(fromMm))} height={y(undersideMm) - y(topMm)} fill="url(#strip-grain)" className="strip-joist" />
      {mouth !== '' && <polygon points={mouth} className="strip-opening" />}
    </g>
  )
}

function JoistNames({ strip, scale: { x } }: Part) {
  const words = strip.crossings.map(({ joist, crossing }) => `${joist.id}${crossing.opening === null ? '' : ` no. ${crossing.opening}`}`)
  const at = strip.crossings.map(({ crossing }) => x(crossing.stationMm))
  const kept = keptNames(at, (i) => words[i].length * LETTER_PX + 6)
  return strip.crossings.map(({ crossing }, i) => kept[i] && <text key={crossing.stationMm} x={at[i]} y={MARGIN_PX.top - 36} className="strip-name">{words[i]}</text>)
}

/** Each bend as a bracket with its radius over the least one; a tick or a cross tells how it stands. */
function Bends({ strip, scale: { x } }: Part) {
  const words = strip.bends.map(({ radiusMm, leastMm, ok }) => `${ok ? '\u2713' : '\u2717'} R ${Math.round(radiusMm)} / ${Math.round(leastMm)}`)
  const at = strip.bends.map(({ fromMm, toMm }) => (x(fromMm) + x(toMm)) / 2)
  const kept = keptNames(at, (i) => words[i].length * LETTER_PX + 6, (i) => !strip.bends[i].ok)
  const top = MARGIN_PX.top - 8
  return strip.bends.map(({ part, fromMm, toMm, turnDeg, radiusMm, leastMm, ok }, i) => (
    <g key={part.part} className={ok ? 'strip-bend' : 'strip-bend strip-bend-tight'}>
      <title>{`${part.name}: turns ${Math.round(turnDeg)}\u00b0 at a radius of ${mmText(radiusMm)}; the least is ${mmText(leastMm)}`}</title>
      <path d={`M${x(fromMm)} ${top + 7}v-7H${x(toMm)}v7`} />
      {kept[i] && <text x={at[i]} y={top - 4} className="strip-bend-words">{words[i]}</text>}
    </g>
  ))
}

function Near({ strip, scale: { x, y, lowMm, highMm } }: Part) {
  return strip.near.map(({ run, stationMm, clearanceMm, higherMm }) => {
    const heightMm = heightAt(strip, stationMm) + higherMm
    if (heightMm < lowMm || heightMm > highMm) return null
    return (
      <g key={`${run.id}-${stationMm}`} className={clearanceMm < 0 ? 'strip-near strip-near-meets' : 'strip-near'}>
        <title>{`${run.name}: ${clearanceMm < 0 ? `overlaps by ${mmText(-clearanceMm)}` : `${mmText(clearanceMm)} clear`}`}</title>
        {clearanceMm < 0
          ? <path d={`M${x(stationMm) - 6} ${y(heightMm) - 6}l12 12m0 -12l-12 12`} />
          : <circle cx={x(stationMm)} cy={y(heightMm)} r={5} />}
      </g>
    )
  })
}

export function heightAt({ centre }: Strip, stationMm: number): number {
  const next = centre.findIndex((point) => point.stationMm >= stationMm)
  if (next <= 0) return centre[next < 0 ? centre.length - 1 : 0].heightMm
  const a = centre[next - 1], b = centre[next]
  return b.stationMm === a.stationMm ? b.heightMm : a.heightMm + (b.heightMm - a.heightMm) * (stationMm - a.stationMm) / (b.stationMm - a.stationMm)
}

const RULER_STEPS_MM = [100, 200, 500, 1_000, 2_000]

/** The way along the run, as a tape laid along it. */
function Ruler({ strip, scale: { x, height, pxPerMmAlong } }: Part) {
  const step = RULER_STEPS_MM.find((mm) => mm * pxPerMmAlong >= 62) ?? 5_000
  const small = step / 5
  const y = height - MARGIN_PX.bottom + 2
  return (
    <g className="strip-ruler">
      <rect x={x(0)} y={y} width={strip.lengthMm * pxPerMmAlong} height={9} />
      <path d={Array.from({ length: Math.floor(strip.lengthMm / small) + 1 }, (_, i) => `M${x(i * small)} ${y}v${i % 5 === 0 ? 9 : 5}`).join('')} />
      {Array.from({ length: Math.floor(strip.lengthMm / step) + 1 }, (_, i) => <text key={i} x={x(i * step)} y={y + 24}>{i === 0 ? '0 mm' : (i * step).toLocaleString('en-GB')}</text>)}
    </g>
  )
}
