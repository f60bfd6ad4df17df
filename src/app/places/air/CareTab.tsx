import { sourceWords } from '#air/sources.ts'
import { tried } from '../../plan/picked/tried.ts'
import { FigureField } from './FigureField.tsx'
import type { AirShown } from './useAir.ts'

/** Where people can be hurt. */
export function CareTab({ report: { cautions }, assembly: { job } }: AirShown) {
  return (
    <>
      <section className="air-part">
        <h3>Where people can be hurt</h3>
        <ul className="air-cautions">{cautions.map(({ code, text, source }) => <li key={text} data-caution={code}>{text}{source !== null && <> <span className="air-from">{sourceWords(source)}</span></>}</li>)}</ul>
      </section>
      <section className="air-part">
        <h3>Weights</h3>
        <div className="fields">
          {job.equipment.filter(({ kind }) => kind === 'unit' || kind === 'manifold').map((equipment) => (
            <FigureField key={equipment.id} label={equipment.name} unit="kg" value={equipment.airflow?.weightKg} least={0.1} assumed="not entered" onTake={(weightKg) => tried({ do: 'edit-equipment-air', id: equipment.id, set: { weightKg } })} />
          ))}
        </div>
      </section>
    </>
  )
}
