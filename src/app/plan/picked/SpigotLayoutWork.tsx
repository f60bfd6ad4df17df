import { useState } from 'react'
import { turned } from '#assembly/place.ts'
import { listed } from '#commands/parts.ts'
import { type SpigotPlan, spigotLayout, spigotPlanOf } from '#commands/layingSpigots.ts'
import type { Face } from '#commands/spigotRows.ts'
import { compassOf } from '#geometry/compass.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import type { Equipment, Job } from '#model/index.ts'
import { countText } from '../../figures.ts'
import { LengthField } from '../LengthField.tsx'
import { ChoiceField, NumberField } from '../PlainFields.tsx'
import { tried } from './tried.ts'

const FACES: readonly Face[] = ['+x', '-x', '+y', '-y', '+z', '-z']

/** Number, size, pitch, side and rows of the spigots, and which runs would lose theirs, said before it is done. */
export function SpigotLayoutWork({ equipment, job }: { readonly equipment: Equipment, readonly job: Job }) {
  const now = spigotPlanOf(equipment)
  const [changed, setChanged] = useState<Partial<SpigotPlan>>({})
  if (now === null) return null
  const plan = { ...now, ...changed }
  const set = (part: Partial<SpigotPlan>): void => { setChanged(was => ({ ...was, ...part })) }
  const isSame = (Object.keys(plan) as (keyof SpigotPlan)[]).every(key => plan[key] === now[key])
  const layout = spigotLayout(job, equipment, plan)
  const lost = typeof layout === 'string' ? [] : layout.runsLost.map(({ name }) => name)
  return (
    <details className="corners">
      <summary>Lay the spigots out anew</summary>
      <div className="fields">
        <NumberField label="Number of spigots" value={plan.count} least={1} most={60} onType={count => { set({ count }) }} />
        <NumberField label="Rows of them" value={plan.rows} least={1} most={6} onType={rows => { set({ rows }) }} />
        <LengthField label="Spigots take duct of" valueMm={plan.diameterMm} onType={diameterMm => { set({ diameterMm }) }} />
        <LengthField label="Pitch, middle to middle" valueMm={plan.pitchMm} onType={pitchMm => { set({ pitchMm }) }} />
        <ChoiceField label="On its side" value={plan.face} choices={FACES.map(face => ({ value: face, words: sideWords(equipment, face) }))} onChoose={face => { set({ face: face as Face }) }} />
      </div>
      {isSame ? <p className="quiet">Change a number, and what would become of the runs on it is said here first. North is up in plan.</p>
        : typeof layout === 'string' ? <p className="field-why" role="alert">That cannot be: {layout}.</p> : (
          <>
            <p role="status">{keptWords(layout.runsKept.map(({ name }) => name))} {lost.length > 0 && <b>{listed(lost)} {lost.length === 1 ? 'loses its spigot and is removed with it' : 'lose their spigots and are removed with them'}.</b>}</p>
            <div className="pad-buttons">
              <button type="button" className="button button-strong" onClick={() => {
                if (tried({ do: 'lay-spigots', id: equipment.id, ...plan, withRuns: lost.length > 0 }) === undefined) setChanged({})
              }}>{lost.length === 0 ? `Lay out ${countText(plan.count, 'spigot')}` : `Lay out ${countText(plan.count, 'spigot')} and remove ${countText(lost.length, 'run')}`}</button>
              <button type="button" className="button" onClick={() => { setChanged({}) }}>As it is</button>
            </div>
          </>
        )}
    </details>
  )
}

function keptWords(names: readonly string[]): string {
  return names.length === 0 ? 'No run ends on the spigots that are kept.' : `${listed(names)} ${names.length === 1 ? 'stays on its spigot and comes' : 'stay on their spigots and come'} along.`
}

/** As it stands on site: 'east', 'top'. */
function sideWords({ rotationDeg }: Equipment, face: Face): string {
  const unit = [0, 0, 0].with('xyz'.indexOf(face[1]), face[0] === '-' ? -1 : 1)
  const [x, y, z] = turned(axesOfRotation(...rotationDeg), unit[0], unit[1], unit[2])
  return z > 0.7 ? 'top' : z < -0.7 ? 'underside' : compassOf(x, y)
}
