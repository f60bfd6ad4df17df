import { useBench } from '../../editing/useBench.ts'
import { ToolPad } from '../../plan/ToolPad.tsx'
import { ToolShelf } from '../../plan/ToolShelf.tsx'
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
  if (job === null) return <div className="work"><StartCards /></div>
  if (tool !== null) return <div className="work"><ToolPad tool={tool} job={job} /></div>
  if (pick !== null) return <div className="work"><PickedThing job={job} pick={pick} /></div>
  return (
    <div className="work">
      {teach(job.equipment.map(({ kind }) => kind)).map(words => <section className="next-step" aria-label="Next" key={words}><h2>{words}</h2></section>)}
      <ToolShelf title="Ventilation" tools={EQUIPMENT_TOOLS} />
      <ThingsList job={job} kinds={KINDS} />
    </div>
  )
}

/** A run goes from a manifold's spigot to a plenum's: what is still missing of the two. */
function teach(kinds: readonly string[]): string[] {
  if (!kinds.includes('manifold')) return ['Set down the manifold: tap where its middle is.']
  return kinds.includes('plenum') ? [] : ['Set down a plenum at each valve: tap the middle of the valve.']
}
