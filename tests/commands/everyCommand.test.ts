import { describe, expect, test } from 'vitest'
import { COMMAND_NAMES, type Command, apply, dragKey, labelOf, undoPolicy } from '#commands/index.ts'
import { redo, perform, start, undo } from '#commands/history.ts'
import { formatJob, parseJob, type Job } from '#model/index.ts'
import { workshopJob } from './workshopJob.ts'

const base = workshopJob()
const by = (job: Job, list: 'rooms' | 'zones' | 'sections' | 'joistFields' | 'holes' | 'solids' | 'sleeves' | 'equipment' | 'ductTypes' | 'runs' | 'views', id: string) =>
  (job[list] as readonly { id: string }[]).find(part => part.id === id)
const joist = (job: Job, id: string) => job.joistFields.flatMap(({ joists }) => joists).find(each => each.id === id)
const record = (job: Job) => job.air!.commissioning!
const laidAs = (id: string) => ({ id, waypoints: [{ at: [0, 0, 2500] as [number, number, number] }, { at: [900, 0, 2500] as [number, number, number] }] })
const wall: [number, number][] = [[0, 0], [100, 0], [100, 100]]

/** what it does: the command, its name as a step, and the part of the job that it makes */
const does: readonly (readonly [command: Command, label: string, made: (job: Job) => unknown, expected: unknown])[] = [
  [{ do: 'edit-job', set: { name: 'Mill Lane, loft' } }, 'Rename the job to Mill Lane, loft', job => job.name, 'Mill Lane, loft'],
  [{ do: 'edit-job', set: { note: null, datum: 'step' } }, 'Change the job', ({ note, datum }) => [note, datum], ['', 'step']],
  [{ do: 'edit-settings', set: { clearanceMm: 12 } }, 'Set clearance of the job to 12 mm', job => job.settings.clearanceMm, 12],
  [{ do: 'edit-settings', set: { connection: { offDeg: 5 } } }, 'Set off of the requirement “connection” to 5°', job => job.settings.connection, { offMm: 3, offDeg: 5 }],
  [{ do: 'edit-settings', set: { connection: null } }, 'Clear connection of the job', job => job.settings.connection, { offMm: 2, offDeg: 2 }],
  [{ do: 'edit-settings', set: { holeRules: { solidTimber: 'nhbc-6.4.18' } } }, 'Set solid timber of the requirement “hole rules” to nhbc-6.4.18', job => job.settings.holeRules.solidTimber, 'nhbc-6.4.18'],
  [{ do: 'set-clearance', between: ['web', 'duct'], mm: 8 }, 'Set clearance between web and duct to 8 mm', job => job.settings.clearances.at(-1), { between: ['web', 'duct'], mm: 8, why: '' }],
  // the other way round takes the place of the one there is
  [{ do: 'set-clearance', between: ['flue', 'duct'], mm: 60 }, 'Set clearance between flue and duct to 60 mm', job => job.settings.clearances[0], { between: ['flue', 'duct'], mm: 60, why: 'heat' }],
  [{ do: 'remove-clearance', between: ['any', 'duct'] }, 'Remove clearance between any and duct', job => job.settings.clearances.length, 1],
  [{ do: 'add-room', room: { outline: wall } }, 'Add a room', job => job.rooms[1], { id: 'R2', name: 'Room 2', use: 'other', outline: wall, floorMm: 0, ceilingMm: 2400, doors: [] }],
  [{ do: 'edit-room', id: 'R1', set: { ceilingMm: 2300 } }, 'Set ceiling of Bath to 2300 mm', job => job.rooms[0].ceilingMm, 2300],
  [{ do: 'edit-room', id: 'R1', set: { use: 'wc' } }, 'Set use of Bath to wc', job => job.rooms[0].use, 'wc'],
  [{ do: 'edit-room', id: 'R1', set: { doors: [] } }, 'Change doors of Bath', job => job.rooms[0].doors, []],
  [{ do: 'remove-room', id: 'R1' }, 'Remove Bath', job => [job.rooms, job.equipment.map(({ room }) => room)], [[], [undefined, undefined, undefined, undefined]]],
  [{ do: 'add-zone', zone: { name: 'Loft', outline: wall, undersideMm: 0, topMm: 300 } }, 'Add Loft', job => by(job, 'zones', 'Z2'), { id: 'Z2', name: 'Loft', outline: wall, holes: [], undersideMm: 0, topMm: 300 }],
  [{ do: 'edit-zone', id: 'Z1', set: { topMm: 2750 } }, 'Set top of Landing void to 2750 mm', job => job.zones[0].topMm, 2750],
  [{ do: 'remove-zone', id: 'Z1' }, 'Remove Landing void', job => job.zones, []],
  [{ do: 'move-corner', of: 'R1', corner: 1, at: [2500, 0] }, 'Move corner 2 of Bath', job => job.rooms[0].outline[1], [2500, 0]],
  [{ do: 'move-corner', of: 'Z1', ring: 1, corner: 0, at: [900, 900] }, 'Move corner 1 of Landing void', job => job.zones[0].holes[0][0], [900, 900]],
  [{ do: 'insert-corner', of: 'W1', corner: 4, at: [-50, 2500] }, 'Add a corner to Gable wall', job => job.solids[1].shape.kind === 'prism' && job.solids[1].shape.outline[4], [-50, 2500]],
  [{ do: 'remove-corner', of: 'R1', corner: 0 }, 'Remove corner 1 of Bath', job => job.rooms[0].outline.length, 3],
  [{ do: 'add-section', section: { kind: 'solid-timber', depthMm: 195, widthMm: 44 } }, 'Add a joist section', job => job.sections[4], { kind: 'solid-timber', id: 'S5', name: 'Joist section 5', depthMm: 195, widthMm: 44 }],
  [{ do: 'edit-section', id: 'S1', set: { webPitchMm: 610 } }, 'Set web pitch of Open web 254 to 610 mm', job => job.sections[0].kind === 'open-web' && job.sections[0].webPitchMm, 610],
  [{ do: 'edit-section', id: 'S2', set: { kind: 'cold-formed', flangeWidthMm: 50, thicknessMm: 2 } }, 'Change Timber 47x220', job => job.sections[1], { kind: 'cold-formed', id: 'S2', name: 'Timber 47x220', depthMm: 220, flangeWidthMm: 50, lipMm: 0, thicknessMm: 2 }],
  [{ do: 'remove-section', id: 'S3' }, 'Remove I 240', job => job.sections.map(({ id }) => id), ['S1', 'S2', 'S4']],
  [{ do: 'add-duct-type', type: { kind: 'semi-rigid', innerDiameterMm: 110, outerDiameterMm: 125, minBendRadiusMm: 200 } }, 'Add a duct type', job => job.ductTypes[3].name, 'Duct type 4'],
  [{ do: 'edit-duct-type', id: 'D1', set: { minBendRadiusMm: 160 } }, 'Set min bend radius of Round 92 to 160 mm', job => by(job, 'ductTypes', 'D1'), { kind: 'semi-rigid', id: 'D1', name: 'Round 92', innerDiameterMm: 77, outerDiameterMm: 92, insulationMm: 0, minBendRadiusMm: 160, roughnessMm: 0.05 }],
  [{ do: 'edit-duct-type', id: 'D2', set: { kind: 'semi-rigid', minBendRadiusMm: 300 } }, 'Change Spiral 160', job => by(job, 'ductTypes', 'D2'), { kind: 'semi-rigid', id: 'D2', name: 'Spiral 160', innerDiameterMm: 159, outerDiameterMm: 160, insulationMm: 25, minBendRadiusMm: 300 }],
  [{ do: 'remove-duct-type', id: 'D3' }, 'Remove Round 75', job => job.ductTypes.length, 2],
  [{ do: 'lay-joist-field', corners: [[0, 0], [4000, 1000]], section: 'S2', centresMm: 400, directionDeg: 0, undersideMm: 2400 }, 'Lay a joist field', job => job.joistFields[2].joists.map(({ id }) => id), ['J5', 'J6', 'J7', 'J8']],
  [{ do: 'edit-joist-field', id: 'F1', set: { centresMm: 450 } }, 'Set centres of Bay A to 450 mm', job => job.joistFields[0].centresMm, 450],
  [{ do: 'remove-joist-field', id: 'F2' }, 'Remove Bay B', job => [job.joistFields.length, job.holes], [1, []]],
  [{ do: 'edit-joist', id: 'J1', set: { firstNodeMm: 140 } }, 'Set first node of J1 to 140 mm', job => joist(job, 'J1'), { id: 'J1', startMm: 0, firstNodeMm: 140, webFree: [] }],
  [{ do: 'edit-joist', id: 'J2', set: { positionMm: null } }, 'Clear position of doubled', job => joist(job, 'J2'), { id: 'J2', name: 'doubled', startMm: -20, lengthMm: 4020, firstNodeMm: -110, flip: true, webFree: [{ fromMm: 1000, toMm: 1400 }] }],
  [{ do: 'edit-joist', id: 'J4', set: { flip: true } }, 'Turn flip of J4 on', job => joist(job, 'J4'), { id: 'J4', startMm: 0, flip: true, webFree: [] }],
  [{ do: 'edit-joist', id: 'J2', set: { startMm: null, webFree: null } }, 'Change doubled', job => joist(job, 'J2'), { id: 'J2', name: 'doubled', positionMm: 450, startMm: 0, lengthMm: 4020, firstNodeMm: -110, flip: true, webFree: [] }],
  [{ do: 'add-joists', field: 'F1', count: 2 }, 'Add 2 joists to Bay A', job => job.joistFields[0].joists.slice(3), [{ id: 'J5', startMm: 0, webFree: [] }, { id: 'J6', startMm: 0, webFree: [] }]],
  // the joist after it keeps its place of 2 x 400 mm
  [{ do: 'remove-joist', id: 'J1' }, 'Remove J1', job => job.joistFields[0].joists.map(({ id, positionMm }) => [id, positionMm]), [['J2', 450], ['J4', 800]]],
  [{ do: 'add-hole', hole: { joist: 'J3', alongMm: 1500, heightMm: 110, diameterMm: 50 } }, 'Add a 50 mm hole in J3', job => job.holes[1], { id: 'H2', joist: 'J3', alongMm: 1500, heightMm: 110, diameterMm: 50 }],
  [{ do: 'edit-hole', id: 'H1', set: { diameterMm: 45 } }, 'Set diameter of hole H1 to 45 mm', job => job.holes[0].diameterMm, 45],
  [{ do: 'remove-hole', id: 'H1' }, 'Remove hole H1', job => job.holes, []],
  [{ do: 'add-solid', solid: { class: 'beam', shape: { kind: 'box', centre: [0, 0, 0], sizeMm: [1, 2, 3] } } }, 'Add a beam', job => job.solids[4], { id: 'B2', name: 'Beam 2', class: 'beam', note: '', shape: { kind: 'box', centre: [0, 0, 0], sizeMm: [1, 2, 3], rotationDeg: [0, 0, 0] } }],
  [{ do: 'add-member', class: 'trimmer', from: [0, 0, 2400], to: [0, 2000, 2400], widthMm: 47, depthMm: 220 }, 'Add a trimmer', job => job.solids[4], { id: 'T1', name: 'Trimmer 1', class: 'trimmer', note: '', shape: { kind: 'box', centre: [0, 1000, 2510], sizeMm: [2000, 47, 220], rotationDeg: [0, 0, 90] } }],
  [{ do: 'add-stack', class: 'soil-stack', at: [300, 400], bottomMm: 0, topMm: 2700, diameterMm: 110 }, 'Add a soil stack', job => job.solids[4], { id: 'P3', name: 'Soil stack 3', class: 'soil-stack', note: '', shape: { kind: 'cylinder', from: [300, 400, 0], to: [300, 400, 2700], diameterMm: 110 } }],
  [{ do: 'add-line', class: 'cable', name: 'Shower cable', points: [[0, 0, 2600], [900, 0, 2600]], diameterMm: 12 }, 'Add Shower cable', job => job.solids[4], { id: 'C1', name: 'Shower cable', class: 'cable', note: '', shape: { kind: 'tube', points: [[0, 0, 2600], [900, 0, 2600]], diameterMm: 12, bendRadiusMm: 0 } }],
  [{ do: 'add-block', class: 'downlight', at: [500, 600, 2400], sizeMm: [200, 200, 120] }, 'Add a downlight', job => job.solids[4].shape, { kind: 'box', centre: [500, 600, 2460], sizeMm: [200, 200, 120], rotationDeg: [0, 0, 0] }],
  [{ do: 'add-wall', from: [0, 0], to: [3000, 0], thicknessMm: 100, bottomMm: 0, topMm: 2400 }, 'Add a wall', job => job.solids[4], { id: 'W2', name: 'Wall 2', class: 'wall', note: '', shape: { kind: 'prism', outline: [[0, 0], [3000, 0], [3000, 100], [0, 100]], holes: [], bottomMm: 0, topMm: 2400, origin: [0, 0, 0], rotationDeg: [0, 0, 0] } }],
  [{ do: 'edit-solid', id: 'P1', set: { shape: { diameterMm: 160 } } }, 'Set diameter of Soil stack to 160 mm', job => job.solids[2].shape, { kind: 'cylinder', from: [10, 10, 0], to: [10, 10, 2700], diameterMm: 160 }],
  [{ do: 'edit-solid', id: 'B1', set: { name: 'UB 203', class: 'steel', note: null } }, 'Change Steel', job => [job.solids[0].name, job.solids[0].note], ['UB 203', '']],
  [{ do: 'edit-solid', id: 'P2', set: { shape: { kind: 'cylinder', from: [0, 0, 0], to: [0, 0, 9], diameterMm: 5 } } }, 'Change Pipe', job => job.solids[3].shape, { kind: 'cylinder', from: [0, 0, 0], to: [0, 0, 9], diameterMm: 5 }],
  [{ do: 'move-solid', id: 'P2', by: [10, 0, -5] }, 'Move Pipe', job => job.solids[3].shape.kind === 'tube' && job.solids[3].shape.points, [[10, 0, 2495], [1010, 0, 2495], [1010, 1000, 2495]]],
  [{ do: 'turn-solid', id: 'B1', byDeg: 60 }, 'Turn Steel by 60°', job => job.solids[0].shape, { kind: 'box', centre: [100, 200, 2500], sizeMm: [100, 3000, 200], rotationDeg: [0, 0, 90] }],
  [{ do: 'turn-solid', id: 'P2', byDeg: 90, about: [0, 0] }, 'Turn Pipe by 90°', job => job.solids[3].shape.kind === 'tube' && job.solids[3].shape.points, [[0, 0, 2500], [0, 1000, 2500], [-1000, 1000, 2500]]],
  [{ do: 'remove-solid', id: 'W1' }, 'Remove Gable wall', job => [by(job, 'solids', 'W1'), job.sleeves[0].through], [undefined, []]],
  [{ do: 'add-sleeve', sleeve: { at: [-150, 500, 2600], axis: [1, 0, 0], diameterMm: 130, lengthMm: 320, through: ['W1'] } }, 'Add a sleeve', job => job.sleeves[1].id, 'SL2'],
  [{ do: 'edit-sleeve', id: 'SL1', set: { diameterMm: 200 } }, 'Set diameter of Exhaust through the gable to 200 mm', job => job.sleeves[0].diameterMm, 200],
  [{ do: 'move-sleeve', id: 'SL1', to: [-150, 2400, 2650] }, 'Move Exhaust through the gable', job => [job.sleeves[0].at, job.runs[1].waypoints.at(-1)], [[-150, 2400, 2650], { at: [-150, 2400, 2650] }]],
  [{ do: 'remove-sleeve', id: 'SL1', withRuns: true }, 'Remove Exhaust through the gable and its runs', job => [job.sleeves, job.runs.map(({ id }) => id)], [[], ['N1', 'N3']]],
  [{ do: 'add-solids', solids: [{ id: 'ifc-7', name: 'Girder', class: 'beam', shape: { kind: 'box', centre: [0, 0, 0], sizeMm: [1, 2, 3] } }, { id: 'ifc-8', name: 'Slab', class: 'slab', shape: { kind: 'box', centre: [0, 0, 9], sizeMm: [1, 2, 3] } }] }, 'Bring in 2 things', job => job.solids.slice(4).map(({ id, name }) => [id, name]), [['ifc-7', 'Girder'], ['ifc-8', 'Slab']]],
  [{ do: 'add-equipment', equipment: { kind: 'plenum', centre: [0, 0, 0], sizeMm: [1, 1, 1] } }, 'Add a plenum', job => [job.equipment[4].id, job.equipment[4].name], ['V3', 'Plenum 3']],
  [{ do: 'add-unit', centre: [0, 0, 0], sizeMm: [1000, 600, 800], face: '+z', diameterMm: 160 }, 'Add a unit', job => job.equipment[4].spigots.map(({ id, at }) => [id, at]), [['supply', [-375, 0, 440]], ['extract', [-125, 0, 440]], ['intake', [125, 0, 440]], ['exhaust', [375, 0, 440]]]],
  [{ do: 'add-unit', centre: [0, 0, 0], sizeMm: [600, 500, 800], face: '+z', diameterMm: 160 }, 'Add a unit', job => job.equipment[4].spigots.map(({ at }) => at), [[-150, 125, 440], [150, 125, 440], [-150, -125, 440], [150, -125, 440]]],
  [{ do: 'add-manifold', centre: [0, 0, 0], sizeMm: [600, 300, 200], air: 'extract', face: '+y', count: 4, pitchMm: 120, diameterMm: 92, collarMm: 50, main: { face: '-x', diameterMm: 160 } }, 'Add a manifold', job => job.equipment[4].spigots.map(({ id, at, axis }) => [id, at, axis]), [['p1', [-180, 200, 0], [0, 1, 0]], ['p2', [-60, 200, 0], [0, 1, 0]], ['p3', [60, 200, 0], [0, 1, 0]], ['p4', [180, 200, 0], [0, 1, 0]], ['main', [-350, 0, 0], [-1, 0, 0]]]],
  [{ do: 'add-manifold', centre: [0, 0, 0], sizeMm: [400, 300, 250], face: '+x', count: 4, rows: 2, pitchMm: 110, diameterMm: 92, collarMm: 0 }, 'Add a manifold', job => job.equipment[4].spigots.map(({ at }) => at), [[200, -55, 55], [200, 55, 55], [200, -55, -55], [200, 55, -55]]],
  [{ do: 'add-plenum', centre: [0, 0, 0], sizeMm: [300, 150, 100], room: 'R1', air: 'supply', face: '-y', count: 2, diameterMm: 92, packerMm: 20 }, 'Add a plenum', job => [job.equipment[4].room, job.equipment[4].packerMm, job.equipment[4].spigots.map(({ at }) => at)], ['R1', 20, [[-75, -115, 0], [75, -115, 0]]]],
  [{ do: 'add-outdoor-terminal', centre: [0, 0, 0], sizeMm: [200, 100, 200], air: 'exhaust', face: '+y', diameterMm: 160 }, 'Add an outdoor terminal', job => [job.equipment[4].id, job.equipment[4].air, job.equipment[4].spigots], ['X1', 'exhaust', [{ id: 'p1', at: [0, 90, 0], axis: [0, 1, 0], diameterMm: 160, lengthMm: 40 }]]],
  [{ do: 'edit-equipment', id: 'V2', set: { room: 'R1' } }, 'Set room of Bed valve to Bath', job => job.equipment[3].room, 'R1'],
  [{ do: 'edit-equipment', id: 'V1', set: { room: null, air: 'supply', note: 'turned' } }, 'Change Bath valve', job => [job.equipment[1].room, job.equipment[1].air, job.equipment[1].note], [undefined, 'supply', 'turned']],
  [{ do: 'move-equipment', id: 'M1', to: [2000, 3100, 2550] }, 'Move Manifold', job => job.runs[2].waypoints.map(({ at }) => at[1]), [3040, 2940, 2000, 1115]],
  [{ do: 'set-equipment-underside', id: 'M1', undersideMm: 2460 }, 'Set underside of Manifold to 2460 mm', job => [job.equipment[2].centre, job.runs[2].waypoints[0].at], [[2000, 3000, 2560], [2340, 2940, 2560]]],
  [{ do: 'turn-equipment', id: 'M1', byDeg: 90 }, 'Turn Manifold', job => [job.equipment[2].rotationDeg, job.runs[2].waypoints[0].at], [[0, 0, 90], [2060, 3340, 2550]]],
  [{ do: 'turn-equipment', id: 'M1', toDeg: [0, 0, 180] }, 'Turn Manifold', job => job.runs[2].waypoints[0].at, [1660, 3060, 2550]],
  [{ do: 'resize-equipment', id: 'M1', sizeMm: [700, 300, 200] }, 'Change size of Manifold', job => [job.equipment[2].spigots[0].at, job.runs[2].waypoints[0].at], [[390, -60, 0], [2390, 2940, 2550]]],
  [{ do: 'set-packer', id: 'V2', packerMm: 25 }, 'Set packer of Bed valve to 25 mm', job => [job.equipment[3].packerMm, job.equipment[3].centre[2], job.runs[2].waypoints[3].at], [25, 2475, [4500, 1115, 2475]]],
  [{ do: 'add-spigot', id: 'M1', spigot: { at: [-340, 0, 0], axis: [-1, 0, 0], diameterMm: 125 } }, 'Add a spigot to Manifold', job => job.equipment[2].spigots[2], { id: 'p3', at: [-340, 0, 0], axis: [-1, 0, 0], diameterMm: 125, lengthMm: 40 }],
  [{ do: 'edit-spigot', id: 'M1', spigot: 'p1', set: { at: [340, -80, 0] } }, 'Change at of spigot p1 of Manifold', job => job.runs[2].waypoints[0].at, [2340, 2920, 2550]],
  [{ do: 'remove-spigot', id: 'M1', spigot: 'p1', withRuns: true }, 'Remove spigot p1 of Manifold', job => [job.equipment[2].spigots.length, job.runs.length], [1, 2]],
  // 96 mm either side of the middle of its far side, and the run that ended at 2340, 2940 is on the first of them still
  [{ do: 'lay-spigots', id: 'M1', face: '-x', count: 3, rows: 1, pitchMm: 96, diameterMm: 75 }, 'Lay 3 spigots on Manifold anew', job => [job.equipment[2].spigots.map(({ id, at, axis }) => [id, at, axis]), job.runs[2].waypoints[0].at], [[['p1', [-340, -96, 0], [-1, 0, 0]], ['p2', [-340, 0, 0], [-1, 0, 0]], ['p3', [-340, 96, 0], [-1, 0, 0]]], [1660, 2904, 2550]]],
  [{ do: 'remove-equipment', id: 'M1', withRuns: true }, 'Remove Manifold and its runs', job => [by(job, 'equipment', 'M1'), by(job, 'runs', 'N3')], [undefined, undefined]],
  [{ do: 'add-run', type: 'D1', from: { equipment: 'M1', spigot: 'p2' }, to: { sleeve: 'SL1' }, corners: [{ at: [3000, 3060, 2550] }] }, 'Add a run', job => job.runs[3], { id: 'N4', name: 'Run 4', type: 'D1', from: { equipment: 'M1', spigot: 'p2' }, to: { sleeve: 'SL1' }, note: '', waypoints: [{ at: [2340, 3060, 2550] }, { at: [3000, 3060, 2550] }, { at: [-150, 2500, 2600] }] }],
  [{ do: 'edit-run', id: 'N3', set: { name: 'Bed 1' } }, 'Rename Run 3 to Bed 1', job => job.runs[2].name, 'Bed 1'],
  [{ do: 'edit-run', id: 'N3', set: { group: null } }, 'Clear group of Run 3', job => job.runs[2].group, undefined],
  [{ do: 'lock-run', id: 'N3', locked: true }, 'Lock Run 3', job => job.runs[2].locked, true],
  [{ do: 'lock-run', id: 'N1', locked: false }, 'Unlock Bath extract', job => Object.hasOwn(job.runs[0], 'locked'), false],
  [{ do: 'set-run-type', runs: ['N2', 'N3'], type: 'D3' }, 'Set duct type of Exhaust and Run 3 to Round 75', job => job.runs.map(({ type }) => type), ['D1', 'D3', 'D3']],
  [{ do: 'set-run-type', group: 'Beds', type: 'D3' }, 'Set duct type of Beds to Round 75', job => job.runs.map(({ type }) => type), ['D1', 'D2', 'D3']],
  [{ do: 'reverse-run', id: 'N3' }, 'Reverse Run 3', job => [job.runs[2].from, job.runs[2].waypoints[1]], [{ equipment: 'V2', spigot: 'p1' }, { at: [4500, 2000, 2450], radiusMm: 300 }]],
  [{ do: 'copy-run', of: 'N3', from: { equipment: 'M1', spigot: 'p2' }, to: { equipment: 'V2', spigot: 'p1' } }, 'Copy Run 3', job => [job.runs[3].name, job.runs[3].waypoints.map(({ at }) => at[1])], ['Run 4', [3060, 3060, 2000, 1115]]],
  [{ do: 'end-run-at', id: 'N3', side: 'from', end: { equipment: 'M1', spigot: 'p2' }, keepAxis: true }, 'Start Run 3 at Manifold, spigot p2', job => [job.runs[2].from, job.runs[2].waypoints.map(({ at }) => at[1])], [{ equipment: 'M1', spigot: 'p2' }, [3060, 3060, 2000, 1115]]],
  [{ do: 'remove-run', id: 'N3' }, 'Remove Run 3', job => job.runs.map(({ id }) => id), ['N1', 'N2']],
  [{ do: 'move-waypoint', run: 'N3', point: 2, to: [4400, 2100, 2460] }, 'Move point 3 of Run 3', job => job.runs[2].waypoints[2], { at: [4400, 2100, 2460], radiusMm: 300 }],
  [{ do: 'shift-waypoints', run: 'N3', points: [1, 2], by: [0, 0, 10] }, 'Move 2 points of Run 3', job => job.runs[2].waypoints.map(({ at }) => at[2]), [2550, 2560, 2460, 2450]],
  [{ do: 'insert-waypoint', run: 'N3', point: 1, at: [2600, 2940, 2550] }, 'Add a point to Run 3', job => job.runs[2].waypoints.map(({ at }) => at[0]), [2340, 2600, 2840, 4500, 4500]],
  [{ do: 'remove-waypoint', run: 'N3', point: 1 }, 'Remove point 2 of Run 3', job => job.runs[2].waypoints.length, 3],
  [{ do: 'set-bend-radius', run: 'N3', point: 1, radiusMm: 250 }, 'Set radius at point 2 of Run 3 to 250 mm', job => job.runs[2].waypoints[1], { at: [2840, 2940, 2550], radiusMm: 250 }],
  [{ do: 'set-bend-radius', run: 'N3', point: 2, radiusMm: null }, 'Clear radius at point 3 of Run 3', job => job.runs[2].waypoints[2], { at: [4500, 2000, 2450] }],
  [{ do: 'lay-runs', runs: [{ id: 'N3', from: { equipment: 'M1', spigot: 'p2' }, waypoints: [{ at: [2340, 3060, 2550] }, { at: [3000, 3060, 2500] }, { at: [4500, 1115, 2450] }] }] }, 'Lay Run 3', job => [job.runs[2].from, job.runs[2].to, job.runs[2].group, job.runs[2].waypoints.length], [{ equipment: 'M1', spigot: 'p2' }, { equipment: 'V2', spigot: 'p1' }, 'Beds', 3]],
  [{ do: 'lay-runs', name: 'Find the ways of 2 runs', runs: ['N2', 'N3'].map(id => ({ id, waypoints: [{ at: [0, 0, 2500] as [number, number, number] }, { at: [900, 0, 2500] as [number, number, number] }] })) }, 'Find the ways of 2 runs', job => job.runs.map(({ waypoints }) => waypoints.length), [base.runs[0].waypoints.length, 2, 2]],
  [{ do: 'set-corners', run: 'N3', corners: [{ at: [3000, 2940, 2500], radiusMm: 200 }] }, 'Thread Run 3', job => job.runs[2].waypoints, [{ at: [2340, 2940, 2550] }, { at: [3000, 2940, 2500], radiusMm: 200 }, { at: [4500, 1115, 2450] }]],
  [{ do: 'apply-move', move: { runId: 'N3', waypoints: [1], direction: { x: 0, y: 0, z: 1 }, byMm: 6, way: 'up' } }, 'Move Run 3 6 mm up', job => job.runs[2].waypoints[1].at, [2840, 2940, 2556]],
  [{ do: 'add-view', view: { name: 'Stair', eye: [0, 0, 5000], target: [0, 0, 0], up: [0, 1, 0] } }, 'Keep Stair', job => job.views[1], { id: 'L2', name: 'Stair', note: '', eye: [0, 0, 5000], target: [0, 0, 0], up: [0, 1, 0], hidden: [] }],
  [{ do: 'edit-view', id: 'L1', set: { cut: null } }, 'Clear cut of Over the stair', job => job.views[0].cut, undefined],
  [{ do: 'remove-view', id: 'L1' }, 'Remove Over the stair', job => job.views, []],
  [{ do: 'set-underlay', underlay: { picture: 'plan.png', widthPixels: 100, heightPixels: 100, marks: [{ pixel: [0, 0], at: [0, 0] }, { pixel: [100, 0], at: [4000, 0] }] } }, 'Change the plan under the job', job => job.underlay?.levelMm, 0],
  [{ do: 'remove-underlay' }, 'Take the plan away', job => Object.hasOwn(job, 'underlay'), false],
  [{ do: 'edit-air', set: { table: 'england-ad-f-2021', wholeLps: null } }, 'Change the air', job => [job.air?.table, job.air?.wholeLps, job.air?.airC], ['england-ad-f-2021', undefined, 18]],
  [{ do: 'edit-air', set: { trickleLps: 20 } }, 'Set trickle rate of the air to 20 l/s', job => job.air?.trickleLps, 20],
  [{ do: 'edit-air', set: { hoodMm: null } }, 'Clear side of the meter’s hood of the air', job => job.air?.hoodMm, 300],
  [{ do: 'edit-room-air', id: 'R1', set: { extractLps: 9.5 } }, 'Set extract of Bath to 9.5 l/s', job => job.rooms[0].airflow, { extractLps: 9.5, boostLps: 15, habitable: false, transferMm2: 1200 }],
  [{ do: 'edit-room-air', id: 'R1', set: { extractLps: null, boostLps: null, habitable: null, transferMm2: null } }, 'Change Bath', job => Object.hasOwn(job.rooms[0], 'airflow'), false],
  [{ do: 'edit-equipment-air', id: 'V2', set: { settings: [{ setting: 4, flowLps: 8, dropPa: 20 }] } }, 'Change the valve settings of Bed valve', job => job.equipment[3].airflow, { settings: [{ setting: 4, flowLps: 8, dropPa: 20 }] }],
  [{ do: 'edit-equipment-air', id: 'U1', set: { fan: null } }, 'Clear the fan curve of Unit', job => [job.equipment[0].airflow?.fan, job.equipment[0].airflow?.weightKg], [undefined, 42]],
  [{ do: 'set-run-parts', id: 'N2', parts: [{ name: 'Silencer', kind: 'silencer', dropPa: 4, atLps: 40 }] }, 'Change the parts in Exhaust', job => job.runs[1].inLine, [{ name: 'Silencer', kind: 'silencer', dropPa: 4, atLps: 40, exponent: 2 }]],
  [{ do: 'set-undercut', room: 'R1', door: 0, undercutMm: 12 }, 'Set the gap under a door of Bath to 12 mm', job => job.rooms[0].doors[0].undercutMm, 12],
  [{ do: 'set-undercut', room: 'R1', door: 0, undercutMm: null }, 'Clear the gap under a door of Bath', job => Object.hasOwn(job.rooms[0].doors[0], 'undercutMm'), false],
  [{ do: 'edit-record', set: { tolerancePercent: 8 } }, 'Set the tolerance to 8 %', job => record(job).tolerancePercent, 8],
  [{ do: 'edit-meter', set: { shows: null, serial: '77' } }, 'Change the meter', job => record(job).meter, { name: 'Hood', serial: '77', calibrated: '2026-02-01', accuracyPercent: 5 }],
  [{ do: 'start-pass', speed: 'normal', day: '2026-04-01', by: 'B. Fitter' }, 'Start pass 2, normal running', job => record(job).rounds[1], { speed: 'normal', day: '2026-04-01', by: 'B. Fitter', readings: [] }],
  [{ do: 'edit-pass', pass: 0, set: { ended: true } }, 'End pass 1', job => record(job).rounds[0].ended, true],
  [{ do: 'edit-pass', pass: 0, set: { ended: null } }, 'Open pass 1 again', job => Object.hasOwn(record(job).rounds[0], 'ended'), false],
  [{ do: 'remove-pass', pass: 0 }, 'Remove pass 1', job => record(job).rounds, []],
  [{ do: 'take-reading', pass: 0, terminal: 'V1', lps: 15.1 }, 'Read 15.1 l/s at Bath valve', job => record(job).rounds[0].readings, [{ terminal: 'V1', lps: 15.1, setting: 3, turned: true, note: 'noisy' }]],
  [{ do: 'take-reading', pass: 0, terminal: 'V2', lps: 7, setting: 4, turned: true }, 'Read 7.0 l/s at Bed valve', job => record(job).rounds[0].readings[1], { terminal: 'V2', lps: 7, setting: 4, turned: true }],
  [{ do: 'clear-reading', pass: 0, terminal: 'V1' }, 'Clear the reading at Bath valve', job => record(job).rounds[0].readings, []],
  [{ do: 'set-fan', speed: 'trickle', set: { supplyPercent: 50 } }, 'Set the supply fan for trickle to 50 %', job => record(job).fans, [{ speed: 'trickle', supplyPercent: 50, extractPercent: 47 }]],
  [{ do: 'set-fan', speed: 'trickle', set: { supplyPercent: null, extractPercent: null } }, 'Set the fans for trickle', job => record(job).fans, []],
  [{ do: 'set-fan', speed: 'boost', set: { extractPercent: 80 } }, 'Set the extract fan for boost to 80 %', job => record(job).fans[1], { speed: 'boost', extractPercent: 80 }],
  [{ do: 'set-sound', room: 'R1', speed: 'normal', levelDbA: 29, note: 'door shut' }, 'Note 29 dB(A) in Bath, normal running', job => record(job).sound[1], { room: 'R1', speed: 'normal', levelDbA: 29, note: 'door shut' }],
  [{ do: 'set-sound', room: 'R1', speed: 'boost', levelDbA: null }, 'Clear the sound in Bath, boost', job => record(job).sound, []],
  [{ do: 'add-filter', name: 'Extract air' }, 'Add filter Extract air', job => record(job).filters[1], { name: 'Extract air' }],
  [{ do: 'edit-filter', filter: 0, set: { cleanBy: null } }, 'Clear clean by of filter Fresh air', job => record(job).filters[0], { name: 'Fresh air', fitted: '2026-03-31' }],
  [{ do: 'remove-filter', filter: 0 }, 'Remove filter Fresh air', job => record(job).filters, []],
  [{ do: 'set-signature', role: 'For the owner', set: { name: 'C. Owner' } }, 'Change who signs as For the owner', job => record(job).signatures[1], { role: 'For the owner', name: 'C. Owner' }],
  [{ do: 'set-signature', role: 'Installer', set: { name: null, day: null } }, 'Change who signs as Installer', job => record(job).signatures, []],
  [{ do: 'together', commands: [{ do: 'lock-run', id: 'N1', locked: false }, { do: 'remove-run', id: 'N1' }], name: 'Clear the bath' }, 'Clear the bath', job => job.runs.length, 2],
]

