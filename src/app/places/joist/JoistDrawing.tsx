import { memo } from 'react'
import type { ElevationDuct, ElevationOpening, JoistElevation } from '#checks/joistElevation.ts'
import { OPENING_STEPS, stepOf } from '#scene/openingSteps.ts'
import { mmText } from '../../figures.ts'
import { keptNames } from '../strip/stripScale.ts'

/** px round the joist: the ends of its tape, names over it, and the tape under it */
export const ROOM = { side: 30, top: 30, bottom: 54 }
const LETTER_PX = 8.6

export interface JoistScale { readonly width: number, readonly height: number, readonly px: number, readonly x: (mm: number) => number, readonly y: (mm: number) => number }

/** A metre of joist is never drawn shorter than this, px. */
const SHORTEST_METRE_PX = 260

export function joistScale({ lengthMm, depthMm }: Pick<JoistElevation, 'lengthMm' | 'depthMm'>, width: number, height: number): JoistScale {
  const px = Math.max((width - 2 * ROOM.side) / lengthMm, SHORTEST_METRE_PX / 1_000, (height - ROOM.top - ROOM.bottom) / depthMm * 0.8)
  const bounded = Math.min(px, Math.max(0.1, (height - ROOM.top - ROOM.bottom) / depthMm))
  return {
    px: bounded, width: lengthMm * bounded + 2 * ROOM.side, height: depthMm * bounded + ROOM.top + ROOM.bottom,
    x: (mm) => ROOM.side + mm * bounded, y: (mm) => ROOM.top + (depthMm - mm) * bounded,
  }
}

/** The joist in true elevation with its openings, the ducts that pass, and a tape from the datum end. */
export const JoistDrawing = memo(function JoistDrawing({ elevation, scale, wantedMm, growMm, colourOf, onOpening }: {
  readonly elevation: JoistElevation, readonly scale: JoistScale, readonly wantedMm: number | null, readonly growMm: number
  readonly colourOf: (runId: string) => string, readonly onOpening: (opening: ElevationOpening) => void
}) {
  const { x, y, px } = scale
  const at = (corners: readonly (readonly [number, number])[]): string => corners.map(([mx, my]) => `${x(mx)},${y(my)}`).join(' ')
  return (
    <>
      {elevation.openings.map((opening) => <Opening key={opening.number} opening={opening} points={at(opening.corners)} scale={scale} wantedMm={wantedMm} onOpening={onOpening} />)}
      {elevation.members.map(({ part, kind, corners }, i) => (
        <polygon key={`${part.part}-${i}`} points={at(corners)} className={kind === 'web' || kind === 'post' ? 'joist-web' : 'joist-timber'}><title>{part.name}</title></polygon>
      ))}
      {elevation.holes.map((hole) => <circle key={hole.id} cx={x(hole.x)} cy={y(hole.y)} r={hole.radiusMm * px} className="joist-hole"><title>{`hole ${hole.id}, ${mmText(2 * hole.radiusMm)} across`}</title></circle>)}
      {elevation.ducts.map((duct) => <Duct key={`${duct.run.id}-${duct.crossing.stationMm}`} duct={duct} scale={scale} growMm={growMm} colour={colourOf(duct.run.id)} />)}
      <Words elevation={elevation} scale={scale} />
      <Tape elevation={elevation} scale={scale} />
    </>
  )
})

function Opening({ opening, points, scale: { x, y, px }, wantedMm, onOpening }: {
  readonly opening: ElevationOpening, readonly points: string, readonly scale: JoistScale, readonly wantedMm: number | null, readonly onOpening: (opening: ElevationOpening) => void
}) {
  const { number, largestMm, roomLeftMm } = opening
  const takes = wantedMm === null || largestMm >= wantedMm - 1e-6
  const { colour, ink } = OPENING_STEPS[stepOf(largestMm)]
  const isFree = wantedMm !== null && roomLeftMm >= wantedMm - 1e-6
  return (
    <g className={takes ? 'joist-opening' : 'joist-opening joist-opening-small'} onClick={() => { onOpening(opening) }} data-opening={number}>
      <title>{`Opening ${number}: takes ${mmText(Math.floor(largestMm * 10) / 10)} straight through, its middle ${mmText(opening.x)} from the datum end${roomLeftMm < largestMm ? `; ${mmText(Math.floor(roomLeftMm * 10) / 10)} beside what passes now` : ''}`}</title>
      <polygon points={points} style={takes ? { fill: colour } : undefined} />
      {takes && <circle cx={x(opening.x)} cy={y(opening.y)} r={(wantedMm ?? largestMm) / 2 * px} className={wantedMm !== null && !isFree ? 'joist-largest joist-taken' : 'joist-largest'} style={{ stroke: ink }} />}
      {takes && opening.passedBy.length === 0 && largestMm * px > 44 && <text x={x(opening.x)} y={y(opening.y) + 6} style={{ fill: ink }}>{Math.floor(largestMm)}</text>}
    </g>
  )
}

