import { useState } from 'react'
import type { Equipment } from '#model/index.ts'
import { snapSpigot } from '#routing/snap.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { ChoiceField } from '../PlainFields.tsx'
import { nearGates } from './nearGates.ts'
import { tried } from './tried.ts'

/** Moves the whole piece so that one spigot looks through the middle of an opening or of a bay near it. */
export function SpigotSnap({ equipment }: { readonly equipment: Equipment }) {
  useBench(({ assembly }) => assembly)
  const [chosen, setChosen] = useState<string>(equipment.spigots[0].id)
  const spigotId = equipment.spigots.find(({ id }) => id === chosen)?.id ?? equipment.spigots[0].id
  const context = bench.context()
  const placed = context?.assembly.spigots.find(({ equipment: { id }, spigot }) => id === equipment.id && spigot.id === spigotId)
  const offers = context === null || placed === undefined ? [] : nearGates(context.assembly.joists, placed).flatMap((target) => {
    const snap = snapSpigot(context, equipment.id, spigotId, target)
    return 'why' in snap ? [] : [snap]
  })
  return (
    <section className="snap">
      <h3>Line a spigot up</h3>
      {equipment.spigots.length > 1 && <ChoiceField label="Spigot" value={spigotId} choices={equipment.spigots.map(({ id }) => ({ value: id as string, words: id }))} onChoose={setChosen} />}
      {offers.length === 0 && <p className="quiet">No joist lies beside it. Lay the joists, and the openings near it are offered here.</p>}
      <ul className="offers">
        {offers.map(({ words, centre, by }) => (
          <li key={words}>
            {Math.hypot(...by) < 0.05 ? <p>{words}</p>
              : <button type="button" className="button offer" onClick={() => { tried({ do: 'move-equipment', id: equipment.id, to: [...centre], keepAxis: true }) }}>{words}</button>}
          </li>
        ))}
      </ul>
    </section>
  )
}