const N9 = 'there is no run N9 in the job'
const LOCKED = 'Bath extract is locked: unlock it first'
/** what it will not do, and what it says */
const refuses: readonly (readonly [command: Command, why: string | RegExp])[] = [
  [{ do: 'edit-job', set: { name: ' ' } }, 'name cannot be " "; it must be one line of text, not blank, without control characters'],
  [{ do: 'edit-settings', set: { outdoor: { advisedMm: 100 } } }, /^advised cannot be 100 mm; it must be at least least, 300 mm$/],
  [{ do: 'set-clearance', between: ['duct', 'web'], mm: -1 }, /^mm cannot be -1; it must be a number from 0/],
  [{ do: 'remove-clearance', between: ['duct', 'web'] }, 'no clearance is set between duct and web'],
  [{ do: 'add-room', room: { outline: [[0, 0], [1, 1]] } }, /^outline of R2 cannot be a list of 2; it must be a list of 3 to/],
  [{ do: 'add-room', room: { id: 'R1', outline: wall } }, /already the id of the room/],
  [{ do: 'edit-room', id: 'R9', set: {} }, 'there is no room R9 in the job'],
  [{ do: 'edit-room', id: 'R1', set: { ceilingMm: -5 } }, 'ceiling of R1 cannot be -5 mm; it must be above floor, 0 mm'],
  [{ do: 'remove-room', id: 'R9' }, 'there is no room R9 in the job'],
  [{ do: 'add-zone', zone: { outline: wall, undersideMm: 300, topMm: 300 } }, /^top of Z2 cannot be 300 mm; it must be above underside/],
  [{ do: 'edit-zone', id: 'R1', set: {} }, 'there is no ceiling zone R1 in the job'],
  [{ do: 'remove-zone', id: 'Z9' }, 'there is no ceiling zone Z9 in the job'],
  [{ do: 'move-corner', of: 'R1', corner: 4, at: [0, 0] }, 'Bath has no corner 5'],
  [{ do: 'move-corner', of: 'R1', ring: 1, corner: 0, at: [0, 0] }, 'Bath has no ring 1'],
  [{ do: 'move-corner', of: 'B1', corner: 0, at: [0, 0] }, 'there is no room, ceiling zone or prism B1 in the job'],
  [{ do: 'insert-corner', of: 'R1', corner: 5, at: [0, 0] }, 'Bath has no corner 6'],
  [{ do: 'remove-corner', of: 'Z1', ring: 1, corner: 0 }, 'an outline needs three corners'],
  [{ do: 'add-section', section: { kind: 'solid-timber', depthMm: 0, widthMm: 44 } }, /^depth of S5 cannot be 0;/],
  [{ do: 'edit-section', id: 'S1', set: { chordHeightMm: 130 } }, /^chord height of S1 cannot be 130 mm; it must be less than 127 mm/],
  // the end blocks of the joists that are there would meet
  [{ do: 'edit-section', id: 'S1', set: { endBlockMm: 2005 } }, /^length of F1 cannot be 4000 mm; it must be at least the two end blocks/],
  [{ do: 'remove-section', id: 'S1' }, 'Bay A is made of it'],
  [{ do: 'add-duct-type', type: { kind: 'semi-rigid', innerDiameterMm: 110, outerDiameterMm: 100, minBendRadiusMm: 200 } }, /^outer diameter of D4 cannot be 100 mm/],
  [{ do: 'edit-duct-type', id: 'D2', set: { kind: 'semi-rigid' } }, /^min bend radius of D2 cannot be nothing/],
  [{ do: 'remove-duct-type', id: 'D1' }, 'Bath extract and Run 3 are of this type'],
  [{ do: 'lay-joist-field', corners: [[0, 0], [4000, 40]], section: 'S2', centresMm: 400, directionDeg: 0, undersideMm: 2400 }, 'the box is narrower than one joist, 47 mm'],
  [{ do: 'lay-joist-field', corners: [[0, 0], [0, 4000]], section: 'S2', centresMm: 400, directionDeg: 0, undersideMm: 2400 }, /^length of F3 cannot be 0;/],
  [{ do: 'lay-joist-field', corners: [[0, 0], [4000, 4000]], section: 'S9', centresMm: 400, directionDeg: 0, undersideMm: 2400 }, 'there is no joist section S9 in the job'],
  [{ do: 'lay-joist-field', corners: [[0, 0], [4000, 4000]], section: 'S2', centresMm: 0.01, directionDeg: 0, undersideMm: 2400 }, 'that would be more than 5000 joists'],
  [{ do: 'edit-joist-field', id: 'F1', set: { section: 'S9' } }, /^section of F1 cannot be "S9", which nothing in the job has as its id/],
  [{ do: 'remove-joist-field', id: 'J1' }, 'there is no joist field J1 in the job'],
  [{ do: 'edit-joist', id: 'J9', set: { flip: true } }, 'there is no joist J9 in the job'],
  [{ do: 'edit-joist', id: 'J3', set: { lengthMm: 910 } }, /^along of H1 cannot be 900 mm/],
  [{ do: 'add-joists', field: 'F1', count: 0 }, 'the number of joists must be 1 to 5000'],
  [{ do: 'remove-joist', id: 'J3' }, 'it is the only joist of Bay B: remove the field instead'],
  [{ do: 'add-hole', hole: { joist: 'J3', alongMm: 1500, heightMm: 10, diameterMm: 50 } }, /^height of H2 cannot be 10 mm; it must be 25 to 195 mm/],
  [{ do: 'edit-hole', id: 'H9', set: {} }, 'there is no hole H9 in the job'],
  [{ do: 'remove-hole', id: 'H9' }, 'there is no hole H9 in the job'],
  [{ do: 'add-solid', solid: { class: 'beam', shape: { kind: 'box', centre: [NaN, 0, 0], sizeMm: [1, 2, 3] } } }, /^centre of B2 cannot be no number \(NaN\)/],
  [{ do: 'add-member', class: 'beam', from: [0, 0, 0], to: [0, 0, 0], widthMm: 50, depthMm: 50 }, 'its two ends are the same point'],
  [{ do: 'add-stack', class: 'flue', at: [0, 0], bottomMm: 100, topMm: 100, diameterMm: 100 }, /^to of P3 cannot be a point 0 mm from the other end/],
  [{ do: 'add-line', class: 'cable', points: [[0, 0, 0]], diameterMm: 12 }, /^points of C1 cannot be a list of 1/],
  [{ do: 'add-block', class: 'keep-out', at: [0, 0, 0], sizeMm: [0, 1, 1] }, /^size of K1 cannot be 0/],
  [{ do: 'add-wall', from: [0, 0], to: [0, 0], thicknessMm: 100, bottomMm: 0, topMm: 100 }, 'its two ends are the same point'],
  [{ do: 'edit-solid', id: 'P1', set: { shape: { sizeMm: [1, 1, 1] } } }, /^size of P1 cannot be a key that is not known here/],
  [{ do: 'move-solid', id: 'P9', by: [0, 0, 0] }, 'there is no solid P9 in the job'],
  [{ do: 'move-solid', id: 'P1', by: [2e6, 0, 0] }, /^from of P1 cannot be 2000010/],
  [{ do: 'turn-solid', id: 'P9', byDeg: 10 }, 'there is no solid P9 in the job'],
  [{ do: 'remove-solid', id: 'P9' }, 'there is no solid P9 in the job'],
  [{ do: 'add-sleeve', sleeve: { at: [0, 0, 0], axis: [1, 0, 0], diameterMm: 130, lengthMm: 320, through: ['W9'] } }, /^through of SL2 cannot be "W9"/],
  [{ do: 'edit-sleeve', id: 'SL1', set: { axis: [0, 0, 0] } }, /^axis of SL1 cannot be a direction 0 long/],
  [{ do: 'move-sleeve', id: 'SL9', to: [0, 0, 0] }, 'there is no sleeve SL9 in the job'],
  [{ do: 'remove-sleeve', id: 'SL1' }, 'Exhaust ends on it: remove it with it, or end it elsewhere first'],
  [{ do: 'add-solids', solids: [] }, 'there is nothing to bring in'],
  [{ do: 'add-equipment', equipment: { kind: 'plenum', centre: [0, 0, 0], sizeMm: [1, 1, 1], room: 'R9' } }, /^room of V3 cannot be "R9"/],
  [{ do: 'lay-spigots', id: 'M1', face: '+x', count: 4, rows: 1, pitchMm: 96, diameterMm: 92 }, /^the spigots take 380 mm by 92 mm, more than the face, 300 mm by 200 mm/],
  [{ do: 'lay-spigots', id: 'M9', face: '+x', count: 4, rows: 1, pitchMm: 96, diameterMm: 92 }, 'there is no piece of equipment M9 in the job'],
  [{ do: 'add-unit', centre: [0, 0, 0], sizeMm: [300, 300, 800], face: '+z', diameterMm: 160 }, 'four spigots of 160 mm do not go on a face of 300 mm by 300 mm'],
  [{ do: 'add-manifold', centre: [0, 0, 0], sizeMm: [600, 300, 200], face: '+y', count: 6, pitchMm: 120, diameterMm: 92 }, 'the spigots take 692 mm by 92 mm, more than the face, 600 mm by 200 mm'],
  [{ do: 'add-manifold', centre: [0, 0, 0], sizeMm: [600, 300, 200], face: '+y', count: 2, pitchMm: 90, diameterMm: 92 }, 'spigots of 92 mm do not go side by side at 90 mm'],
  [{ do: 'add-manifold', centre: [0, 0, 0], sizeMm: [600, 300, 200], face: '+y', count: 2, pitchMm: 120, diameterMm: 92, main: { face: '+y', diameterMm: 92 } }, 'the main spigot must be on another face'],
  [{ do: 'add-plenum', centre: [0, 0, 0], sizeMm: [150, 150, 100], face: '-y', count: 2, diameterMm: 92 }, 'spigots of 92 mm do not go side by side at 75 mm'],
  [{ do: 'add-outdoor-terminal', centre: [0, 0, 2e6], sizeMm: [200, 100, 200], air: 'intake', face: '+y', diameterMm: 160 }, /^centre of X1 cannot be 2000000/],
  [{ do: 'edit-equipment', id: 'V1', set: { room: 'Z1' } }, /^room of V1 cannot be "Z1", which is a zone/],
  [{ do: 'move-equipment', id: 'V9', to: [0, 0, 0] }, 'there is no piece of equipment V9 in the job'],
  [{ do: 'move-equipment', id: 'V1', to: [0, 0, 0] }, 'Bath extract ends on it and is locked: unlock first'],
  [{ do: 'set-equipment-underside', id: 'V9', undersideMm: 0 }, 'there is no piece of equipment V9 in the job'],
  [{ do: 'turn-equipment', id: 'V1', byDeg: 90 }, 'Bath extract ends on it and is locked: unlock first'],
  [{ do: 'resize-equipment', id: 'M1', sizeMm: [0, 1, 1] }, /^size of M1 cannot be 0/],
  [{ do: 'set-packer', id: 'M1', packerMm: 20 }, 'only plenums stand on packers'],
  [{ do: 'add-spigot', id: 'M1', spigot: { id: 'p1', at: [0, 0, 0], axis: [1, 0, 0], diameterMm: 92 } }, /^id of M1 cannot be "p1"|^id of p1 cannot be "p1"/],
  [{ do: 'edit-spigot', id: 'M1', spigot: 'p9', set: {} }, 'Manifold has no spigot p9'],
  [{ do: 'remove-spigot', id: 'M1', spigot: 'p1' }, 'Run 3 ends on it: remove it with it, or end it elsewhere first'],
  [{ do: 'remove-equipment', id: 'U1' }, 'Bath extract and Exhaust end on it: remove them with it, or end them elsewhere first'],
  [{ do: 'remove-equipment', id: 'U1', withRuns: true }, 'Bath extract is locked: unlock first'],
  [{ do: 'add-run', type: 'D9', from: { equipment: 'M1', spigot: 'p2' }, to: { sleeve: 'SL1' } }, /^type of N4 cannot be "D9"/],
  [{ do: 'add-run', type: 'D1', from: { equipment: 'M1', spigot: 'p9' }, to: { sleeve: 'SL1' } }, 'there is no spigot p9 of M1 in the job'],
  [{ do: 'edit-run', id: 'N9', set: {} }, N9],
  [{ do: 'lock-run', id: 'N9', locked: true }, N9],
  [{ do: 'set-run-type', runs: ['N3', 'N9'], type: 'D3' }, N9],
  [{ do: 'set-run-type', runs: ['N1', 'N3'], type: 'D3' }, 'Bath extract is locked: unlock first'],
  [{ do: 'set-run-type', group: 'Nobody', type: 'D3' }, 'no run is in the group Nobody'],
  [{ do: 'reverse-run', id: 'N9' }, N9],
  [{ do: 'copy-run', of: 'N9', from: { sleeve: 'SL1' }, to: { sleeve: 'SL1' } }, N9],
  [{ do: 'end-run-at', id: 'N3', side: 'to', end: { sleeve: 'SL9' } }, 'there is no sleeve SL9 in the job'],
  [{ do: 'end-run-at', id: 'N1', side: 'to', end: { sleeve: 'SL1' } }, LOCKED],
  [{ do: 'remove-run', id: 'N1' }, LOCKED],
  [{ do: 'move-waypoint', run: 'N1', point: 1, to: [0, 0, 0] }, LOCKED],
  [{ do: 'move-waypoint', run: 'N3', point: 4, to: [0, 0, 0] }, 'Run 3 has no point 5'],
  [{ do: 'shift-waypoints', run: 'N3', points: [1, -1], by: [0, 0, 0] }, 'Run 3 has no point 0'],
  [{ do: 'insert-waypoint', run: 'N3', point: 0, at: [0, 0, 0] }, 'a new point of Run 3 must lie between its ends'],
  [{ do: 'insert-waypoint', run: 'N1', point: 1, at: [0, 0, 0] }, LOCKED],
  [{ do: 'remove-waypoint', run: 'N3', point: 3 }, 'Run 3 must keep its two ends'],
  [{ do: 'remove-waypoint', run: 'N1', point: 1 }, LOCKED],
  [{ do: 'set-bend-radius', run: 'N3', point: 0, radiusMm: 100 }, 'there is no bend at an end of Run 3'],
  [{ do: 'set-bend-radius', run: 'N1', point: 1, radiusMm: 100 }, LOCKED],
  // one wrong among many: none is laid
  [{ do: 'lay-runs', runs: [laidAs('N3'), laidAs('N1')] }, LOCKED],
  [{ do: 'lay-runs', runs: [laidAs('N3'), laidAs('N9')] }, N9],
  [{ do: 'lay-runs', runs: [laidAs('N3'), laidAs('N3')] }, 'Run 3 is named twice'],
  [{ do: 'lay-runs', runs: [] }, 'no run is named'],
  [{ do: 'lay-runs', runs: [{ id: 'N3', waypoints: [{ at: [0, 0, 0] }] }] }, 'Run 3 must have from 2 to 500 points, not 1'],
  [{ do: 'lay-runs', runs: [{ ...laidAs('N3'), to: { equipment: 'V2', spigot: 'p9' } }] }, 'there is no spigot p9 of V2 in the job'],
  [{ do: 'lay-runs', runs: [{ ...laidAs('N2'), to: { equipment: 'M1', spigot: 'p1' } }, laidAs('N3')] }, 'Exhaust and Run 3 would both end at Manifold, spigot p1'],
  [{ do: 'lay-runs', runs: [{ ...laidAs('N3'), from: { equipment: 'V2', spigot: 'p1' } }] }, 'Run 3 would have both its ends at Bed valve, spigot p1'],
  [{ do: 'set-corners', run: 'N1', corners: [] }, LOCKED],
  [{ do: 'apply-move', move: { runId: 'N1', waypoints: [1], direction: { x: 0, y: 0, z: 1 }, byMm: 6, way: 'up' } }, LOCKED],
  [{ do: 'add-view', view: { eye: [0, 0, 0], target: [0, 0, 0] } }, /^target of L2 cannot be a point 0 mm from the other/],
  [{ do: 'edit-view', id: 'L1', set: { up: [0, 0, 0] } }, /^up of L1 cannot be a direction 0 long/],
  [{ do: 'remove-view', id: 'L9' }, 'there is no view L9 in the job'],
  [{ do: 'set-underlay', underlay: { picture: 'plan.png', widthPixels: 9, heightPixels: 9, marks: [{ pixel: [0, 0], at: [0, 0] }, { pixel: [5, 0], at: [0, 0] }] } }, /^at cannot be a point 0 mm from the other/],
  [{ do: 'edit-air', set: { airC: 99 } }, /^temperature cannot be 99; it must be a number from -40 to 60/],
  [{ do: 'edit-room-air', id: 'R9', set: {} }, 'there is no room R9 in the job'],
  [{ do: 'edit-equipment-air', id: 'U1', set: { fan: [{ flowLps: 10, pressurePa: 50 }, { flowLps: 5, pressurePa: 90 }] } }, 'flow of U1 cannot be 5 l/s; it must be more than 10 l/s, the point before'],
  [{ do: 'set-run-parts', id: 'N9', parts: null }, N9],
  [{ do: 'set-undercut', room: 'R1', door: 1, undercutMm: 10 }, 'Bath has no door 2'],
  [{ do: 'edit-record', set: { tolerancePercent: -1 } }, /^tolerance cannot be -1/],
  [{ do: 'edit-meter', set: { calibrated: 'last week' } }, /^calibrated of Hood cannot be "last week"; it must be a day/],
  [{ do: 'start-pass', speed: 'normal', day: '1 April' }, /^day cannot be "1 April"/],
  [{ do: 'edit-pass', pass: 3, set: { ended: true } }, 'there is no pass 4'],
  [{ do: 'remove-pass', pass: 1 }, 'there is no pass 2'],
  [{ do: 'take-reading', pass: 0, terminal: 'V1', lps: -2 }, /^flow of first cannot be -2/],
  [{ do: 'take-reading', pass: 1, terminal: 'V1', lps: 2 }, 'there is no pass 2'],
  [{ do: 'clear-reading', pass: 0, terminal: 'V2' }, 'Bed valve was not read in pass 1'],
  [{ do: 'set-fan', speed: 'boost', set: { supplyPercent: 140 } }, /^supply cannot be 140/],
  [{ do: 'set-sound', room: 'R1', speed: 'trickle', levelDbA: null }, 'no sound is noted in Bath for trickle'],
  [{ do: 'add-filter', name: ' ' }, /^name of   cannot be " "/],
  [{ do: 'edit-filter', filter: 1, set: { fitted: null } }, 'there is no filter 2'],
  [{ do: 'remove-filter', filter: 1 }, 'there is no filter 2'],
  [{ do: 'set-signature', role: 'Installer', set: { day: 'soon' } }, /^day of A. Fitter cannot be "soon"; it must be a day as year-month-day/],
  [{ do: 'together', commands: [{ do: 'remove-run', id: 'N3' }, { do: 'remove-run', id: 'N3' }] }, 'there is no run N3 in the job'],
]

