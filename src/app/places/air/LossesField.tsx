import type { PartLoss } from '#model/index.ts'
import { RowsField } from './RowsField.tsx'

const KINDS = [
  { value: 'filter', words: 'filter' }, { value: 'silencer', words: 'silencer' }, { value: 'exchanger', words: 'exchanger' }, { value: 'damper', words: 'damper' },
  { value: 'fitting', words: 'fitting' }, { value: 'grille', words: 'grille' }, { value: 'other', words: 'other' },
] as const

/** Parts whose pressure drop is known from their makers. */
export function LossesField({ title, losses, onLosses }: { readonly title: string, readonly losses: readonly PartLoss[] | undefined, readonly onLosses: (losses: PartLoss[] | null) => string | undefined }) {
  return (
    <RowsField title={title} one="part" usual={{ name: 'Filter', kind: 'filter', exponent: '2' }}
      columns={[
        { key: 'name', label: 'name' }, { key: 'kind', label: 'kind', choices: KINDS }, { key: 'dropPa', label: 'drop', unit: 'Pa', least: 0 },
        { key: 'atLps', label: 'at', unit: 'l/s', least: 0.01 }, { key: 'exponent', label: 'power', unit: '', least: 1, most: 2 },
      ]}
      rows={losses ?? []} onRows={(rows) => onLosses(rows as unknown as PartLoss[] | null)} />
  )
}
