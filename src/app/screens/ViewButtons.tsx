import { turnTo } from '../desk.ts'

/** Ways to stand: large enough for a thumb in a glove. */
export function ViewButtons() {
  return (
    <div className="view-buttons" role="group" aria-label="Where to look from">
      <button type="button" className="button" onClick={() => { turnTo({ stand: 'whole' }) }}>All of it</button>
      <button type="button" className="button" onClick={() => { turnTo({ stand: 'above' }) }}>From above</button>
      <button type="button" className="button" onClick={() => { turnTo({ stand: 'below' }) }}>From below</button>
      <span className="view-nearer">
        <button type="button" className="button button-square" aria-label="Nearer" onClick={() => { turnTo({ zoomBy: 0.7 }) }}>+</button>
        <button type="button" className="button button-square" aria-label="Farther" onClick={() => { turnTo({ zoomBy: 1.4 }) }}>{'\u2212'}</button>
      </span>
    </div>
  )
}
