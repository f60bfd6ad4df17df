import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'
import { goToPlace } from '../../desk.ts'
import { useBench } from '../../editing/useBench.ts'
import { ToolPad } from '../../plan/ToolPad.tsx'
import { ToolShelf } from '../../plan/ToolShelf.tsx'
import { takeTool } from '../../plan/board.ts'
import { Work, sheetOf } from '../../plan/Work.tsx'
import { PickedThing } from '../../plan/picked/PickedThing.tsx'
import type { PickKind } from '../../plan/planPick.ts'
import { useBoard } from '../../plan/useBoard.ts'
import { useKeeper } from '../../useKeeper.ts'
import { KeepClear } from './KeepClear.tsx'
import { StartCards } from './StartCards.tsx'
import { ThingsList } from './ThingsList.tsx'
import { TracePlan } from './TracePlan.tsx'
import { FIELD_TOOL } from './fieldTool.ts'
import { nextStep } from './nextStep.ts'
import { CUT_OUT_TOOL, DOOR_TOOL, ROOM_TOOL, ZONE_TOOL } from './roomTools.ts'
import { SITE_TOOLS } from './siteTools.ts'

const PLAN_TOOLS = [ROOM_TOOL, ZONE_TOOL, FIELD_TOOL, DOOR_TOOL, CUT_OUT_TOOL]
const KINDS: readonly PickKind[] = ['room', 'zone', 'field', 'solid', 'sleeve']

/** ids of jobs whose joists are measured well enough, until the page is left */
const enough = createStore<ReadonlySet<string>>()(() => new Set())

/** Beside the plan while a void is measured: the next step, the tools, and what is picked out. */
export function MeasureUpPanel() {
  const job = useBench(({ history }) => history?.present ?? null)
  const tool = useBoard(({ tool }) => tool)
  const pick = useBoard(({ pick }) => pick)
  const jobId = useKeeper((now) => now.current?.id ?? '')
  const isEnough = useStore(enough, (now) => now.has(jobId))
  const goOn = (): void => {
    enough.setState((now) => new Set(now).add(jobId), true)
    goToPlace('set-down')
  }
  const asked = useBoard(({ asked }) => asked)
  if (job === null) return <Work sheet="start"><StartCards /></Work>
  if (tool !== null) return <Work sheet={tool.id}><ToolPad tool={tool} job={job} /></Work>
  if (pick !== null && asked === null) return <Work sheet={sheetOf(pick)}><PickedThing job={job} pick={pick} /></Work>
  const next = nextStep(job, isEnough)
  const nextTool = PLAN_TOOLS.find(({ id }) => id === next?.tool)
  const isBare = job.rooms.length + job.zones.length + job.joistFields.length + job.solids.length === 0
  return (
    <Work sheet={isBare ? 'bare paper' : 'tools'}>
      {next !== null && (
        <section className="next-step" aria-label="Next">
          <h2>{next.words}</h2>
          {nextTool !== undefined && <button type="button" className="button" onClick={() => { takeTool(nextTool) }}>Pick up: {nextTool.name}</button>}
          {next.tool === null && <button type="button" className="button" onClick={goOn}>Good enough, go on</button>}
        </section>
      )}
      <ToolShelf title="Rooms and joists" tools={PLAN_TOOLS} />
      <ToolShelf title="What else is on site" tools={SITE_TOOLS} />
      <TracePlan job={job} />
      <KeepClear job={job} />
      <ThingsList job={job} kinds={KINDS} />
      {isBare ? <StartCards title="Or start from one of these" /> : (
        <details className="corners">
          <summary>Start another job</summary>
          <StartCards />
        </details>
      )}
    </Work>
  )
}
