import { useMemo } from 'react'
import { TintedRuns } from '#scene/TintedRuns.tsx'
import { useAirView } from './airView.ts'
import { runTints } from './runTints.ts'
import { useAir, type AirShown } from './useAir.ts'

/** The runs in colours by speed or pressure, where that is asked for. */
export default function InTheVoid() {
  const isTinted = useAirView((view) => view.tint !== 'none')
  return isTinted ? <Tinted /> : null
}

function Tinted() {
  const shown = useAir()
  return shown === null ? null : <TintedBy {...shown} />
}

function TintedBy({ assembly, report }: AirShown) {
  const view = useAirView((now) => now)
  const { colours, labels } = useMemo(() => runTints(assembly, report, view), [assembly, report, view])
  return <TintedRuns assembly={assembly} colours={colours} labels={labels} />
}
