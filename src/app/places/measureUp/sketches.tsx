/** A pencil sketch of each thing that can be drawn, 48 by 48: told apart by their shape alone. */
import type { ReactNode } from 'react'

function sketch(name: string, inside: ReactNode) {
  const Sketch = () => <svg viewBox="0 0 48 48" width="48" height="48" aria-hidden="true" fill="none" stroke="currentColor" strokeWidth="2.5" strokeLinejoin="round" strokeLinecap="round">{inside}</svg>
  Sketch.displayName = `Sketch of ${name}`
  return Sketch
}
const TIMBER = '#e2c79c', STEEL = '#bcc5c9', TAPE = '#f4c531'

export const RoomSketch = sketch('a room', <><path d="M7 9h34v30H22V29H7z" fill="#fff" strokeWidth="4" /></>)
export const ZoneSketch = sketch('a ceiling zone', <><path d="M7 10h34v28H7z" fill={TAPE} fillOpacity="0.35" strokeDasharray="5 4" /><path d="M14 30 34 18" strokeWidth="1.5" /></>)
export const CutOutSketch = sketch('a hole in a zone', <><path d="M6 8h36v32H6z" fill={TAPE} fillOpacity="0.35" strokeDasharray="5 4" /><path d="M17 18h14v12H17z" fill="#fff" strokeDasharray="5 4" /></>)
export const DoorSketch = sketch('a door', <><path d="M6 38h8M34 38h8" strokeWidth="4" /><path d="M14 38V18a20 20 0 0 1 20 20" fill="#fff" /></>)
export const FieldSketch = sketch('a joist field', <>{[8, 19, 30, 41].map(x => <path key={x} d={`M${x} 6v36`} stroke="currentColor" strokeWidth="5" />)}<path d="M4 24h40" strokeWidth="1.2" strokeDasharray="3 3" /></>)
export const TrimmerSketch = sketch('a trimmer', <><path d="M10 6v36M38 6v36" strokeWidth="3" /><path d="M6 20h36v9H6z" fill={TIMBER} /></>)
export const NogginSketch = sketch('a noggin', <><path d="M10 6v36M38 6v36" strokeWidth="5" /><path d="M13 20h22v7H13z" fill={TIMBER} /></>)
export const StrongbackSketch = sketch('a strongback', <><path d="M8 8v32M24 8v32M40 8v32" strokeWidth="2" /><path d="M4 21h40v6H4z" fill={TIMBER} /><path d="M4 24h40" strokeWidth="1" /></>)
export const BeamSketch = sketch('a beam', <><path d="M5 30 33 12h10v8L15 38H5z" fill={TIMBER} /><path d="M5 30h10v8M15 30 43 12" /></>)
export const StackSketch = sketch('a soil stack', <><path d="M15 8v32M33 8v32" /><ellipse cx="24" cy="8" rx="9" ry="4" fill="#fff" /><path d="M11 27h26v6H11z" fill={STEEL} /></>)
export const PipeSketch = sketch('a pipe', <><path d="M6 17h22a7 7 0 0 1 7 7v18" strokeWidth="10" /><path d="M6 17h22a7 7 0 0 1 7 7v18" stroke="#fff" strokeWidth="5" strokeLinecap="butt" /></>)
export const CableSketch = sketch('a cable', <><path d="M5 34c10 0 8-20 18-20s6 18 20 14" strokeWidth="4" /><path d="M43 28l-4-4M43 28l-4 4" strokeWidth="2" /></>)
export const DownlightSketch = sketch('the keep-out over a downlight', <><path d="M6 34h36" strokeWidth="3" /><path d="M17 34V22h14v12" fill="#fff" /><path d="M10 34V11h28v23" strokeDasharray="4 4" /><path d="M18 39l-3 4M30 39l3 4M24 39v5" /></>)
export const WallSketch = sketch('a wall', <><path d="M5 12h38v24H5z" fill="#e7e1d6" /><path d="M5 20h38M5 28h38M16 12v8M32 12v8M10 20v8M24 20v8M38 20v8M16 28v8M32 28v8" strokeWidth="1.5" /></>)
export const FasciaSketch = sketch('a fascia', <><path d="M6 10 42 6v6L6 16z" fill={TIMBER} /><path d="M30 13v28h5V12" fill="#fff" /><path d="M6 41h36" strokeWidth="1.5" /></>)
export const SleeveSketch = sketch('a sleeve', <><path d="M16 6v36h16V6" fill="#e7e1d6" strokeWidth="2" /><path d="M8 17h32v14H8z" fill="#fff" /><ellipse cx="40" cy="24" rx="3.5" ry="7" fill="#fff" /></>)
export const UnitSketch = sketch('a heat-recovery unit', <><path d="M9 18h30v24H9z" fill={STEEL} /><path d="M13 18v-8M20 18v-8M28 18v-8M35 18v-8" strokeWidth="4" /><path d="M15 36 33 24M15 24l18 12" strokeWidth="1.5" /></>)
export const ManifoldSketch = sketch('a manifold', <><path d="M10 8h14v32H10z" fill={STEEL} /><path d="M24 12h12M24 20h12M24 28h12M24 36h12" strokeWidth="4" /><path d="M10 24H3" strokeWidth="6" /></>)
export const PlenumSketch = sketch('a plenum with one spigot', <><path d="M8 12h20v22H8z" fill={STEEL} /><path d="M28 23h12" strokeWidth="9" /><path d="M28 23h13" stroke="#fff" strokeWidth="4" strokeLinecap="butt" /><circle cx="18" cy="23" r="6" fill="#fff" /></>)
export const TwinPlenumSketch = sketch('a plenum with two spigots', <><path d="M8 8h20v32H8z" fill={STEEL} /><path d="M28 16h12M28 32h12" strokeWidth="8" /><path d="M28 16h13M28 32h13" stroke="#fff" strokeWidth="3.5" strokeLinecap="butt" /><circle cx="18" cy="24" r="6" fill="#fff" /></>)
export const IntakeSketch = sketch('an intake', <><path d="M26 6h14v36H26z" fill={STEEL} /><path d="M29 14h8M29 21h8M29 28h8M29 35h8" strokeWidth="1.5" /><path d="M4 24h16M14 18l6 6-6 6" /></>)
export const ExhaustSketch = sketch('an exhaust', <><path d="M8 6h14v36H8z" fill={STEEL} /><path d="M11 14h8M11 21h8M11 28h8M11 35h8" strokeWidth="1.5" /><path d="M28 24h16M38 18l6 6-6 6" /></>)