describe('every command', () => {
  test('is tried, and so is what each refuses', () => {
    expect([...new Set(does.map(([command]) => command.do))].sort()).toEqual([...COMMAND_NAMES].sort())
    // taking away the plan under the job can only fail where there is none: below
    expect([...new Set([...refuses.map(([command]) => command.do), 'remove-underlay'])].sort()).toEqual([...COMMAND_NAMES].sort())
  })
  test.each(does.map(([command, label, made, expected]) => ({ command, label, made, expected })))('$label', ({ command, label, made, expected }) => {
    const before = formatJob(base)
    expect(labelOf(command, base)).toBe(label)
    const performed = perform(start(base), command)
    if (!performed.ok) throw new Error(performed.why)
    const { present, past } = performed.history
    expect(made(present)).toEqual(expected)
    expect(past.map(step => step.label)).toEqual([label])
    // a whole job, as the reader of files judges it
    const read = parseJob(formatJob(present))
    expect(read).toEqual({ ok: true, job: present })
    // the command's own data is not in the job, so that changing it afterwards changes nothing
    expect(formatJob(base)).toBe(before)
    const undone = undo(performed.history)
    expect(undone.present).toBe(base)
    expect(redo(undone).present).toBe(present)
  })
  test.each(refuses.map(([command, why]) => ({ command, why, what: command.do })))('$what refuses: $why', ({ command, why }) => {
    const outcome = apply(base, command)
    expect(outcome).toEqual({ ok: false, why: typeof why === 'string' ? why : expect.stringMatching(why) })
    const history = start(base)
    expect(perform(history, command).history).toBe(history)
    // the step's name can be asked for all the same
    expect(labelOf(command, base)).not.toMatch(/undefined|null/)
  })
  test('that changes nothing gives the very same job, and is no step', () => {
    for (const command of [{ do: 'lock-run', id: 'N1', locked: true }, { do: 'edit-room', id: 'R1', set: { name: 'Bath' } }, { do: 'move-waypoint', run: 'N3', point: 1, to: [2840, 2940, 2550] }, { do: 'move-equipment', id: 'V1', to: [1200, 900, 2450] }] satisfies Command[]) {
      expect(apply(base, command)).toEqual({ ok: true, job: base })
      expect(perform(start(base), command).history).toEqual(start(base))
    }
  })
  test('says so when there is no plan to take away', () => {
    const { underlay: _, ...without } = base
    expect(apply(without, { do: 'remove-underlay' })).toEqual({ ok: false, why: 'there is no plan under the job' })
    expect(labelOf({ do: 'set-underlay', underlay: base.underlay! }, without)).toBe('Put a plan under the job')
  })
  test('is a step, or can be part of a drag of one thing', () => {
    expect(undoPolicy({ do: 'remove-run', id: 'N3' })).toBe('step')
    expect(undoPolicy({ do: 'move-waypoint', run: 'N3', point: 1, to: [0, 0, 0] })).toBe('drag')
    const keys = does.map(([command]) => dragKey(command)).filter(key => key !== undefined)
    expect(keys.length).toBeGreaterThan(15)
    for (const [command] of does) {
      const key = dragKey(command)
      if (key !== undefined) expect(key.startsWith(command.do)).toBe(true)
      expect(undoPolicy(command)).toBe(key === undefined ? 'step' : 'drag')
    }
  })
})

