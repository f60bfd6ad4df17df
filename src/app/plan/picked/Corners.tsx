import type { Point2 } from '#model/index.ts'
import { LengthField } from '../LengthField.tsx'
import { tried } from './tried.ts'

/** The corners of outlines by x and y: typed to the millimetre, one more between two, one less. */
export function Corners({ of, rings }: { readonly of: string, readonly rings: readonly (readonly Point2[])[] }) {
  return (
    <details className="corners" open={rings.length === 1 && rings[0].length <= 6}>
      <summary>Corners, x and y from the datum</summary>
      {rings.map((points, ring) => (
        <ol key={ring} aria-label={ring === 0 ? 'Outline' : `Hole ${ring}`}>
          {points.map(([x, y], corner) => {
            const [nx, ny] = points[(corner + 1) % points.length]
            return (
              <li key={corner}>
                <b aria-hidden="true">{corner + 1}</b>
                <LengthField label={`Corner ${corner + 1}, x`} valueMm={x} negative onType={(mm, held) => tried({ do: 'move-corner', of, ring, corner, at: [mm, y] }, held)} />
                <LengthField label={`Corner ${corner + 1}, y`} valueMm={y} negative onType={(mm, held) => tried({ do: 'move-corner', of, ring, corner, at: [x, mm] }, held)} />
                <button type="button" className="button button-square" aria-label={`One more corner after corner ${corner + 1}`} onClick={() => { tried({ do: 'insert-corner', of, ring, corner: corner + 1, at: [(x + nx) / 2, (y + ny) / 2] }) }}>+</button>
                <button type="button" className="button button-square" aria-label={`Remove corner ${corner + 1}`} disabled={points.length <= 3} onClick={() => { tried({ do: 'remove-corner', of, ring, corner }) }}>{'\u2212'}</button>
              </li>
            )
          })}
        </ol>
      ))}
    </details>
  )
}
