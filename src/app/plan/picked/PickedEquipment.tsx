import { useState } from 'react'
import type { CheckContext } from '#checks/context.ts'
import { whatItFaces } from '#checks/facing.ts'
import type { AirStream, Equipment, Job } from '#model/index.ts'
import { packerFor } from '#routing/packer.ts'
import { AIR, STREAMS_IN_ORDER } from '#scene/air.ts'
import { TriedPackers } from './TriedPackers.tsx'
import { tryPackers } from './packerTrial.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { mmText } from '../../figures.ts'
import { LengthField } from '../LengthField.tsx'
import { ChoiceField, NumberField, TextField } from '../PlainFields.tsx'
import { SpigotLayoutWork } from './SpigotLayoutWork.tsx'
import { SpigotSnap } from './SpigotSnap.tsx'
import { tried } from './tried.ts'

export function PickedEquipment({ equipment, job }: { readonly equipment: Equipment, readonly job: Job }) {
  const { id, kind, centre, sizeMm, rotationDeg } = equipment
  const isLevel = rotationDeg[0] % 180 === 0 && rotationDeg[1] % 180 === 0
  const move = (axis: 0 | 1 | 2) => (mm: number, held: boolean) => tried({ do: 'move-equipment', id, to: centre.with(axis, mm) as [number, number, number], keepAxis: true }, held)
  const size = (axis: 0 | 1 | 2) => (mm: number, held: boolean) => tried({ do: 'resize-equipment', id, sizeMm: sizeMm.with(axis, mm) as [number, number, number], keepAxis: true }, held)
  return (
    <>
      <div className="fields">
        <TextField label="Name" value={equipment.name} onType={(name) => { tried({ do: 'edit-equipment', id, set: { name } }) }} />
        {kind !== 'unit' && <ChoiceField label="Air" value={equipment.air ?? ''} onChoose={(air) => { tried({ do: 'edit-equipment', id, set: { air: air === '' ? null : air as AirStream } }) }}
          choices={[{ value: '', words: 'not said' }, ...STREAMS_IN_ORDER.map(value => ({ value, words: `${AIR[value].letters}, ${AIR[value].words}` }))]} />}
        {kind === 'plenum' && <ChoiceField label="Room that it serves" value={equipment.room ?? ''} onChoose={(room) => { tried({ do: 'edit-equipment', id, set: { room: room === '' ? null : room } }) }}
          choices={[{ value: '', words: 'none' }, ...job.rooms.map(room => ({ value: room.id as string, words: room.name }))]} />}
        <LengthField label="Middle, x" valueMm={centre[0]} negative onType={move(0)} />
        <LengthField label="Middle, y" valueMm={centre[1]} negative onType={move(1)} />
        {isLevel
          ? <LengthField label="Underside, above datum" valueMm={centre[2] - sizeMm[2] / 2} negative onType={(undersideMm, held) => tried({ do: 'set-equipment-underside', id, undersideMm, keepAxis: true }, held)} />
          : <LengthField label="Middle, above datum" valueMm={centre[2]} negative onType={move(2)} />}
        <NumberField label="Turned, anticlockwise" value={rotationDeg[2]} unit={'\u00b0'} least={-360} most={360} onType={(deg) => { tried({ do: 'turn-equipment', id, toDeg: [rotationDeg[0], rotationDeg[1], deg], keepAxis: true }) }} />
      </div>
      <div className="pad-buttons">
        {[90, -90, 180].map(byDeg => <button key={byDeg} type="button" className="button" onClick={() => { tried({ do: 'turn-equipment', id, byDeg, keepAxis: true }) }}>Turn {byDeg === 180 ? '180\u00b0' : byDeg > 0 ? '90\u00b0 left' : '90\u00b0 right'}</button>)}
      </div>
      {(kind === 'manifold' || kind === 'plenum') && <Facing equipment={equipment} job={job} />}
      {kind === 'plenum' && <Packers equipment={equipment} />}
      {equipment.spigots.length > 0 && <SpigotSnap key={id} equipment={equipment} />}
      {(kind === 'manifold' || kind === 'plenum') && <SpigotLayoutWork key={`lay ${id}`} equipment={equipment} job={job} />}
      <details className="corners">
        <summary>Sizes and spigots</summary>
        <div className="fields">
          <LengthField label="Body along its x" valueMm={sizeMm[0]} onType={size(0)} />
          <LengthField label="Body along its y" valueMm={sizeMm[1]} onType={size(1)} />
          <LengthField label="Body, height" valueMm={sizeMm[2]} onType={size(2)} />
        </div>
        {equipment.spigots.map(spigot => (
          <div className="fields" key={spigot.id}>
            <LengthField label={`Spigot ${spigot.id} takes duct of`} valueMm={spigot.diameterMm} onType={(diameterMm, held) => tried({ do: 'edit-spigot', id, spigot: spigot.id, set: { diameterMm }, keepAxis: true }, held)} />
            <button type="button" className="button" onClick={() => { tried({ do: 'remove-spigot', id, spigot: spigot.id }) }}>Remove spigot {spigot.id}</button>
          </div>
        ))}
      </details>
    </>
  )
}

