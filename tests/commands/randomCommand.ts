/** A command out of dice: mostly about things that the job has, now and then about things that it has not. */
import type { Command } from '#commands/index.ts'
import { CLASSES, FAN_SPEEDS, RATE_TABLES, type Job, type Point2, type Point3 } from '#model/index.ts'

export function randomCommand(job: Job, random: () => number): Command {
  const below = (count: number): number => Math.floor(random() * count)
  const between = (low: number, high: number): number => Math.round((low + random() * (high - low)) * 10) / 10
  const one = <T>(list: readonly T[]): T => list[below(list.length)]
  const idOf = (list: readonly { readonly id: string }[]): string => list.length === 0 || random() < 0.03 ? 'gone' : one(list).id
  const point2 = (): Point2 => [between(-500, 6000), between(-500, 5000)]
  const point3 = (): Point3 => [...point2(), between(2300, 2800)]
  const by = (): Point3 => [between(-50, 50), between(-50, 50), between(-20, 20)]
  const size = (): number => between(10, 400)
  const yes = (): boolean => random() < 0.5
  const joists = job.joistFields.flatMap(field => field.joists)
  const room = (): string => idOf(job.rooms), run = (): string => idOf(job.runs), machine = (): string => idOf(job.equipment), solid = (): string => idOf(job.solids)
  const end = () => {
    const withSpigots = job.equipment.filter(({ spigots }) => spigots.length > 0)
    if (withSpigots.length === 0 || (job.sleeves.length > 0 && random() < 0.2)) return { sleeve: idOf(job.sleeves) }
    const { id, spigots } = one(withSpigots)
    return { equipment: id, spigot: idOf(spigots) }
  }
  const spigot = (id: string): string => idOf(job.equipment.find(each => each.id === id)?.spigots ?? [])
  const pointOf = (id: string): number => below(job.runs.find(each => each.id === id)?.waypoints.length ?? 2)
  const ring = (): Point2[] => Array.from({ length: 3 + below(3) }, point2)
  const name = (): string => `thing ${below(1000)}`
  const face = () => one(['+x', '-x', '+y', '-y', '+z', '-z'] as const)
  const body = () => ({ centre: point3(), sizeMm: [between(300, 900), between(300, 900), between(200, 500)] as Point3 })

  const makers: readonly (() => Command)[] = [
    () => ({ do: 'edit-job', set: yes() ? { note: name() } : { datum: null } }),
    () => ({ do: 'edit-settings', set: one([{ clearanceMm: size() }, { connection: { offMm: size() } }, { straightAtSpigot: null }, { outdoor: { advisedMm: size() } }]) }),
    () => ({ do: 'set-clearance', between: [one(CLASSES), one([...CLASSES, 'any'])], mm: between(-5, 60) }),
    () => ({ do: 'remove-clearance', between: job.settings.clearances[0]?.between ?? ['duct', 'duct'] }),
    () => ({ do: 'add-room', room: { outline: ring(), ceilingMm: between(-100, 2600) } }),
    () => ({ do: 'edit-room', id: room(), set: one([{ name: name() }, { use: 'kitchen' }, { floorMm: between(-100, 2500) }, { doors: [{ at: point2() }] }, { use: null }]) }),
    () => ({ do: 'remove-room', id: room() }),
    () => ({ do: 'add-zone', zone: { outline: ring(), undersideMm: 2400, topMm: between(2390, 2700) } }),
    () => ({ do: 'edit-zone', id: idOf(job.zones), set: { topMm: between(2390, 2700) } }),
    () => ({ do: 'remove-zone', id: idOf(job.zones) }),
    () => ({ do: 'move-corner', of: one([room(), idOf(job.zones), solid()]), ring: below(2), corner: below(5), at: point2() }),
    () => ({ do: 'insert-corner', of: one([room(), idOf(job.zones), solid()]), corner: below(5), at: point2() }),
    () => ({ do: 'remove-corner', of: one([room(), idOf(job.zones), solid()]), corner: below(5) }),
    () => ({ do: 'add-section', section: { kind: 'i-section', depthMm: between(200, 300), flangeWidthMm: 45, flangeHeightMm: 39, webThicknessMm: between(5, 60) } }),
    () => ({ do: 'edit-section', id: idOf(job.sections), set: one([{ depthMm: between(60, 300) }, { kind: 'solid-timber', widthMm: 47 }, { webPitchMm: 500 }, { name: name() }]) }),
    () => ({ do: 'remove-section', id: idOf(job.sections) }),
    () => ({ do: 'add-duct-type', type: { kind: 'semi-rigid', innerDiameterMm: size(), outerDiameterMm: size(), minBendRadiusMm: size() } }),
    () => ({ do: 'edit-duct-type', id: idOf(job.ductTypes), set: one([{ outerDiameterMm: between(60, 200) }, { insulationMm: null }, { minBendRadiusMm: size() }]) }),
    () => ({ do: 'remove-duct-type', id: idOf(job.ductTypes) }),
    () => ({ do: 'lay-joist-field', corners: [point2(), point2()], section: idOf(job.sections), centresMm: between(300, 600), directionDeg: one([0, 90, 45]), undersideMm: 2400 }),
    () => ({ do: 'edit-joist-field', id: idOf(job.joistFields), set: one([{ centresMm: size() }, { lengthMm: between(500, 5000) }, { flip: yes() }, { bearingMm: size() }, { next: 'right' }, { firstNodeMm: null }]) }),
    () => ({ do: 'remove-joist-field', id: idOf(job.joistFields) }),
    () => ({ do: 'edit-joist', id: idOf(joists), set: one([{ firstNodeMm: between(-200, 200) }, { firstNodeMm: null }, { flip: yes() }, { positionMm: between(0, 4000) }, { lengthMm: between(400, 5000) }, { lengthMm: null }, { webFree: [{ fromMm: between(0, 900), toMm: between(500, 1500) }] }]) }),
    () => ({ do: 'add-joists', field: idOf(job.joistFields), count: below(4) }),
    () => ({ do: 'remove-joist', id: idOf(joists) }),
    () => ({ do: 'add-hole', hole: { joist: idOf(joists), alongMm: between(0, 2000), heightMm: between(60, 160), diameterMm: between(10, 100) } }),
    () => ({ do: 'edit-hole', id: idOf(job.holes), set: one([{ alongMm: between(0, 4000) }, { joist: idOf(joists) }]) }),
    () => ({ do: 'remove-hole', id: idOf(job.holes) }),
    () => ({ do: 'add-member', class: one(['trimmer', 'noggin', 'strongback', 'beam']), from: point3(), to: point3(), widthMm: size(), depthMm: size() }),
    () => ({ do: 'add-stack', class: 'soil-stack', at: point2(), bottomMm: 0, topMm: between(0, 2700), diameterMm: size() }),
    () => ({ do: 'add-line', class: 'cable', points: [point3(), point3(), point3()], diameterMm: size(), bendRadiusMm: yes() ? size() : undefined }),
    () => ({ do: 'add-block', class: 'downlight', at: point3(), sizeMm: [size(), size(), size()] }),
    () => ({ do: 'add-wall', from: point2(), to: point2(), thicknessMm: 100, side: one(['left', 'right', 'middle']), bottomMm: 0, topMm: 2400 }),
    () => ({ do: 'edit-solid', id: solid(), set: one([{ shape: { diameterMm: size() } }, { shape: { sizeMm: [size(), size(), size()] } }, { name: name() }, { note: null }, { shape: { rotationDeg: [between(-90, 90), 0, between(-360, 360)] } }]) }),
    () => ({ do: 'move-solid', id: solid(), by: by() }),
    () => ({ do: 'turn-solid', id: solid(), byDeg: one([90, -90, 180, 33, 360]), about: yes() ? point2() : undefined }),
    () => ({ do: 'remove-solid', id: solid() }),
    () => ({ do: 'add-sleeve', sleeve: { at: point3(), axis: by(), diameterMm: size(), lengthMm: size(), through: [solid()] } }),
    () => ({ do: 'edit-sleeve', id: idOf(job.sleeves), set: one([{ diameterMm: size() }, { axis: by() }, { through: [solid()] }]) }),
    () => ({ do: 'move-sleeve', id: idOf(job.sleeves), to: point3(), keepAxis: yes() }),
    () => ({ do: 'remove-sleeve', id: idOf(job.sleeves), withRuns: yes() }),
    () => ({ do: 'add-unit', ...body(), face: face(), diameterMm: between(100, 200) }),
    () => ({ do: 'add-manifold', ...body(), face: face(), count: 1 + below(8), rows: 1 + below(2), pitchMm: between(80, 130), diameterMm: 92, main: yes() ? { face: face(), diameterMm: 160 } : undefined }),
    () => ({ do: 'add-plenum', ...body(), face: face(), count: one([1, 2]), diameterMm: 92, room: yes() ? room() : undefined, packerMm: yes() ? size() : undefined }),
    () => ({ do: 'add-outdoor-terminal', ...body(), face: face(), air: one(['intake', 'exhaust']), diameterMm: 160 }),
    () => ({ do: 'edit-equipment', id: machine(), set: one([{ room: room() }, { room: null }, { air: 'supply' }, { note: name() }, { name: name() }]) }),
    () => ({ do: 'move-equipment', id: machine(), to: point3(), keepAxis: yes() }),
    () => ({ do: 'set-equipment-underside', id: machine(), undersideMm: between(2300, 2700) }),
    () => ({ do: 'turn-equipment', id: machine(), keepAxis: yes(), ...yes() ? { byDeg: between(-400, 400) } : { toDeg: [between(-90, 90), 0, between(-90, 90)] as Point3 } }),
    () => ({ do: 'resize-equipment', id: machine(), sizeMm: [size(), size(), size()], keepAxis: yes() }),
    () => ({ do: 'set-packer', id: machine(), packerMm: yes() ? size() : null }),
    () => ({ do: 'add-spigot', id: machine(), spigot: { at: by(), axis: by(), diameterMm: 92 } }),
    () => { const id = machine(); return { do: 'edit-spigot', id, spigot: spigot(id), set: one([{ at: by() }, { axis: by() }, { lengthMm: null }]), keepAxis: yes() } },
    () => { const id = machine(); return { do: 'remove-spigot', id, spigot: spigot(id), withRuns: yes() } },
    ...Array.from({ length: 2 }, () => (): Command => ({ do: 'lay-spigots', id: machine(), face: face(), count: 1 + below(5), rows: 1 + below(2), pitchMm: between(60, 130), diameterMm: one([50, 92]), withRuns: yes() })),
    () => ({ do: 'remove-equipment', id: machine(), withRuns: yes() }),
    ...Array.from({ length: 4 }, () => (): Command => ({ do: 'add-run', type: idOf(job.ductTypes), from: end(), to: end(), corners: Array.from({ length: below(4) }, () => ({ at: point3() })), group: yes() ? 'Beds' : undefined })),
    () => ({ do: 'edit-run', id: run(), set: one([{ name: name() }, { group: null }, { group: 'Wet' }, { note: name() }]) }),
    () => ({ do: 'lock-run', id: run(), locked: random() < 0.3 }),
    () => ({ do: 'set-run-type', type: idOf(job.ductTypes), ...yes() ? { group: 'Beds' } : { runs: [run(), run()] } }),
    () => ({ do: 'reverse-run', id: run() }),
    () => ({ do: 'copy-run', of: run(), from: end(), to: end() }),
    () => ({ do: 'end-run-at', id: run(), side: one(['from', 'to']), end: end(), keepAxis: yes() }),
    () => ({ do: 'remove-run', id: run() }),
    () => { const id = run(); return { do: 'move-waypoint', run: id, point: pointOf(id), to: point3() } },
    () => { const id = run(); return { do: 'shift-waypoints', run: id, points: [pointOf(id), pointOf(id)], by: by() } },
    () => { const id = run(); return { do: 'insert-waypoint', run: id, point: pointOf(id), at: point3() } },
    () => { const id = run(); return { do: 'remove-waypoint', run: id, point: pointOf(id) } },
    () => { const id = run(); return { do: 'set-bend-radius', run: id, point: Math.max(1, pointOf(id) - 1), radiusMm: yes() ? size() : null } },
    () => ({ do: 'set-corners', run: run(), corners: [{ at: point3() }, { at: point3(), radiusMm: size() }] }),
    () => ({ do: 'lay-runs', runs: [run(), run()].slice(0, 1 + below(2)).map(id => ({ id, waypoints: [{ at: point3() }, { at: point3() }, { at: point3() }], from: yes() ? end() : undefined })) }),
    () => { const id = run(); return { do: 'apply-move', move: { runId: id, waypoints: [pointOf(id)], direction: { x: 0, y: 0, z: -1 }, byMm: between(1, 50), way: 'down' } } },
    () => ({ do: 'add-view', view: { eye: point3(), target: point3() } }),
    () => ({ do: 'edit-view', id: idOf(job.views), set: one([{ hidden: ['wall'] }, { cut: null }, { cut: { at: point3(), towards: by() } }, { note: null }]) }),
    () => ({ do: 'remove-view', id: idOf(job.views) }),
    () => ({ do: 'set-underlay', underlay: { picture: 'plan.png', widthPixels: 900, heightPixels: 900, marks: [{ pixel: [0, 0], at: point2() }, { pixel: [below(3), 0], at: point2() }] } }),
    () => ({ do: 'remove-underlay' }),
    () => ({ do: 'edit-air', set: one([{ table: one(RATE_TABLES) }, { wholeLps: yes() ? between(10, 80) : null }, { airC: between(-60, 80) }, { trickleLps: between(5, 30) }]) }),
    () => ({ do: 'edit-room-air', id: room(), set: one([{ extractLps: between(2, 20) }, { habitable: yes() }, { boostLps: null }, { transferMm2: between(-10, 8000) }]) }),
    () => ({ do: 'edit-equipment-air', id: machine(), set: one([{ weightKg: between(-5, 60) }, { normalLps: null }, { settings: [{ setting: below(9), flowLps: size(), dropPa: size() }] }, { fan: [{ flowLps: 0, pressurePa: size() }, { flowLps: size(), pressurePa: size() }] }]) }),
    () => ({ do: 'set-run-parts', id: run(), parts: yes() ? null : [{ name: name(), dropPa: size(), atLps: size() }] }),
    () => ({ do: 'set-undercut', room: room(), door: below(2), undercutMm: yes() ? null : between(1, 20) }),
    () => ({ do: 'edit-record', set: one([{ tolerancePercent: between(-5, 20) }, { note: name() }, { tolerancePercent: null }]) }),
    () => ({ do: 'edit-meter', set: one([{ name: name() }, { shows: 'l/s' }, { accuracyPercent: between(-5, 8) }, { calibrated: null }]) }),
    () => ({ do: 'start-pass', speed: one(FAN_SPEEDS), day: one([undefined, '2026-05-01', 'May']) }),
    () => ({ do: 'edit-pass', pass: below(3), set: one([{ ended: yes() }, { by: name() }, { day: null }]) }),
    () => ({ do: 'remove-pass', pass: below(9) }),
    ...Array.from({ length: 2 }, () => (): Command => ({ do: 'take-reading', pass: below(3), terminal: machine(), lps: between(-1, 20), turned: yes() })),
    () => ({ do: 'clear-reading', pass: 0, terminal: job.air?.commissioning?.rounds[0]?.readings[0]?.terminal ?? machine() }),
    () => ({ do: 'set-fan', speed: one(FAN_SPEEDS), set: one([{ supplyPercent: between(-10, 100) }, { extractPercent: null }]) }),
    () => ({ do: 'set-sound', room: room(), speed: one(FAN_SPEEDS), levelDbA: yes() ? between(-5, 60) : null }),
    () => ({ do: 'add-filter', name: yes() ? name() : '' }),
    () => ({ do: 'edit-filter', filter: below(3), set: one([{ fitted: '2026-05-01' }, { cleanBy: 'soon' }]) }),
    () => ({ do: 'remove-filter', filter: below(4) }),
    () => ({ do: 'set-signature', role: one(['Installer', 'Owner']), set: one([{ name: name() }, { day: 'soon' }, { name: null, day: null }]) }),
    () => ({ do: 'together', commands: [{ do: 'lock-run', id: run(), locked: false }, { do: 'edit-job', set: { note: name() } }] }),
  ]
  return one(makers)()
}
