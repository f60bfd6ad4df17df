import { ROOM_USES } from '#model/surroundings.ts'
import type { Job, Room, Zone } from '#model/index.ts'
import { useWords } from '../../places/measureUp/roomTools.ts'
import { LengthField } from '../LengthField.tsx'
import { ChoiceField, TextField } from '../PlainFields.tsx'
import { performInPlan, pickInPlan, jobNow } from '../board.ts'
import { newcomer } from '../tool.ts'
import { Corners } from './Corners.tsx'
import { tried } from './tried.ts'

/** 15 mm of board and the depth of an ordinary joist: common practice, from memory */
const BOARD_MM = 15, VOID_MM = 254

export function PickedRoom({ room, job }: { readonly room: Room, readonly job: Job }) {
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-room' }>['set'], held?: boolean) => tried({ do: 'edit-room', id: room.id, set }, held)
  const makeZone = (): void => {
    const before = jobNow()
    const depthMm = job.sections.at(-1)?.depthMm ?? VOID_MM
    if (before === null || !performInPlan({ do: 'add-zone', zone: { name: `${room.name} ceiling`.slice(0, 200), outline: room.outline, undersideMm: room.ceilingMm + BOARD_MM, topMm: room.ceilingMm + BOARD_MM + depthMm } })) return
    const pick = newcomer(before, jobNow()!)
    if (pick !== null) pickInPlan(pick)
  }
  const made = job.zones.find(({ outline }) => outline.length === room.outline.length && room.outline.every((corner) => outline.some((other) => other[0] === corner[0] && other[1] === corner[1])))
  return (
    <>
      <div className="fields">
        <TextField label="Name" value={room.name} onType={(name) => { edit({ name }) }} />
        <ChoiceField label="Use" value={room.use} choices={ROOM_USES.map(use => ({ value: use, words: useWords(use) }))} onChoose={(use) => { edit({ use: use as Room['use'] }) }} />
        <LengthField label="Floor, above datum" valueMm={room.floorMm} negative onType={(floorMm, held) => edit({ floorMm }, held)} />
        <LengthField label="Ceiling, above datum" valueMm={room.ceilingMm} negative onType={(ceilingMm, held) => edit({ ceilingMm }, held)} />
      </div>
      {made === undefined ? <button type="button" className="button" onClick={makeZone}>Make its ceiling a zone for ducts</button>
        : <button type="button" className="button" onClick={() => { pickInPlan({ kind: 'zone', id: made.id }) }}>Its ceiling is a zone: {made.name}</button>}
      <Corners of={room.id} rings={[room.outline]} />
      {room.doors.length > 0 && <h3>Doors</h3>}
      {room.doors.map((door, i) => (
        <div className="fields" key={i}>
          <LengthField label={`Door ${i + 1}, width`} valueMm={door.widthMm} onType={widthMm => edit({ doors: room.doors.with(i, { ...door, widthMm }) })} />
          <button type="button" className="button" onClick={() => { edit({ doors: room.doors.toSpliced(i, 1) }) }}>Remove door {i + 1}</button>
        </div>
      ))}
    </>
  )
}

export function PickedZone({ zone }: { readonly zone: Zone }) {
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-zone' }>['set'], held?: boolean) => tried({ do: 'edit-zone', id: zone.id, set }, held)
  return (
    <>
      <p className="quiet">Ducts may hang anywhere inside it, and nowhere else.</p>
      <div className="fields">
        <TextField label="Name" value={zone.name} onType={(name) => { edit({ name }) }} />
        <LengthField label="Upper side of the ceiling" valueMm={zone.undersideMm} negative onType={(undersideMm, held) => edit({ undersideMm }, held)} />
        <LengthField label="Underside of what closes it above" valueMm={zone.topMm} negative onType={(topMm, held) => edit({ topMm }, held)} />
      </div>
      <Corners of={zone.id} rings={[zone.outline, ...zone.holes]} />
      {zone.holes.map((_, i) => <button key={i} type="button" className="button" onClick={() => { edit({ holes: zone.holes.toSpliced(i, 1) }) }}>Fill hole {i + 1}</button>)}
    </>
  )
}