function Duct({ duct, scale: { x, y, px }, growMm, colour }: { readonly duct: ElevationDuct, readonly scale: JoistScale, readonly growMm: number, readonly colour: string }) {
  const turn = `rotate(${-duct.longRad * 180 / Math.PI} ${x(duct.x)} ${y(duct.y)})`
  const grown = (halfMm: number): number => Math.max(0, halfMm * (1 + growMm / 2 / duct.shortMm)) * px
  const isBad = (duct.spareMm ?? -1) < 0
  return (
    <g data-run={duct.run.id}>
      <title>{`${duct.run.name}: ${ductWords(duct, growMm)}`}</title>
      <ellipse cx={x(duct.x)} cy={y(duct.y)} rx={duct.longMm * px} ry={duct.shortMm * px} transform={turn} className={isBad ? 'joist-duct joist-duct-bad' : 'joist-duct'} style={{ fill: colour }} />
      {growMm !== 0 && <ellipse cx={x(duct.x)} cy={y(duct.y)} rx={grown(duct.longMm)} ry={grown(duct.shortMm)} transform={turn} className={duct.fitsGrown ? 'joist-grown' : 'joist-grown joist-grown-bad'} />}
      <text x={x(duct.x)} y={y(duct.y) + 6} className="joist-mark">{(growMm === 0 ? isBad : !duct.fitsGrown) ? '\u2717' : '\u2713'}</text>
    </g>
  )
}

/** What becomes of a duct here, as it is or at the trial size. */
export function ductWords(duct: ElevationDuct, growMm: number): string {
  const { spareMm, spareGrownMm, touchesFirst, fitsGrown, toOthers } = duct
  if (spareMm === null || spareGrownMm === null) return 'passes no opening'
  if (growMm === 0) return spareMm < 0 ? `lacks ${mmText(-spareMm)} to ${touchesFirst ?? 'the joist'}` : `${mmText(spareMm)} to spare, ${touchesFirst ?? 'the joist'} nearest`
  if (fitsGrown) return `still fits, ${mmText(spareGrownMm)} to spare`
  if (spareGrownMm < 0) return `does not fit: ${mmText(-spareGrownMm)} into ${touchesFirst ?? 'the joist'}`
  const near = toOthers.find(({ clearGrownMm }) => clearGrownMm < 0)
  return near === undefined ? 'does not fit' : `does not fit: ${mmText(-near.clearGrownMm)} into the duct beside it`
}

function Words({ elevation: { openings }, scale: { x } }: { readonly elevation: JoistElevation, readonly scale: JoistScale }) {
  const at = openings.map((opening) => x(opening.x))
  const kept = keptNames(at, (i) => String(openings[i].number).length * LETTER_PX + 30)
  return openings.map(({ number }, i) => kept[i] && <text key={number} x={at[i]} y={20} className="joist-number">no. {number}</text>)
}

const STEPS_MM = [50, 100, 200, 500, 1_000]

/** A tape hooked on the datum end, with a notch at every web node. */
function Tape({ elevation: { lengthMm, nodes }, scale: { x, y, px } }: { readonly elevation: JoistElevation, readonly scale: JoistScale }) {
  const step = STEPS_MM.find((mm) => mm * px >= 58) ?? 2_000, small = step / 5
  const top = y(0) + 10
  return (
    <g className="joist-tape">
      <rect x={x(0)} y={top} width={lengthMm * px} height={18} />
      <path d={Array.from({ length: Math.floor(lengthMm / small) + 1 }, (_, i) => `M${x(i * small)} ${top}v${i % 5 === 0 ? 18 : 8}`).join('')} />
      {nodes.filter(({ chord }) => chord === 'bottom').map(({ x: at }) => <path key={at} d={`M${x(at)} ${top}l-5 -8h10z`} className="joist-node" />)}
      {Array.from({ length: Math.floor(lengthMm / step) + 1 }, (_, i) => <text key={i} x={x(i * step)} y={top + 36}>{i === 0 ? '0 mm' : (i * step).toLocaleString('en-GB')}</text>)}
    </g>
  )
}
