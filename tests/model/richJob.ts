/** A small job that uses every part of the file format at least once; a fresh copy each time. */
import type { JobInput } from '#model/schema.ts'

export function richJob() {
  return {
    format: 'joistway-job',
    version: 1,
    name: 'Mill Lane, first floor',
    note: 'Two lines,\nand a tab\there.',
    datum: 'inside corner of the stair wall at finished floor',
    settings: {
      clearanceMm: 5,
      clearances: [{ between: ['duct', 'flue'], mm: 50, why: 'heat' }, { between: ['duct', 'any'], mm: 10 }],
      holeRules: { solidTimber: 'uk-classic' },
      connection: { offMm: 3 },
      outdoor: { leastMm: 300, advisedMm: 2000 },
    },
    rooms: [
      { id: 'R1', name: 'Bath', use: 'bathroom', outline: [[0, 0], [2400, 0], [2400, 1800], [0, 1800]], floorMm: 0, ceilingMm: 2350, doors: [{ at: [1200, 0], widthMm: 762, undercutMm: 10 }], airflow: { extractLps: 8, boostLps: 15, habitable: false, transferMm2: 1200 } },
    ],
    zones: [
      { id: 'Z1', name: 'Landing void', outline: [[0, 0], [5000, 0], [5000, 4000], [0, 4000]], holes: [[[1000, 1000], [1000, 1500], [1500, 1500]]], undersideMm: 2400, topMm: 2700 },
    ],
    sections: [
      { kind: 'open-web', id: 'S1', name: 'Open web 254', depthMm: 254, chordWidthMm: 72, chordHeightMm: 47, webPitchMm: 600, webWidthMm: 40, webThicknessMm: 1, webFaces: 'both', posts: 'top-nodes', endBlockMm: 150 },
      { kind: 'solid-timber', id: 'S2', name: 'Timber 47x220', depthMm: 220, widthMm: 47 },
      { kind: 'i-section', id: 'S3', name: 'I 240', depthMm: 240, flangeWidthMm: 45, flangeHeightMm: 39, webThicknessMm: 9 },
      { kind: 'cold-formed', id: 'S4', name: 'C 200', depthMm: 200, flangeWidthMm: 50, lipMm: 15, thicknessMm: 1.5 },
    ],
    joistFields: [
      {
        id: 'F1', name: 'Bay A', section: 'S1', origin: [0, 0, 2412.5], directionDeg: 90, next: 'right', centresMm: 400, lengthMm: 4000, firstNodeMm: 75, bearingMm: 90,
        joists: [{ id: 'J1' }, { id: 'J2', name: 'doubled', positionMm: 450, startMm: -20, lengthMm: 4020, firstNodeMm: -110, flip: true, webFree: [{ fromMm: 1000, toMm: 1400 }] }],
      },
      { id: 'F2', name: 'Bay B', section: 'S2', origin: [5000, 0, 2412.5], directionDeg: 0, centresMm: 400, lengthMm: 3000, joists: [{ id: 'J3' }] },
    ],
    holes: [{ id: 'H1', joist: 'J3', alongMm: 900, heightMm: 110, diameterMm: 40 }],
    solids: [
      { id: 'B1', name: 'Steel', class: 'steel', shape: { kind: 'box', centre: [100, 200, 2500], sizeMm: [100, 3000, 200], rotationDeg: [0, 0, 30] }, note: 'padstones at both ends' },
      { id: 'W1', name: 'Gable wall', class: 'wall', shape: { kind: 'prism', outline: [[0, 0], [300, 0], [300, 5000], [0, 5000]], holes: [[[100, 100], [200, 100], [150, 200]]], bottomMm: 0, topMm: 5000, origin: [-300, 0, 0] } },
      { id: 'P1', name: 'Soil stack', class: 'soil-stack', shape: { kind: 'cylinder', from: [10, 10, 0], to: [10, 10, 2700], diameterMm: 110 } },
      { id: 'P2', name: 'Pipe', class: 'pipe', shape: { kind: 'tube', points: [[0, 0, 2500], [1000, 0, 2500], [1000, 1000, 2500]], diameterMm: 22, bendRadiusMm: 60 } },
    ],
    sleeves: [{ id: 'SL1', name: 'Exhaust through the gable', at: [-150, 2500, 2600], axis: [1, 0, 0.02], diameterMm: 170, lengthMm: 320, through: ['W1'] }],
    equipment: [
      { id: 'U1', name: 'Unit', kind: 'unit', centre: [500, 500, 1000], sizeMm: [600, 500, 800], spigots: [{ id: 'a', at: [0, 0, 420], axis: [0, 0, 1], diameterMm: 160, lengthMm: 50 }, { id: 'b', at: [100, 0, 420], axis: [0, 0, 1], diameterMm: 160 }], airflow: { losses: [{ name: 'Filter', kind: 'filter', dropPa: 30, atLps: 60, exponent: 1.2 }], fan: [{ flowLps: 0, pressurePa: 400 }, { flowLps: 90, pressurePa: 0 }], weightKg: 42 } },
      { id: 'V1', name: 'Bath valve', kind: 'plenum', centre: [1200, 900, 2450], sizeMm: [200, 150, 100], rotationDeg: [0, 0, 90], air: 'extract', room: 'R1', spigots: [{ id: 'a', at: [140, 0, 0], axis: [1, 0, 0], diameterMm: 92 }], packerMm: 22, airflow: { normalLps: 6, mostLps: 15, settings: [{ setting: 2, flowLps: 8, dropPa: 40 }, { setting: 8, flowLps: 8, dropPa: 6 }], settingUnit: 'turns', freeAreaMm2: 6000 }, note: 'reach from the bath' },
    ],
    ductTypes: [
      { kind: 'semi-rigid', id: 'D1', name: 'Round 92', innerDiameterMm: 77, outerDiameterMm: 92, roughnessMm: 0.05, minBendRadiusMm: 150 },
      { kind: 'rigid', id: 'D2', name: 'Spiral 160', innerDiameterMm: 159, outerDiameterMm: 160, insulationMm: 25, fittings: [{ angleDeg: 90, radiusMm: 160, insertionMm: 40 }, { angleDeg: 45, radiusMm: 160 }] },
    ],
    runs: [
      { id: 'N1', name: 'Bath extract', type: 'D1', from: { equipment: 'U1', spigot: 'a' }, to: { equipment: 'V1', spigot: 'a' }, waypoints: [{ at: [500, 500, 1420] }, { at: [500, 500, 2450], radiusMm: 200 }, { at: [1060, 900, 2450] }], group: 'Wet rooms', inLine: [{ name: 'Silencer', kind: 'silencer', dropPa: 4, atLps: 20 }], locked: true, note: 'trial fitted' },
      { id: 'N2', name: 'Exhaust', type: 'D2', from: { equipment: 'U1', spigot: 'b' }, to: { sleeve: 'SL1' }, waypoints: [{ at: [600, 500, 1420] }, { at: [-150, 2500, 2600] }] },
    ],
    views: [{ id: 'L1', name: 'Over the stair', note: 'for the client', eye: [4000, -3000, 5000], target: [1000, 1000, 2500], up: [0, 0, 1], hidden: ['lining', 'room'], cut: { at: [0, 900, 2500], towards: [0, -1, 0] } }],
    underlay: { picture: 'first floor.jpg', widthPixels: 3000, heightPixels: 2000, marks: [{ pixel: [400, 1800], at: [0, 0] }, { pixel: [1400, 1800], at: [5000, 0] }], levelMm: 2300 },
    air: {
      table: 'ashrae-62-2', floorAreaM2: 92.5, bedrooms: 3, wholeLps: 40, airC: 18, altitudeM: 120, bends: 'round-figures', hoodMm: 350, trickleLps: 22, cornerMm: 400,
      commissioning: {
        tolerancePercent: 10, meter: { name: 'Hood', serial: '12', calibrated: '2026-02-01', accuracyPercent: 5, shows: 'm3/h' },
        rounds: [{ name: 'first', speed: 'boost', day: '2026-03-31', by: 'B. Fitter', ended: false, readings: [{ terminal: 'V1', lps: 14.2, setting: 3, turned: true, note: 'noisy' }] }],
        fans: [{ speed: 'trickle', supplyPercent: 45, extractPercent: 47 }], sound: [{ room: 'R1', speed: 'boost', levelDbA: 41 }],
        filters: [{ name: 'Fresh air', fitted: '2026-03-31', cleanBy: '2026-09-30' }], signatures: [{ role: 'Installer', name: 'A. Fitter', day: '2026-04-01' }],
      },
    },
  } satisfies JobInput
}

/** The same with one thing put in place (or taken away, with undefined) at a path such as `runs.0.name`. */
export function richJobWith(changes: Readonly<Record<string, unknown>>): Record<string, unknown> {
  const job: unknown = richJob()
  for (const [path, value] of Object.entries(changes)) {
    const steps = path.split('.')
    const last = steps.pop()!
    let at = job as Record<string, unknown>
    for (const step of steps) at = at[step] as Record<string, unknown>
    if (value === undefined) delete at[last]
    else at[last] = value
  }
  return job as Record<string, unknown>
}
