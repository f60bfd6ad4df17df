/** A void small enough to reckon by hand: three open-web joists, two boxes of equipment, a soil stack, a wall and one run
 * that threads the lower corners of the openings, 75 mm off the middle of each. */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { parseJob } from '#model/parse.ts'
import type { Job, JobInput } from '#model/schema.ts'

export function smallVoidInput() {
  return {
    format: 'joistway-job',
    version: 1,
    name: 'Weaver\u2019s loft',
    zones: [{ id: 'Z1', name: 'Loft ceiling', outline: [[0, -400], [4_000, -400], [4_000, 2_600], [0, 2_600]], undersideMm: 2_390, topMm: 2_720 }],
    sections: [{
      kind: 'open-web', id: 'S1', name: 'Open web 304', depthMm: 304, chordWidthMm: 97, chordHeightMm: 47, webPitchMm: 600, webWidthMm: 40, webThicknessMm: 2,
    }],
    joistFields: [{
      id: 'F1', name: 'Loft', section: 'S1', origin: [0, 400, 2_400], directionDeg: 0, centresMm: 600, lengthMm: 4_000,
      joists: [{ id: 'J1' }, { id: 'J2', firstNodeMm: 150 }, { id: 'J3' }],
    }],
    solids: [
      { id: 'P1', name: 'Soil stack', class: 'soil-stack', shape: { kind: 'cylinder', from: [3_500, 700, 2_000], to: [3_500, 700, 3_000], diameterMm: 110 } },
      { id: 'W1', name: 'Gable wall', class: 'wall', shape: { kind: 'prism', outline: [[-300, 0], [-100, 0], [-100, 2_000], [-300, 2_000]], bottomMm: 0, topMm: 2_800 } },
    ],
    equipment: [
      { id: 'M1', name: 'Manifold', kind: 'manifold', air: 'supply', centre: [975, -200, 2_500], sizeMm: [500, 200, 200], spigots: [{ id: 'a', at: [0, 140, 0], axis: [0, 1, 0], diameterMm: 90 }] },
      { id: 'T1', name: 'Valve box', kind: 'plenum', air: 'supply', centre: [975, 2_300, 2_500], sizeMm: [200, 200, 160], spigots: [{ id: 'a', at: [0, -140, 0], axis: [0, -1, 0], diameterMm: 90 }] },
    ],
    ductTypes: [{ kind: 'semi-rigid', id: 'D1', name: 'Round 90', innerDiameterMm: 75, outerDiameterMm: 90, minBendRadiusMm: 180 }],
    runs: [
      { id: 'R1', name: 'Run 1', type: 'D1', from: { equipment: 'M1', spigot: 'a' }, to: { equipment: 'T1', spigot: 'a' }, waypoints: [{ at: [975, -60, 2_500] }, { at: [975, 2_160, 2_500] }] },
    ],
  } satisfies JobInput
}

/** @param input another job than the small void itself */
export function smallVoidJob(input: JobInput = smallVoidInput()): Job {
  const read = parseJob(JSON.stringify(input))
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.job
}

export const smallVoid = (): Assembly => assemble(smallVoidJob())
