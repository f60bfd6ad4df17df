import { useEffect, useState } from 'react'
import type { Equipment } from '#model/index.ts'
import { snapSpigot } from '#routing/snap.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { ChoiceField } from '../PlainFields.tsx'
import { startSnapping, stopSnapping, takeSnapping, useSnapping } from '../snapping.ts'
import { nearGates } from './nearGates.ts'
import { tried } from './tried.ts'

/** Moves the whole piece so that one spigot looks through the middle of an opening or of a bay: pointed at, or one near it from a list. */
export function SpigotSnap({ equipment }: { readonly equipment: Equipment }) {
  useBench(({ assembly }) => assembly)
  const { spigot: inHand, shown, why } = useSnapping((now) => now)
  const isPointing = inHand?.equipmentId === equipment.id
  const [chosen, setChosen] = useState<string>((equipment.spigots.find(({ id }) => id !== 'main') ?? equipment.spigots[0]).id)
  const wanted = isPointing ? inHand.spigotId : chosen
  const spigotId = equipment.spigots.find(({ id }) => id === wanted)?.id ?? equipment.spigots[0].id
  useEffect(() => stopSnapping, [])
  const context = bench.context()
  const placed = context?.assembly.spigots.find(({ equipment: { id }, spigot }) => id === equipment.id && spigot.id === spigotId)
  const offers = context === null || placed === undefined ? [] : nearGates(context.assembly.joists, placed).flatMap((target) => {
    const snap = snapSpigot(context, equipment.id, spigotId, target)
    return 'why' in snap ? [] : [snap]
  })
  return (
    <section className="snap">
      <h3>Line a spigot up</h3>
      {equipment.spigots.length > 1 && <ChoiceField label="Spigot" value={spigotId} choices={equipment.spigots.map(({ id }) => ({ value: id as string, words: id }))} onChoose={(id) => {
        setChosen(id)
        if (isPointing) startSnapping(equipment.id, id)
      }} />}
      {isPointing ? (
        <>
          <p className="pad-step" role="status">{shown !== null ? shown.snap.words : why !== '' ? why : 'Point at an opening under its joist, or between two joists: where it would stand is shown first.'}</p>
          <div className="pad-buttons">
            <button type="button" className="button button-strong" disabled={shown === null} onClick={takeSnapping}>Move it there</button>
            <button type="button" className="button" onClick={stopSnapping}>Leave it</button>
          </div>
        </>
      ) : (
        <div className="pad-buttons"><button type="button" className="button" onClick={() => { startSnapping(equipment.id, spigotId) }}>Point where it shall look</button> <span className="quiet">Or tap its ring in the picture.</span></div>
      )}
      {offers.length === 0 ? <p className="quiet">No joist lies beside it. Lay the joists, and the openings near it are offered here.</p> : (
        <details className="corners">
          <summary>Openings and bays near it</summary>
          <ul className="offers">
            {offers.map(({ words, centre, by }) => (
              <li key={words}>
                {Math.hypot(...by) < 0.05 ? <p>{words}</p>
                  : <button type="button" className="button offer" onClick={() => { tried({ do: 'move-equipment', id: equipment.id, to: [...centre], keepAxis: true }) }}>{words}</button>}
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  )
}
