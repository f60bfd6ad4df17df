/** The door of this folder: a valid job -> everything that is checked and drawn. */
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import type { Job } from '#model/index.ts'
import type { Assembly } from './assembly.ts'
import { addEquipment, placeHoles, placeSleeves } from './equipment.ts'
import { addJoists } from './joists.ts'
import { addLooseSolids, addZones } from './loose.ts'
import { Parts } from './parts.ts'
import { placeRuns } from './runs.ts'

/** @param job as `parseJob` returns it: whole, with every reference met */
export function assemble(job: Job): Assembly {
  const steps = assembleInSteps(job)
  for (;;) {
    const { done, value } = steps.next()
    if (done === true) return value
  }
}

/** The same in steps of a joist field each, so that whoever waits for it can do other things between two of them. Yields how much is done, 0 to 1. */
export function* assembleInSteps(job: Job): Generator<number, Assembly, void> {
  const builder = new SolidSetBuilder(), parts = new Parts()
  const joists = yield* addJoists(job, builder, parts)
  const spigots = addEquipment(job, builder, parts)
  const solidIndexOfId = addLooseSolids(job, builder, parts)
  const sleeves = placeSleeves(job, solidIndexOfId)
  const zoneBuilder = new SolidSetBuilder()
  addZones(job, zoneBuilder)
  return {
    job, solids: builder.build(), parts, joists, spigots, sleeves,
    holes: placeHoles(job, joists),
    zones: zoneBuilder.build(),
    runs: placeRuns(job, spigots, sleeves),
  }
}
