import { useBench } from '../../editing/useBench.ts'
import { ToolPad } from '../../plan/ToolPad.tsx'
import { ToolShelf } from '../../plan/ToolShelf.tsx'
import { Work, sheetOf } from '../../plan/Work.tsx'
import { PickedThing } from '../../plan/picked/PickedThing.tsx'
import type { PickKind } from '../../plan/planPick.ts'
import { useBoard } from '../../plan/useBoard.ts'
import { StartCards } from '../measureUp/StartCards.tsx'
import { ThingsList } from '../measureUp/ThingsList.tsx'
import { EQUIPMENT_TOOLS } from './equipmentTools.ts'

const KINDS: readonly PickKind[] = ['equipment']

/** Beside the plan while equipment is put in its place. */
export function SetDownPanel() {
  const job = useBench(({ history }) => history?.present ?? null)
  const tool = useBoard(({ tool }) => tool)
  const pick = useBoard(({ pick }) => pick)
  if (job === null) return <Work sheet="start"><StartCards /></Work>
  if (tool !== null) return <Work sheet={tool.id}><ToolPad tool={tool} job={job} /></Work>
  if (pick !== null) return <Work sheet={sheetOf(pick)}><PickedThing job={job} pick={pick} /></Work>
  return (
    <Work sheet="tools">
      {teach(job.equipment.map(({ kind }) => kind)).map(words => <section className="next-step" aria-label="Next" key={words}><h2>{words}</h2></section>)}
      <ToolShelf title="Ventilation" tools={EQUIPMENT_TOOLS} />
      <ThingsList job={job} kinds={KINDS} />
    </Work>
  )
}

/** A run goes from a manifold's spigot to a plenum's: what is still missing of the two. */
function teach(kinds: readonly string[]): string[] {
  if (!kinds.includes('manifold')) return ['Set down the manifold: tap where its middle is.']
  return kinds.includes('plenum') ? [] : ['Set down a plenum at each valve: tap the middle of the valve.']
}
