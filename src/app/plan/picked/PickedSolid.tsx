import { CLASSES, type LooseSolid, type Sleeve } from '#model/index.ts'
import { LengthField } from '../LengthField.tsx'
import { ChoiceField, NumberField, TextField } from '../PlainFields.tsx'
import { Corners } from './Corners.tsx'
import { tried } from './tried.ts'

export function PickedSolid({ solid }: { readonly solid: LooseSolid }) {
  const { id, shape } = solid
  return (
    <>
      <div className="fields">
        <TextField label="Name" value={solid.name} onType={(name) => { tried({ do: 'edit-solid', id, set: { name } }) }} />
        <ChoiceField label="It is" value={solid.class} choices={CLASSES.map(value => ({ value, words: value.replace('-', ' ') }))}
          onChoose={(value) => { tried({ do: 'edit-solid', id, set: { class: value as LooseSolid['class'] } }) }} />
        <ShapeFields id={id} shape={shape} />
      </div>
      {shape.kind === 'prism' && [...shape.origin, ...shape.rotationDeg].every(value => value === 0) && <Corners of={id} rings={[shape.outline, ...shape.holes]} />}
    </>
  )
}

function ShapeFields({ id, shape }: { readonly id: string, readonly shape: LooseSolid['shape'] }) {
  const edit = (set: NonNullable<Extract<Parameters<typeof tried>[0], { do: 'edit-solid' }>['set']['shape']>, held?: boolean) => tried({ do: 'edit-solid', id, set: { shape: set } }, held)
  switch (shape.kind) {
    case 'box': {
      const { centre, sizeMm, rotationDeg } = shape
      return (
        <>
          <LengthField label="Length" valueMm={sizeMm[0]} onType={(mm, held) => edit({ sizeMm: [mm, sizeMm[1], sizeMm[2]] }, held)} />
          <LengthField label="Width" valueMm={sizeMm[1]} onType={(mm, held) => edit({ sizeMm: [sizeMm[0], mm, sizeMm[2]] }, held)} />
          <LengthField label="Depth" valueMm={sizeMm[2]} onType={(mm, held) => edit({ sizeMm: [sizeMm[0], sizeMm[1], mm], centre: [centre[0], centre[1], centre[2] + (mm - sizeMm[2]) / 2] }, held)} />
          <LengthField label="Middle, x" valueMm={centre[0]} negative onType={(mm, held) => edit({ centre: [mm, centre[1], centre[2]] }, held)} />
          <LengthField label="Middle, y" valueMm={centre[1]} negative onType={(mm, held) => edit({ centre: [centre[0], mm, centre[2]] }, held)} />
          {rotationDeg[0] === 0 && rotationDeg[1] === 0 && <LengthField label="Underside, above datum" valueMm={centre[2] - sizeMm[2] / 2} negative onType={(mm, held) => edit({ centre: [centre[0], centre[1], mm + sizeMm[2] / 2] }, held)} />}
          <NumberField label="Turned, anticlockwise" value={rotationDeg[2]} unit={'\u00b0'} least={-360} most={360} onType={(deg) => { edit({ rotationDeg: [rotationDeg[0], rotationDeg[1], deg] }) }} />
        </>
      )
    }
    case 'cylinder': {
      const { from, to } = shape
      const isPlumb = from[0] === to[0] && from[1] === to[1]
      return (
        <>
          <LengthField label="Diameter" valueMm={shape.diameterMm} onType={(diameterMm, held) => edit({ diameterMm }, held)} />
          {isPlumb && <LengthField label="Middle, x" valueMm={from[0]} negative onType={(mm, held) => edit({ from: [mm, from[1], from[2]], to: [mm, to[1], to[2]] }, held)} />}
          {isPlumb && <LengthField label="Middle, y" valueMm={from[1]} negative onType={(mm, held) => edit({ from: [from[0], mm, from[2]], to: [to[0], mm, to[2]] }, held)} />}
          <LengthField label="From, above datum" valueMm={from[2]} negative onType={(mm, held) => edit({ from: [from[0], from[1], mm] }, held)} />
          <LengthField label="To, above datum" valueMm={to[2]} negative onType={(mm, held) => edit({ to: [to[0], to[1], mm] }, held)} />
        </>
      )
    }
    case 'prism': return (
      <>
        <LengthField label="From, above datum" valueMm={shape.bottomMm} negative onType={(bottomMm, held) => edit({ bottomMm }, held)} />
        <LengthField label="To, above datum" valueMm={shape.topMm} negative onType={(topMm, held) => edit({ topMm }, held)} />
      </>
    )
    case 'tube': {
      const levelMm = shape.points[0][2]
      const isLevel = shape.points.every(point => point[2] === levelMm)
      return (
        <>
          <LengthField label="Diameter" valueMm={shape.diameterMm} onType={(diameterMm, held) => edit({ diameterMm }, held)} />
          <LengthField label="Radius of its bends" valueMm={shape.bendRadiusMm} zero onType={(bendRadiusMm, held) => edit({ bendRadiusMm }, held)} />
          {isLevel && <LengthField label="Middle, above datum" valueMm={levelMm} negative onType={(mm, held) => edit({ points: shape.points.map(([x, y]) => [x, y, mm]) }, held)} />}
        </>
      )
    }
  }
}

export function PickedSleeve({ sleeve: { id, name, at, diameterMm, lengthMm } }: { readonly sleeve: Sleeve }) {
  return (
    <div className="fields">
      <TextField label="Name" value={name} onType={(text) => { tried({ do: 'edit-sleeve', id, set: { name: text } }) }} />
      <LengthField label="Clear diameter inside" valueMm={diameterMm} onType={(mm, held) => tried({ do: 'edit-sleeve', id, set: { diameterMm: mm } }, held)} />
      <LengthField label="Length, end to end" valueMm={lengthMm} onType={(mm, held) => tried({ do: 'edit-sleeve', id, set: { lengthMm: mm } }, held)} />
      {(['x', 'y', 'height above datum'] as const).map((words, axis) => (
        <LengthField key={words} label={`Middle, ${words}`} valueMm={at[axis]} negative onType={(mm, held) => tried({ do: 'move-sleeve', id, to: at.with(axis, mm) as [number, number, number], keepAxis: true }, held)} />
      ))}
    </div>
  )
}
