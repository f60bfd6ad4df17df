import type { ReactNode } from 'react'
import { titleOf } from '#checks/wording.ts'
import type { Job } from '#model/index.ts'
import { pickInPlan, removeInPlan } from '../board.ts'
import { capital } from '../../facts.ts'
import { useDesk } from '../../useDesk.ts'
import { nameOfPick, type PlanPick } from '../planPick.ts'
import { PickedEquipment } from './PickedEquipment.tsx'
import { PickedFinding, PickedRun } from './PickedFinding.tsx'
import { PickedField } from './PickedField.tsx'
import { PickedRoom, PickedZone } from './PickedRoom.tsx'
import { PickedSleeve, PickedSolid } from './PickedSolid.tsx'
import './picked.css'

/** Everything about what is picked out in plan, each number to be typed. */
export function PickedThing({ job, pick }: { readonly job: Job, readonly pick: PlanPick }) {
  const name = nameOfPick(job, pick)
  const fieldId = pick.kind === 'joist' ? job.joistFields.find(({ joists }) => joists.some(({ id }) => id === pick.id))?.id : pick.id
  const finding = useDesk(now => pick.kind === 'finding' ? now.verdict?.findings.find(({ id }) => id === pick.id) : undefined)
  const title = finding !== undefined ? capital(titleOf(finding)) : pick.kind === 'joist' ? nameOfPick(job, { kind: 'field', id: fieldId ?? '' }) : name
  return (
    <section className="picked" aria-label={`${title}, picked out`} key={pick.kind === 'joist' ? fieldId : pick.id}>
      <div className="pad-head">
        <h2>{title}</h2>
        <button type="button" className="button" onClick={() => { pickInPlan(null) }}>Done</button>
      </div>
      <Inside job={job} pick={pick} fieldId={fieldId} />
      {pick.kind !== 'finding' && (
        <div className="pad-buttons">
          <button type="button" className="button" onClick={() => { removeInPlan({ pick }) }}>Remove {name}</button>
          {pick.kind === 'joist' && fieldId !== undefined && <button type="button" className="button" onClick={() => { removeInPlan({ pick: { kind: 'field', id: fieldId } }) }}>Remove all of {title}</button>}
        </div>
      )}
    </section>
  )
}

function Inside({ job, pick, fieldId }: { readonly job: Job, readonly pick: PlanPick, readonly fieldId: string | undefined }) {
  switch (pick.kind) {
    case 'room': return part(job.rooms, pick.id, room => <PickedRoom room={room} job={job} />)
    case 'zone': return part(job.zones, pick.id, zone => <PickedZone zone={zone} />)
    case 'field': case 'joist': return part(job.joistFields, fieldId ?? '', field => <PickedField field={field} job={job} joistId={pick.kind === 'joist' ? pick.id : undefined} />)
    case 'solid': return part(job.solids, pick.id, solid => <PickedSolid solid={solid} />)
    case 'sleeve': return part(job.sleeves, pick.id, sleeve => <PickedSleeve sleeve={sleeve} />)
    case 'equipment': return part(job.equipment, pick.id, equipment => <PickedEquipment equipment={equipment} job={job} />)
    case 'run': return <PickedRun />
    case 'finding': return <PickedFinding id={pick.id} />
  }
}

function part<T extends { readonly id: string }>(list: readonly T[], id: string, show: (one: T) => ReactNode): ReactNode {
  const one = list.find(each => each.id === id)
  return one === undefined ? null : show(one)
}
