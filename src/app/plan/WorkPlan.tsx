import { useEffect } from 'react'
import { bench } from '../editing/theBench.ts'
import { useBench } from '../editing/useBench.ts'
import { useDesk } from '../useDesk.ts'
import { PenMarks } from './PenMarks.tsx'
import { PlanView } from './PlanView.tsx'
import { PlanUnderlay } from './PlanUnderlay.tsx'
import { board, dragInPlan, hoverOver, nudgeInPlan, pickInPlan, putToolAway, removeInPlan, tapPlan } from './board.ts'
import type { PickKind } from './planPick.ts'
import { useBoard } from './useBoard.ts'

/** The plan as it is worked on: what is on the bench, with the tool in hand. */
export function WorkPlan() {
  const assembly = useBench(({ assembly }) => assembly)
  const verdict = useBench(({ verdict }) => verdict)
  const undoName = useBench(({ undoName }) => undoName)
  const { pick, tool, pen, hover, said, asked } = useBoard(now => now)
  const fileName = useDesk(({ open }) => open?.fileName)
  const selection = useDesk(({ selection }) => selection)
  useEffect(() => {
    if (selection?.kind === 'run') board.setState({ pick: { kind: 'run', id: selection.runId } })
    if (selection?.kind === 'finding') board.setState({ pick: { kind: 'finding', id: selection.id } })
  }, [selection])
  if (assembly === null) {
    return (
      <div className="picture-words">
        <h2>No job on the bench</h2>
        <p>Start an empty one or from a template beside this, or open a file.</p>
      </div>
    )
  }
  const { job } = assembly
  const isBare = job.rooms.length + job.zones.length + job.joistFields.length + job.solids.length + job.equipment.length === 0
  const isDrawing = tool !== null || asked !== null
  return (
    <>
      <PlanView assembly={assembly} findings={isDrawing ? undefined : verdict?.findings} pick={pick} under={<PlanUnderlay job={job} />} fitTo={`${fileName} ${job.underlay?.picture ?? ''} ${isBare}`}
        onPick={pickInPlan} onPoint={isDrawing ? tapPlan : undefined} onHover={hoverOver} onDrag={dragInPlan} onNudge={nudgeInPlan} onRemove={removeInPlan}
        onPutAway={() => {
          if (isDrawing) putToolAway()
          else pickInPlan(null)
        }}
        over={frame => tool === null ? null : <PenMarks pen={pen} hover={hover} frame={frame} />} />
      {isBare && !isDrawing && <p className="plan-teach">Bare paper. Pick up <b>Room</b> and tap its corners one after the other; the sides are held square for you, and a length can be typed at any corner.</p>}
      <div className="plan-foot" role="status">
        {asked !== null ? <p className="is-asked">{asked.words}</p> : said !== null && (said.isRefusal || tool === null) && (
          <p className={said.isRefusal ? 'is-refusal' : undefined}>{said.words}</p>
        )}
        {said !== null && !said.isRefusal && undoName !== null && <button type="button" className="button" onClick={bench.undo}>Undo: {undoName}</button>}
        {asked === null && said === null && pick !== null && canMove(pick.kind) && <p className="plan-keys-hint">Drag it, or arrow keys: 10 mm, with Alt 1 mm</p>}
      </div>
    </>
  )
}

function canMove(kind: PickKind): boolean {
  return kind !== 'joist' && kind !== 'run' && kind !== 'finding'
}
