/** What the ducts of a step pass, in words, and where. */
import { pointAt } from '#geometry/curve/measure.ts'
import type { PlanPass } from '#routing/planPasses.ts'
import type { Xyz } from '#scene/frame.ts'
import { mmText } from '../../figures.ts'
import type { Plan } from './pulling.ts'

export interface StepPass {
  readonly otherName: string
  readonly otherId: string
  /** it passes over the other, or under it */
  readonly way: 'over' | 'under'
  /** the other goes in later */
  readonly isLater: boolean
  /** from axis to axis, mm */
  readonly riseMm: number
  /** on its own centreline, mm */
  readonly at: Xyz
}

export function passesOf({ checks, order }: Plan, runIndex: number): StepPass[] {
  const placeOf = new Map(order.steps.map((step) => [step.runIndex, step.place]))
  return order.passes.flatMap((pass): StepPass[] => {
    if (pass.lower !== runIndex && pass.upper !== runIndex) return []
    const isLower = pass.lower === runIndex, other = isLower ? pass.upper : pass.lower
    const { run } = checks.runs[other].placed
    return [{
      otherName: run.name, otherId: run.id, way: isLower ? 'under' : 'over', isLater: placeOf.get(other)! > placeOf.get(runIndex)!, riseMm: pass.riseMm,
      at: placeOn(checks.runs[runIndex].placed.centreline, isLower ? pass.lowerStationMm : pass.upperStationMm),
    }]
  })
}

function placeOn(centreline: Parameters<typeof pointAt>[0], stationMm: PlanPass['lowerStationMm']): Xyz {
  const at = [0, 0, 0]
  pointAt(centreline, stationMm, at)
  return [at[0], at[1], at[2]]
}

/** 'over Run 3, in already: 96 mm from axis to axis' */
export function passWords({ otherName, way, isLater, riseMm }: StepPass): string {
  return `${way} ${otherName}, ${isLater ? 'not in yet' : 'in already'}: ${mmText(Math.round(riseMm))} from axis to axis`
}