describe('a command from a script', () => {
  test.each<[string, unknown]>([
    ['of no known name', { do: 'toString' }], ['of none', {}], ['without what it needs', { do: 'move-waypoint' }], ['with the wrong things in it', { do: 'set-run-type', runs: 7, type: {} }],
    ['with a key that is not in the format', { do: 'edit-room', id: 'R1', set: { colour: 'grey' } }], ['that reaches for a prototype', { do: 'add-room', room: JSON.parse('{"__proto__": {"a": 1}, "outline": [[0,0],[1,0],[1,1]]}') as unknown }],
    ['that has no end', { do: 'set-corners', run: 'N3', corners: endless() }],
  ])('%s is refused, not thrown', (_, command) => {
    const outcome = apply(base, command as Command)
    expect(outcome.ok).toBe(false)
    if (!outcome.ok) expect(outcome.why.length).toBeGreaterThan(10)
  })
  test('can be changed afterwards without changing the job', () => {
    const at: [number, number, number] = [2600, 2940, 2550]
    const outcome = apply(base, { do: 'insert-waypoint', run: 'N3', point: 1, at })
    at[0] = 0
    expect(outcome.ok && outcome.job.runs[2].waypoints[1].at).toEqual([2600, 2940, 2550])
  })
})

function endless(): unknown[] {
  const list: unknown[] = []
  list.push({ at: list })
  return list
}
