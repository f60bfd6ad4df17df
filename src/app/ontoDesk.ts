/** What happens at the bench is seen on the desk: the void, the verdict, and what is being worked out. */
import type { Assembly } from '#assembly/assembly.ts'
import type { Selection } from '#scene/selection.ts'
import { desk, type DeskState } from './desk.ts'
import type { Bench } from './editing/bench.ts'

export function showOnDesk(bench: Bench): void {
  bench.store.subscribe((now, was) => {
    const { open, selection } = desk.getState()
    if (open === null || now.history === null || now.assembly === null) return
    const change: { -readonly [K in keyof DeskState]?: DeskState[K] } = {}
    if (now.assembly !== open.assembly) {
      change.open = { ...open, job: now.history.present, assembly: now.assembly }
      change.selection = stillThere(selection, open.assembly, now.assembly)
    }
    // the first verdict may have come to the desk before the job came to the bench
    if (now.verdict !== was.verdict && (now.verdict !== null || now.history.present !== open.job)) change.verdict = now.verdict
    if (now.checking !== was.checking || (now.drag === null) !== (was.drag === null)) {
      // nothing is put in the way of what is being dragged: its own findings follow it as it is
      const checking = now.drag === null ? now.checking : null
      const isOver = checking === 'stopped' || checking === 'failed'
      change.stopped = isOver
      change.work = isOver || checking === null ? null : { step: 'checking', fileName: open.fileName, doneRatio: checking.doneRatio }
    }
    if (Object.keys(change).length > 0) desk.setState(change)
  })
}

/** The same thing in a void that was set out anew, where it may have another number; null when it is gone. */
export function stillThere(selection: Selection | null, was: Assembly, now: Assembly): Selection | null {
  switch (selection?.kind) {
    case undefined:
    case 'finding': return selection
    case 'run': return now.runs.some(({ run }) => run.id === selection.runId) ? selection : null
    case 'solid': {
      if (was.solids === now.solids) return selection
      const { ownerId, part } = was.parts.describe(selection.solidIndex)
      for (let i = 0; i < now.parts.count; i++) {
        if (now.parts.ownerIdOf(i) === ownerId && now.parts.describe(i).part === part) return { ...selection, solidIndex: i }
      }
      return null
    }
    case 'opening': {
      const { id } = was.joists[selection.joistIndex]
      const joistIndex = now.joists.findIndex((joist) => joist.id === id)
      return joistIndex >= 0 && now.joists[joistIndex].openings.some(({ number }) => number === selection.number) ? { ...selection, joistIndex } : null
    }
  }
}
