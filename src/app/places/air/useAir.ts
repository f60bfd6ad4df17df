import { useMemo } from 'react'
import { airOfJob, type AirReport } from '#air/index.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { useBench } from '../../editing/useBench.ts'
import { goToRun, pickOut, turnTo } from '../../desk.ts'

export interface AirShown { readonly assembly: Assembly, readonly report: AirReport }

/** All that is known of the air of the job as shown; null with no job. */
export function useAir(): AirShown | null {
  const assembly = useBench((now) => now.assembly)
  return useMemo(() => assembly === null ? null : { assembly, report: airOfJob(assembly) }, [assembly])
}

/** Shows a run, or a piece of equipment, in the void. Rooms are no solids: nothing happens. */
export function goTo(assembly: Assembly, id: string): void {
  if (assembly.runs.some(({ run }) => run.id === id)) {
    goToRun(id)
    return
  }
  const equipment = assembly.job.equipment.find((one) => one.id === id)
  if (equipment === undefined) return
  const at = [...equipment.centre] as [number, number, number]
  for (let solidIndex = 0; solidIndex < assembly.solids.count; solidIndex++) {
    if (assembly.parts.ownerIdOf(solidIndex) !== id) continue
    pickOut({ kind: 'solid', solidIndex, at })
    break
  }
  turnTo({ placeMm: at })
}

export function canShow(assembly: Assembly, id: string): boolean {
  return assembly.runs.some(({ run }) => run.id === id) || assembly.job.equipment.some((one) => one.id === id)
}
