import { useState } from 'react'
import { LEVELS } from '#air/noise.ts'
import { FAN_SPEEDS, type FanSpeed } from '#model/index.ts'
import { ChoiceField } from '../../plan/PlainFields.tsx'
import { tried } from '../../plan/picked/tried.ts'
import { FigureField } from '../air/FigureField.tsx'
import { SPEED_WORDS, type Round } from './rounds.ts'

const WET: ReadonlySet<string> = new Set(['kitchen', 'utility', 'bathroom', 'wc'])

/** Levels read with a sound meter, one for each room and speed. */
export function SoundWork({ now: { job, record } }: { readonly now: Round }) {
  const [roomId, setRoomId] = useState<string>(job.rooms[0]?.id ?? '')
  const [speed, setSpeed] = useState<FanSpeed>('normal')
  const room = job.rooms.find(({ id }) => id === roomId) ?? job.rooms[0]
  const nameOf = (id: string): string => job.rooms.find((one) => one.id === id)?.name ?? id
  if (room === undefined) return <p>No rooms.</p>
  const noted = record?.sound.findLast((entry) => entry.room === room.id && entry.speed === speed)
  return (
    <>
      <div className="fields">
        <ChoiceField label="Room" value={room.id} choices={job.rooms.map(({ id, name }) => ({ value: id, words: name }))} onChoose={setRoomId} />
        <ChoiceField label="Speed" value={speed} choices={FAN_SPEEDS.map((value) => ({ value, words: SPEED_WORDS[value] }))} onChoose={(value) => { setSpeed(value as FanSpeed) }} />
        <FigureField key={`${room.id} ${speed}`} label="Level read" unit="dB(A)" value={noted?.levelDbA} least={0} most={140} assumed={`asked: ${WET.has(room.use) ? LEVELS.wetDb : LEVELS.quietDb}`}
          onTake={(levelDbA) => tried({ do: 'set-sound', room: room.id, speed, levelDbA })} />
      </div>
      {record !== undefined && record.sound.length > 0 && (
        <ul className="air-lines">
          {record.sound.map((entry) => <li key={`${entry.room} ${entry.speed}`}>{nameOf(entry.room)}, {SPEED_WORDS[entry.speed]}: <b>{entry.levelDbA} dB(A)</b></li>)}
        </ul>
      )}
    </>
  )
}
