import type { Job } from '#model/index.ts'
import { countText, mmText } from '../../figures.ts'
import { pickInPlan } from '../../plan/board.ts'
import { boundsOf } from '../../plan/planBounds.ts'
import type { PickKind } from '../../plan/planPick.ts'

interface Thing { readonly kind: PickKind, readonly id: string, readonly name: string, readonly about: string }

/** Everything that was drawn, by name: the same as touching it in plan, for keys and screen readers. */
export function ThingsList({ job, kinds }: { readonly job: Job, readonly kinds: readonly PickKind[] }) {
  const things = thingsIn(job).filter(({ kind }) => kinds.includes(kind))
  if (things.length === 0) return null
  return (
    <section aria-label="What is drawn">
      <h3>What is drawn</h3>
      <ul className="things">
        {things.map(({ kind, id, name, about }) => (
          <li key={`${kind}:${id}`}><button type="button" className="thing" data-thing={`${kind}:${id}`} onClick={() => { pickInPlan({ kind, id }) }}>{name} <span>{about}</span></button></li>
        ))}
      </ul>
    </section>
  )
}

function thingsIn({ rooms, zones, joistFields, sections, solids, sleeves, equipment }: Job): Thing[] {
  const across = (outline: readonly [number, number][]): string => {
    const [minX, minY, maxX, maxY] = boundsOf(outline)
    return `${mmText(maxX - minX)} by ${mmText(maxY - minY)}`
  }
  return [
    ...rooms.map(({ id, name, outline }): Thing => ({ kind: 'room', id, name, about: across(outline) })),
    ...zones.map(({ id, name, undersideMm, topMm }): Thing => ({ kind: 'zone', id, name, about: `${mmText(topMm - undersideMm)} high` })),
    ...joistFields.map(({ id, name, joists, section }): Thing => ({ kind: 'field', id, name, about: `${countText(joists.length, 'joist')}, ${sections.find(one => one.id === section)?.name ?? ''}` })),
    ...solids.map(({ id, name, class: kind }): Thing => ({ kind: 'solid', id, name, about: kind.replace('-', ' ') })),
    ...sleeves.map(({ id, name, diameterMm }): Thing => ({ kind: 'sleeve', id, name, about: `${mmText(diameterMm)} clear` })),
    ...equipment.map(({ id, name, spigots }): Thing => ({ kind: 'equipment', id, name, about: countText(spigots.length, 'spigot') })),
  ]
}
