import { turnTo } from '../desk.ts'

/** Ways to stand: large enough for a thumb in a glove. Where room is short, 'From above' is written 'Above'. */
export function ViewButtons() {
  return (
    <div className="view-buttons" role="group" aria-label="Where to look from">
      <button type="button" className="button" onClick={() => { turnTo({ stand: 'whole' }) }}>All of it</button>
      <button type="button" className="button" aria-label="From above" onClick={() => { turnTo({ stand: 'above' }) }}><span className="view-from">From </span>above</button>
      <button type="button" className="button" aria-label="From below" onClick={() => { turnTo({ stand: 'below' }) }}><span className="view-from">From </span>below</button>
      <span className="view-nearer">
        <button type="button" className="button button-square" aria-label="Nearer" onClick={() => { turnTo({ zoomBy: 0.7 }) }}>+</button>
        <button type="button" className="button button-square" aria-label="Farther" onClick={() => { turnTo({ zoomBy: 1.4 }) }}>{'\u2212'}</button>
      </span>
    </div>
  )
}
