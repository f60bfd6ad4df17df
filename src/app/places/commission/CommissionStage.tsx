import { useEffect } from 'react'
import type { NextStep } from '#air/commissioning.ts'
import { bench } from '../../editing/theBench.ts'
import { MeterCard } from './MeterCard.tsx'
import { Readings } from './Readings.tsx'
import { Sheet } from './Sheet.tsx'
import { StartPass } from './StartPass.tsx'
import { nextPass, terminalInHand, SPEED_WORDS, type Round } from './rounds.ts'
import { inHand, useInHand, useRound } from './useRound.ts'
import '../../plan/picked/picked.css'
import './commission.css'

/** In the place of the picture: the terminal in hand, and all of them with every pass. */
export function CommissionStage() {
  const now = useRound()
  const picked = useInHand((state) => state.picked)
  const isSheetOpen = useInHand((state) => state.isSheetOpen)
  useEffect(() => () => { inHand.setState({ picked: null, said: '', isSheetOpen: false }) }, [])
  if (now === null) return null
  if (now.rates.terminals.length === 0) {
    return (
      <div className="picture-words">
        <h2>Nothing to measure yet</h2>
        <p>Put supply and extract terminals into rooms under “Set down”, and name the rooms’ use. Then the flow that each should show stands here.</p>
      </div>
    )
  }
  const { round, isEnded } = now
  const terminal = isEnded ? null : terminalInHand(now, picked)
  const row = round?.rows.find((one) => one.terminal === terminal)
  return (
    <div className="cm-stage" data-passes={now.rounds.length}>
      <div className="cm-left">
        {round !== null && <Progress now={now} />}
        {round === null || isEnded ? <StartPass now={now} /> : row !== undefined ? <MeterCard now={now} row={row} /> : now.step?.kind === 'end' ? <Through now={now} step={now.step} /> : null}
      </div>
      <Readings now={now} currentId={terminal?.equipment.id ?? null} />
      {isSheetOpen && <Sheet assembly={now.assembly} />}
    </div>
  )
}

function Progress({ now: { round, isEnded } }: { readonly now: Round }) {
  const wanted = round!.rows.filter(({ targetLps }) => targetLps > 0), read = wanted.filter(({ readLps }) => readLps !== null).length
  return (
    <div className="cm-progress">
      <p><b>Pass {round!.number}, {SPEED_WORDS[round!.round.speed]}</b>{isEnded ? ', ended' : ''}: {read} of {wanted.length} read</p>
      <progress max={wanted.length || 1} value={read} aria-label={`Read in pass ${round!.number}`} />
    </div>
  )
}

/** Every valve has had its turn: what the fans want, and on to the next pass. */
function Through({ now, step }: { readonly now: Round, readonly step: Extract<NextStep, { kind: 'end' }> }) {
  const { round, record, rounds } = now
  const speed = round!.round.speed
  const fan = record?.fans.findLast((entry) => entry.speed === speed)
  return (
    <section className="cm-card" aria-label="This pass is through">
      <h3>{round!.isDone ? `Every terminal is within ${record!.tolerancePercent} %` : 'Each valve has had its turn'}</h3>
      {step.fans.length === 0 ? <p>The totals are where they should be: leave the fans as they are.</p> : (
        <ul className="cm-fans">
          {step.fans.map(({ stream, speedRatio }) => {
            const was = stream === 'supply' ? fan?.supplyPercent : fan?.extractPercent
            return <li key={stream}>Bring the <b>{stream} fan {speedRatio > 1 ? 'up' : 'down'}</b> to {speedRatio.toFixed(2)} times its speed{was === undefined ? '' : `, from ${was} % to ${Math.round(was * speedRatio)} %`}.</li>
          })}
        </ul>
      )}
      {!round!.isDone && <p>A turned valve changes what its neighbours get: go round once more and read them all again. Three passes commonly do.</p>}
      <div className="cm-steps">
        <button type="button" className={round!.isDone ? 'button' : 'button button-strong'} onClick={() => { bench.perform(nextPass(now, speed)) }}>End it and start pass {rounds.length + 1}</button>
        <button type="button" className={round!.isDone ? 'button button-strong' : 'button'} onClick={() => { bench.perform({ do: 'edit-pass', pass: rounds.length - 1, set: { ended: true } }) }}>End the pass</button>
      </div>
    </section>
  )
}
