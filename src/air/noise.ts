/** How fast the air goes, against limits for the room it goes to. Levels in decibels are not estimated, and that is said. */
import type { AirSettings, Room } from '#model/index.ts'
import type { SystemPressure } from './pressure.ts'
import { remark, type Remark } from './remark.ts'
import { sourceWords, type Source } from './sources.ts'
import type { AirSystem, SystemRun } from './systems.ts'

export const QUIET_SOURCES: Readonly<Record<'bedroom' | 'elsewhere', Source>> = {
  bedroom: { document: 'CIBSE Guide B2, bedrooms, NR 25', edition: '2016', at: 'Table 2.16, branches', mark: 'from memory' },
  elsewhere: { document: 'Passive house project guide of a European programme, duct velocity', mark: 'restated' },
}

/** What the levels in a room should not pass: a guidance note, no test is required. */
export const LEVELS = {
  quietDb: 30, wetDb: 45,
  source: { document: 'Approved Document F volume 1: Dwellings (England)', edition: '2021', at: '1.5 to 1.7, note: LAeq, bedrooms and living rooms at the low rate, kitchens and bathrooms at the high rate', mark: 'read' } as Source,
} as const

/** Said wherever a level could be expected. */
export const NO_LEVEL = 'The level in decibels is not estimated: that takes the fan’s sound power in octave bands, the silencers’ and the rooms’ figures, which a job does not hold. Measure it.'

/** The job's limit for a run: to several rooms, the strictest of them. */
export function limitOf(run: SystemRun, system: AirSystem, air: AirSettings, roomOf: ReadonlyMap<string, Room>): { readonly mps: number, readonly isToBedroom: boolean } {
  const isToBedroom = [run.near, run.far].some((node) => {
    const { equipment } = system.nodes[node]
    return equipment?.kind === 'plenum' && equipment.room !== undefined && roomOf.get(equipment.room)?.use === 'bedroom'
  })
  return { mps: isToBedroom ? air.bedroomMps : air.elsewhereMps, isToBedroom }
}

/** @param pressures of one speed */
export function tooFast(pressures: readonly SystemPressure[], air: AirSettings, roomOf: ReadonlyMap<string, Room>): Remark[] {
  return pressures.flatMap(({ runs, system }) => runs.flatMap(({ run, velocityMps }): Remark[] => {
    const { mps, isToBedroom } = limitOf(run, system, air, roomOf)
    if (velocityMps <= mps) return []
    const source = QUIET_SOURCES[isToBedroom ? 'bedroom' : 'elsewhere']
    return [remark('too-fast', 'advice', [run.placed.run], `the job’s limit for a duct ${isToBedroom ? 'to a bedroom' : 'to any other room'}; compare ${sourceWords(source)}`, { unit: 'm/s', measured: velocityMps, required: mps })]
  }))
}
