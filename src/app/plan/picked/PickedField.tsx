import { nextId } from '#commands/index.ts'
import type { Job, JoistField, JoistSection } from '#model/index.ts'
import { SECTION_TEMPLATES } from '../../places/measureUp/sectionTemplates.ts'
import { LengthField } from '../LengthField.tsx'
import { ChoiceField, NumberField, TextField, TickField } from '../PlainFields.tsx'
import { JoistTable } from './JoistTable.tsx'
import { tried } from './tried.ts'

const NEW = 'new:'

/** The field as a whole, the section it is made of, and the tape measurements of each joist. */
export function PickedField({ field, job, joistId }: { readonly field: JoistField, readonly job: Job, readonly joistId: string | undefined }) {
  const { id } = field
  const section = job.sections.find(one => one.id === field.section)
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-joist-field' }>['set'], held?: boolean) => tried({ do: 'edit-joist-field', id, set }, held)
  const choose = (value: string): void => {
    const template = SECTION_TEMPLATES.find(({ key }) => value === `${NEW}${key}`)
    if (template === undefined) {
      edit({ section: value })
      return
    }
    const made = nextId(job, 'sections')
    tried({ do: 'together', name: `Make ${field.name} of another section`, commands: [{ do: 'add-section', section: { ...template.section, id: made } }, { do: 'edit-joist-field', id, set: { section: made } }] })
  }
  return (
    <>
      <h3>Measured on site</h3>
      <JoistTable field={field} section={section} joistId={joistId} />
      <button type="button" className="button" onClick={() => { tried({ do: 'add-joists', field: id, count: 1 }) }}>One more joist</button>
      <h3>All of them</h3>
      <div className="fields">
        <TextField label="Name" value={field.name} onType={(name) => { edit({ name }) }} />
        <LengthField label="Centres, joist to joist" valueMm={field.centresMm} onType={(centresMm, held) => edit({ centresMm }, held)} />
        <LengthField label="Length of a joist" valueMm={field.lengthMm} onType={(lengthMm, held) => edit({ lengthMm }, held)} />
        <LengthField label="Bearing at each end" valueMm={field.bearingMm} zero onType={(bearingMm, held) => edit({ bearingMm }, held)} />
        <LengthField label="Underside, above datum" valueMm={field.origin[2]} negative onType={(mm, held) => edit({ origin: [field.origin[0], field.origin[1], mm] }, held)} />
        <LengthField label="First joist, x" valueMm={field.origin[0]} negative onType={(mm, held) => edit({ origin: [mm, field.origin[1], field.origin[2]] }, held)} />
        <LengthField label="First joist, y" valueMm={field.origin[1]} negative onType={(mm, held) => edit({ origin: [field.origin[0], mm, field.origin[2]] }, held)} />
        <NumberField label={'They run (0\u00b0 right, 90\u00b0 up)'} value={field.directionDeg} unit={'\u00b0'} least={-360} most={360} onType={(directionDeg) => { edit({ directionDeg }) }} />
        {section?.kind === 'open-web' && <LengthField label="First node, where not measured" valueMm={field.firstNodeMm} negative onType={(firstNodeMm, held) => edit({ firstNodeMm }, held)} />}
      </div>
      {section?.kind === 'open-web' && <TickField label="All flipped: the first node is on the top chord" isOn={field.flip} onTick={(flip) => { edit({ flip }) }} />}
      <h3>Section</h3>
      <ChoiceField label="Made of" value={field.section} onChoose={choose} choices={[
          ...job.sections.map(({ id: value, name }) => ({ value: value as string, words: name })),
          ...SECTION_TEMPLATES.filter(template => !job.sections.some(({ name }) => name === template.section.name)).map(({ key, section: { name } }) => ({ value: `${NEW}${key}`, words: name })),
      ]} />
      <div className="fields">
        {section !== undefined && <SectionFields section={section} />}
      </div>
    </>
  )
}

type Shown<S> = { readonly [K in keyof S as K extends `${string}Mm` ? K : never]?: string }
const LABELS: Shown<Extract<JoistSection, { kind: 'open-web' }>> & Shown<Extract<JoistSection, { kind: 'i-section' }>> & Shown<Extract<JoistSection, { kind: 'cold-formed' }>> & Shown<Extract<JoistSection, { kind: 'solid-timber' }>> = {
  depthMm: 'Depth', widthMm: 'Width', chordWidthMm: 'Chord, width', chordHeightMm: 'Chord, height', webPitchMm: 'Web pitch, node to node', webWidthMm: 'Web, width seen from the side',
  webThicknessMm: 'Web, thickness', endBlockMm: 'Solid block at each end', flangeWidthMm: 'Flange, width', flangeHeightMm: 'Flange, height', lipMm: 'Lip', thicknessMm: 'Sheet, thickness',
}
const MAY_BE_NONE: ReadonlySet<string> = new Set(['endBlockMm', 'lipMm'])
const FACES = [['both', 'plates on both faces'], ['left', 'plates on the left face'], ['right', 'plates on the right face'], ['middle', 'one member in the middle']] as const
const POSTS = [['none', 'no posts'], ['top-nodes', 'at the top nodes'], ['bottom-nodes', 'at the bottom nodes'], ['all-nodes', 'at every node']] as const

function SectionFields({ section }: { readonly section: JoistSection }) {
  const edit = (set: Extract<Parameters<typeof tried>[0], { do: 'edit-section' }>['set'], held?: boolean) => tried({ do: 'edit-section', id: section.id, set }, held)
  return (
    <>
      <TextField label="Section name" value={section.name} onType={(name) => { edit({ name }) }} />
      {Object.entries(section).flatMap(([key, value]) => typeof value !== 'number' ? [] : [
        <LengthField key={key} label={LABELS[key as keyof typeof LABELS] ?? key} valueMm={value} zero={MAY_BE_NONE.has(key)} onType={(mm, held) => edit({ [key]: mm }, held)} />,
      ])}
      {section.kind === 'open-web' && (
        <>
          <ChoiceField label="Webs" value={section.webFaces} choices={FACES.map(([value, words]) => ({ value, words }))} onChoose={(webFaces) => { edit({ webFaces: webFaces as typeof section.webFaces }) }} />
          <ChoiceField label="Posts" value={section.posts} choices={POSTS.map(([value, words]) => ({ value, words }))} onChoose={(posts) => { edit({ posts: posts as typeof section.posts }) }} />
        </>
      )}
    </>
  )
}
