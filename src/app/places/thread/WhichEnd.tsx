import { useBench } from '../../editing/useBench.ts'
import { countText, mmText } from '../../figures.ts'
import { endPlacesOf } from './ends.ts'
import { aimAt, startAt, takeAim } from './laying.ts'
import { useThreading } from './threading.ts'

/** Several ends lay under the thumb: which of them is meant. */
export function WhichEnd() {
  const assembly = useBench((now) => now.assembly)
  const several = useThreading((now) => now.several)
  const isLaying = useThreading((now) => now.laying !== null)
  if (assembly === null || several.length === 0) return null
  const places = endPlacesOf(assembly).filter(({ key }) => several.includes(key))
  return (
    <section className="thread-which" aria-label="Which of them">
      <h3>{countText(places.length, 'end')} in one place: which?</h3>
      <ul className="thread-rows">
        {places.map(({ key, end, at, name, diameterMm }) => (
          <li key={key}><button type="button" className="button thread-row" onClick={() => {
            if (isLaying) takeAim({ kind: 'end', end, at, words: '' })
            else startAt(end, true)
          }}>{name} <span className="quiet">{mmText(diameterMm)}</span></button></li>
        ))}
      </ul>
      <button type="button" className="button" onClick={() => { aimAt(null) }}>None of them</button>
    </section>
  )
}
