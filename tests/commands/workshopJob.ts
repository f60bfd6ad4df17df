/** A void half surveyed and half threaded, with one of everything that a command can take hold of. */
import { type Job, parseJob } from '#model/index.ts'
import { richJob } from '../model/richJob.ts'

export function workshopJob(): Job {
  const job = richJob()
  const read = parseJob(JSON.stringify({
    ...job,
    joistFields: [
      { ...job.joistFields[0], joists: [...job.joistFields[0].joists, { id: 'J4' }] },
      job.joistFields[1],
    ],
    equipment: [
      ...job.equipment,
      { id: 'M1', name: 'Manifold', kind: 'manifold', centre: [2000, 3000, 2550], sizeMm: [600, 300, 200], air: 'supply', spigots: [
        { id: 'p1', at: [340, -60, 0], axis: [1, 0, 0], diameterMm: 92 }, { id: 'p2', at: [340, 60, 0], axis: [1, 0, 0], diameterMm: 92 },
      ] },
      { id: 'V2', name: 'Bed valve', kind: 'plenum', centre: [4500, 1000, 2450], sizeMm: [200, 150, 100], air: 'supply', spigots: [{ id: 'p1', at: [0, 115, 0], axis: [0, 1, 0], diameterMm: 92 }] },
    ],
    ductTypes: [...job.ductTypes, { kind: 'semi-rigid', id: 'D3', name: 'Round 75', innerDiameterMm: 63, outerDiameterMm: 75, minBendRadiusMm: 120 }],
    runs: [
      // locked in the rich job
      job.runs[0], job.runs[1],
      { id: 'N3', name: 'Run 3', type: 'D1', group: 'Beds', from: { equipment: 'M1', spigot: 'p1' }, to: { equipment: 'V2', spigot: 'p1' }, waypoints: [
        { at: [2340, 2940, 2550] }, { at: [2840, 2940, 2550] }, { at: [4500, 2000, 2450], radiusMm: 300 }, { at: [4500, 1115, 2450] },
      ] },
    ],
  }))
  if (!read.ok) throw new Error(`workshopJob: ${JSON.stringify(read.problems)}`)
  return read.job
}
