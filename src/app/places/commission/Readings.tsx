import { percent } from '#air/wording.ts'
import { flowNumber, unitWords } from '#commands/typedFlow.ts'
import { SPEED_WORDS, type Round } from './rounds.ts'
import { inHand } from './useRound.ts'

/** Every terminal with its target and what each pass of this speed read, side by side. Touched, it comes into hand. */
export function Readings({ now, currentId }: { readonly now: Round, readonly currentId: string | null }) {
  const { rounds, round, shows } = now
  if (round === null) return null
  const speed = round.round.speed
  const own = rounds.filter((one) => one.round.speed === speed)
  return (
    <section className="cm-readings" aria-label="All terminals">
      <h3>All terminals, {SPEED_WORDS[speed]}, {unitWords(shows)}</h3>
      <ol>
        {round.rows.map(({ terminal: { equipment, stream }, targetLps }) => {
          const id = equipment.id as string
          return (
            <li key={id}>
              <button type="button" className="cm-row" aria-current={id === currentId ? 'true' : undefined} data-row={id} onClick={() => {
                inHand.setState({ picked: id, said: '' })
                document.querySelector('.cm-stage')?.scrollIntoView({ block: 'start' })
              }}>
                <span className="cm-row-name">{equipment.name} <span className="quiet">{stream}</span></span>
                <span className="cm-cell"><span className="cm-cell-name">target</span><b>{flowNumber(targetLps, shows)}</b></span>
                {own.map(({ number, rows }) => {
                  const row = rows.find(({ terminal }) => terminal.equipment.id === id)
                  const { readLps = null, offRatio = null, isWithin = null, isTurned = false } = row ?? {}
                  return (
                    <span key={number} className={isWithin === null ? 'cm-cell' : isWithin ? 'cm-cell cm-cell-in' : 'cm-cell cm-cell-out'}>
                      <span className="cm-cell-name">pass {number}</span>
                      {readLps === null ? <span aria-label="not read">{'\u2013'}</span> : <b>{flowNumber(readLps, shows)}</b>}
                      {offRatio !== null && <span className="cm-off">{isWithin === null ? '' : isWithin ? '\u2713 ' : '\u2717 '}{offRatio > 0 ? '+' : offRatio < 0 ? '\u2212' : ''}{percent(Math.abs(offRatio))}</span>}
                      {isTurned && <span className="cm-off">turned</span>}
                    </span>
                  )
                })}
              </button>
            </li>
          )
        })}
      </ol>
      {round.strangers.length > 0 && <p className="quiet">Also read, but no longer in the job: {round.strangers.map(({ terminal, lps }) => `${terminal} ${flowNumber(lps, shows)} ${unitWords(shows)}`).join(', ')}.</p>}
    </section>
  )
}
