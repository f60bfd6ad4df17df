import { useEffect } from 'react'
import type { Job, Point3 } from '#model/index.ts'
import { goToPlace, showVoid, turnTo } from '../../desk.ts'
import { useBench } from '../../editing/useBench.ts'
import { ToolPad } from '../../plan/ToolPad.tsx'
import { ToolShelf } from '../../plan/ToolShelf.tsx'
import { takeTool } from '../../plan/board.ts'
import { Work, sheetOf } from '../../plan/Work.tsx'
import { PickedThing } from '../../plan/picked/PickedThing.tsx'
import type { PickKind } from '../../plan/planPick.ts'
import { useBoard } from '../../plan/useBoard.ts'
import { useDesk } from '../../useDesk.ts'
import { StartCards } from '../measureUp/StartCards.tsx'
import { ThingsList } from '../measureUp/ThingsList.tsx'
import { EQUIPMENT_TOOLS } from './equipmentTools.ts'

const KINDS: readonly PickKind[] = ['equipment']

/** Beside the plan while equipment is put in its place. */
export function SetDownPanel() {
  const job = useBench(({ history }) => history?.present ?? null)
  const tool = useBoard(({ tool }) => tool)
  const pick = useBoard(({ pick }) => pick)
  const inVoid = useDesk((now) => now.inVoid)
  // tools are drawn with in plan
  useEffect(() => { if (tool !== null) showVoid(false) }, [tool])
  if (job === null) return <Work sheet="start"><StartCards /></Work>
  if (tool !== null) return <Work sheet={tool.id}><ToolPad tool={tool} job={job} /></Work>
  if (pick !== null) return <Work sheet={sheetOf(pick)}><PlanOrVoid inVoid={inVoid} at={job.equipment.find(({ id }) => pick.kind === 'equipment' && id === pick.id)?.centre} /><PickedThing job={job} pick={pick} /></Work>
  return (
    <Work sheet="tools">
      <PlanOrVoid inVoid={inVoid} />
      <NextStep job={job} />
      <ToolShelf title="Ventilation" tools={EQUIPMENT_TOOLS} />
      <ThingsList job={job} kinds={KINDS} />
    </Work>
  )
}

/** how much is seen round the piece that is picked out, mm each way */
const ROUND_MM = 1_500

function PlanOrVoid({ inVoid, at }: { readonly inVoid: boolean, readonly at?: Point3 }) {
  return (
    <div className="ways" role="group" aria-label="Shown beside this">
      <button type="button" className="button" aria-pressed={!inVoid} onClick={() => { showVoid(false) }}>In plan</button>
      <button type="button" className="button" aria-pressed={inVoid} onClick={() => {
        showVoid(true)
        if (at !== undefined) turnTo({ boundsMm: [at[0] - ROUND_MM, at[1] - ROUND_MM, at[2] - 300, at[0] + ROUND_MM, at[1] + ROUND_MM, at[2] + 300] })
      }}>In the void</button>
    </div>
  )
}

/** A run goes from a manifold's spigot to a plenum's: what is still missing of the two, and then where it goes on. */
function NextStep({ job: { equipment, runs } }: { readonly job: Job }) {
  const kinds = equipment.map(({ kind }) => kind)
  const [words, toolId] = !kinds.includes('manifold') ? ['Set down the manifold: pick it up and tap where its middle is.', 'manifold']
    : !kinds.includes('plenum') ? ['Set down a plenum at each valve: pick one up and tap the middle of the valve.', 'plenum-1'] : ['All set down? Take a duct from spigot to spigot.', null]
  const tool = EQUIPMENT_TOOLS.find(({ id }) => id === toolId)
  if (tool === undefined && runs.length > 0) return null
  return (
    <section className="next-step" aria-label="Next">
      <h2>{words}</h2>
      {tool !== undefined ? <button type="button" className="button" onClick={() => { takeTool(tool) }}>Pick up: {tool.name}</button>
        : <button type="button" className="button" onClick={() => { goToPlace('thread') }}>Go on to Thread</button>}
    </section>
  )
}
