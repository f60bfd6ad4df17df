import { useEffect } from 'react'
import type { Point2 } from '#model/index.ts'
import { bench } from '../editing/theBench.ts'
import { useBench } from '../editing/useBench.ts'
import { useDesk } from '../useDesk.ts'
import { PenMarks } from './PenMarks.tsx'
import { PlanView, type PlanLayer } from './PlanView.tsx'
import { PlanUnderlay } from './PlanUnderlay.tsx'
import { board, dragInPlan, hoverOver, nudgeInPlan, pickInPlan, putToolAway, removeInPlan, tapPlan } from './board.ts'
import { RunPoints } from './RunPoints.tsx'
import { SnapMarks } from './SnapMarks.tsx'
import type { PickKind, PlanPick } from './planPick.ts'
import { pointSnapping, rayDown, spigotNear, startSnapping, stopSnapping, tapSnapping, useSnapping } from './snapping.ts'
import { useBoard } from './useBoard.ts'

/** while something is pointed at, nothing is written over it */
const WITHOUT_NAMES: ReadonlySet<PlanLayer> = new Set(['names'])

/** The plan as it is worked on: what is on the bench, with the tool in hand. */
export function WorkPlan() {
  const assembly = useBench(({ assembly }) => assembly)
  const verdict = useBench(({ verdict }) => verdict)
  const undoName = useBench(({ undoName }) => undoName)
  const { pick, tool, pen, hover, said, asked } = useBoard(now => now)
  const isSnapping = useSnapping(({ spigot }) => spigot !== null)
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
  const picked = pick?.kind === 'equipment' ? job.equipment.find(({ id }) => id === pick.id) : undefined
  const pickedRun = pick?.kind === 'run' ? assembly.runs.find(({ run }) => run.id === pick.id) : undefined
  /** a spigot of what is picked out already is taken in hand */
  const pickOrHold = (next: PlanPick | null, at: Point2, reachMm: number): void => {
    const spigot = next?.kind === 'equipment' && next.id === pick?.id ? spigotNear(next.id, at, reachMm) : undefined
    if (spigot === undefined) pickInPlan(next)
    else startSnapping(spigot.equipment.id, spigot.spigot.id)
  }
  return (
    <>
      <PlanView assembly={assembly} hidden={isSnapping ? WITHOUT_NAMES : undefined} findings={isDrawing ? undefined : verdict?.findings} pick={pick} under={<PlanUnderlay job={job} />} fitTo={`${fileName} ${job.underlay?.picture ?? ''} ${isBare}`}
        onPick={pickOrHold} onPoint={isSnapping ? (at, reachMm) => { tapSnapping(rayDown(at), reachMm) } : isDrawing ? tapPlan : undefined} onHover={isSnapping ? (at, reachMm) => { pointSnapping(at === null ? null : rayDown(at), reachMm) } : hoverOver} onDrag={dragInPlan} onNudge={nudgeInPlan} onRemove={removeInPlan}
        onPutAway={() => {
          if (isSnapping) stopSnapping()
          else if (isDrawing) putToolAway()
          else pickInPlan(null)
        }}
        over={frame => tool !== null ? <PenMarks pen={pen} hover={hover} frame={frame} /> : picked !== undefined && picked.spigots.length > 0 ? <SnapMarks frame={frame} equipment={picked} /> : pickedRun !== undefined ? <RunPoints frame={frame} placed={pickedRun} /> : null} />
      {isBare && !isDrawing && <p className="plan-teach">Bare paper. Pick up <b>Room</b> and tap its corners one after the other; the sides are held square for you, and a length can be typed at any corner.</p>}
      <div className="plan-foot" role="status">
        {asked !== null ? <p className="is-asked">{asked.words}</p> : said !== null && (said.isRefusal || tool === null) && (
          <p className={said.isRefusal ? 'is-refusal' : undefined}>{said.words}</p>
        )}
        {said !== null && !said.isRefusal && undoName !== null && <button type="button" className="button" onClick={bench.undo}>Undo: {undoName}</button>}
        {isSnapping ? <p className="is-asked">Point at an opening under its joist, or between two joists. Escape leaves it.</p> : asked === null && said === null && pick !== null && canMove(pick.kind) && <p className="plan-keys-hint">Drag it, or arrow keys: 10 mm, with Alt 1 mm</p>}
      </div>
    </>
  )
}

function canMove(kind: PickKind): boolean {
  return kind !== 'joist' && kind !== 'run' && kind !== 'finding'
}
