import { GhostRun } from '#scene/GhostRun.tsx'
import { TAPE } from '#scene/palette.ts'
import { useBench } from '../../editing/useBench.ts'
import { useSheets } from './sheetsShown.ts'

/** A changed run as it is, in tape yellow, over the pale one that it was. */
export default function InTheVoid() {
  const changedId = useSheets((now) => now.changedId)
  const before = useSheets((now) => now.compared?.before.find(({ run }) => run.id === now.changedId))
  const now = useBench(({ assembly }) => assembly?.runs.find(({ run }) => run.id === changedId))
  return (
    <>
      {before !== undefined && <GhostRun placed={before} isGood />}
      {now !== undefined && changedId !== null && <GhostRun placed={now} isGood colour={TAPE} isOver />}
    </>
  )
}
