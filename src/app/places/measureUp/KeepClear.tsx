import type { Job, SolidClass } from '#model/index.ts'
import { LengthField } from '../../plan/LengthField.tsx'
import { tried } from '../../plan/picked/tried.ts'

const BESIDE: readonly { readonly className: SolidClass, readonly words: string }[] = [
  { className: 'web', words: 'Ducts to webs' }, { className: 'chord', words: 'Ducts to chords' }, { className: 'duct', words: 'Ducts to each other' },
  { className: 'pipe', words: 'Ducts to pipes' }, { className: 'cable', words: 'Ducts to cables' }, { className: 'downlight', words: 'Ducts to downlights' },
]

/** How far ducts must keep from things: what every check of the job asks. */
export function KeepClear({ job: { settings } }: { readonly job: Job }) {
  const entryOf = (className: SolidClass): number | undefined => settings.clearances.find(({ between: [a, b] }) => a === 'duct' && b === className || b === 'duct' && a === className)?.mm
  return (
    <details className="corners">
      <summary>What ducts must keep clear of</summary>
      <p className="quiet">Every check asks for these. What local rules, the joist maker or the maker of a flue or downlight ask for comes first.</p>
      <div className="fields">
        <LengthField label="Ducts to anything else" valueMm={settings.clearanceMm} zero onType={(mm, held) => tried({ do: 'edit-settings', set: { clearanceMm: mm } }, held)} />
        {BESIDE.map(({ className, words }) => <LengthField key={className} label={words} valueMm={entryOf(className) ?? settings.clearanceMm} zero
          onType={(mm, held) => tried({ do: 'set-clearance', between: ['duct', className], mm }, held)} />)}
      </div>
    </details>
  )
}