/** Which spigots look at something so near that a duct has no room to turn away from it. */
function Facing({ equipment, job }: { readonly equipment: Equipment, readonly job: Job }) {
  useBench(({ assembly }) => assembly)
  const context = bench.context()
  if (context === null) return null
  const faced = context.assembly.spigots.filter((spigot) => spigot.equipment.id === equipment.id).flatMap((spigot) => {
    const type = job.ductTypes.find(({ outerDiameterMm }) => Math.abs(outerDiameterMm - spigot.spigot.diameterMm) < 0.5)
    if (type === undefined || type.kind !== 'semi-rigid') return []
    const facing = whatItFaces(context, spigot, type.outerDiameterMm / 2 + type.insulationMm, type.minBendRadiusMm)
    return facing === null ? [] : [{ id: spigot.spigot.id, ...facing }]
  })
  if (faced.length === 0) return null
  return (
    <section className="packers" aria-label="What its spigots look at">
      <h3>Too near to turn away from</h3>
      <ul>
        {faced.map(({ id, ref, straightMm }) => <li key={id}>Spigot {id} looks at {ref.name}: {straightMm < 1 ? 'no duct goes on it straight' : `a duct goes straight for ${mmText(Math.floor(straightMm))}`}.</li>)}
      </ul>
      <p className="quiet">A duct needs its bend radius to turn. Move or turn it, or line a spigot up with an opening.</p>
    </section>
  )
}

/** The packers that a plenum stands on, and those that it wants for its run to leave at the middle of an opening. */
function Packers({ equipment: { id, packerMm = 0 } }: { readonly equipment: Equipment }) {
  useBench(({ assembly }) => assembly)
  const context = bench.context()
  const [lastTried, setTried] = useState<{ readonly context: CheckContext, readonly trial: ReturnType<typeof tryPackers> } | null>(null)
  const packer = context === null ? null : packerFor(context, id)
  // what was tried of another state of the job says nothing of this one
  const trial = lastTried?.context === context ? lastTried?.trial ?? null : null
  return (
    <section className="packers">
      <h3>Packers</h3>
      <div className="fields"><LengthField label="Stands on packers of" valueMm={packerMm} zero onType={(mm, held) => tried({ do: 'set-packer', id, packerMm: mm === 0 ? null : mm, keepAxis: true }, held)} /></div>
      {context !== null && packer !== null && ('why' in packer ? <p className="quiet">{packer.why} Once one does, the height that brings the spigot to its middle is worked out here.</p> : (
        <>
          <p>{packer.words}</p>
          {packer.heightMm >= 0 && (Math.abs(packer.by[2]) > 0.05 || Math.abs(packer.heightMm - packerMm) > 0.05) && (
            <>
              {trial === null && <button type="button" className="button button-strong" onClick={() => { setTried({ context, trial: tryPackers(context.assembly.job, context, id) }) }}>Try packers of {mmText(packer.heightMm)} with its run</button>}
              {trial !== null && ('why' in trial ? <p className="field-why" role="alert">They cannot be set: {trial.why}.</p> : <TriedPackers trial={trial} leave={() => { setTried(null) }} />)}
            </>
          )}
        </>
      ))}
    </section>
  )
}
