/**
 * A job's own frame: its first joists lie along x from 0,0,0. Runs are laid in it, so that the same job comes out the same wherever and
 * however it is drawn. Places are rounded in it far below anything that counts and far above what turning leaves of a number, so
 * that the same job drawn elsewhere is the same to the last digit there.
 */
import type { Assembly } from '#assembly/assembly.ts'
import type { Finding, Place } from '#checks/finding.ts'
import { cosDeg, sinDeg } from '#geometry/solid/rotation.ts'
import type { Job, Point3, RunEnd } from '#model/index.ts'
import { apart, type Vec } from '../threadVector.ts'
import { movedJob, type Motion } from './movedJob.ts'
import type { CannotRoute } from './whyNot.ts'

export interface OwnFrame {
  readonly toOwn: Motion
  readonly toSite: Motion
}

/** Places to a millionth of a millimetre; angles so that the end of a joist 100 m long strays by no more than about that. */
const PLACES_PER_MM = 1e6, PLACES_PER_DEG = 1e10, PLACES_OF_UNIT = 1e12

export function ownFrameOf(job: Job): OwnFrame {
  const { origin, deg } = datumOf(job)
  const c = cosDeg(deg), s = sinDeg(deg)
  const own = ([x, y, z]: Readonly<Point3>): Point3 => [c * x + s * y, c * y - s * x, z], site = ([x, y, z]: Readonly<Point3>): Point3 => [c * x - s * y, s * x + c * y, z]
  return {
    toOwn: {
      at: ([x, y, z]) => rounded(own([x - origin[0], y - origin[1], z - origin[2]]), PLACES_PER_MM),
      way: (direction) => rounded(unit(own(direction)), PLACES_OF_UNIT),
      angleDeg: (one) => wrappedDeg(Math.round((one - deg) * PLACES_PER_DEG) / PLACES_PER_DEG),
    },
    toSite: {
      at: (place) => site(place).map((value, k) => value + origin[k]) as Point3,
      way: (direction) => unit(site(direction)),
      angleDeg: (one) => wrappedDeg(one + deg),
    },
  }
}

/** The job in its own frame. */
export function inOwnFrame(job: Job, { toOwn }: OwnFrame): Job {
  return movedJob(job, toOwn)
}

/** Where the first joists begin and which way they run; of a job without joists its first zone's longest side, else its first run. */
function datumOf({ joistFields: [field], zones: [zone], runs }: Job): { readonly origin: Readonly<Point3>, readonly deg: number } {
  if (field !== undefined) return { origin: field.origin, deg: field.directionDeg }
  if (zone !== undefined) {
    const { outline } = zone, lengthOf = (i: number): number => Math.hypot(...sideOf(outline, i))
    // of sides that are as long to within rounding the first
    const longest = outline.reduce((best, _, i) => lengthOf(i) > lengthOf(best) * (1 + 1e-9) ? i : best, 0)
    return { origin: [...outline[longest], zone.undersideMm], deg: degOf(...sideOf(outline, longest)) }
  }
  const ends = runs.map(({ waypoints }) => [waypoints[0].at, waypoints[waypoints.length - 1].at] as const)
  const [from, to] = ends.find(([a, b]) => Math.hypot(b[0] - a[0], b[1] - a[1]) > 1) ?? ends[0] ?? [[0, 0, 0], [1, 0, 0]]
  return { origin: from, deg: degOf(to[0] - from[0], to[1] - from[1]) }
}

function sideOf(outline: Job['zones'][number]['outline'], i: number): [number, number] {
  const a = outline[i], b = outline[(i + 1) % outline.length]
  return [b[0] - a[0], b[1] - a[1]]
}

function degOf(x: number, y: number): number {
  return Math.atan2(y, x) * 180 / Math.PI
}

/** Adding 0 makes -0 of it 0: the same number however it came about. */
function rounded(numbers: Readonly<Point3>, places: number): Point3 {
  return numbers.map((value) => Math.round(value * places) / places + 0) as Point3
}

function unit([x, y, z]: Readonly<Point3>): Point3 {
  const size = Math.hypot(x, y, z)
  return [x / size, y / size, z / size]
}

/** From above -180 to 180 degrees. */
function wrappedDeg(deg: number): number {
  const within = deg % 360
  return (within > 180 ? within - 360 : within <= -180 ? within + 360 : within) + 0
}

/**
 * What was laid in the own frame, laid on site: runs that were left as they were there are the very same here, and an end on its mouth
 * is on it to the last digit.
 * @param own the job in its own frame before, and `laid` after
 */
export function laidOnSite({ job, spigots, sleeves }: Assembly, own: Job, laid: Job, { toOwn, toSite }: OwnFrame): Job {
  if (laid.runs.every((run, i) => run === own.runs[i])) return job
  const mouthOf = (end: RunEnd): Vec => 'sleeve' in end ? sleeves.find(({ sleeve }) => sleeve.id === end.sleeve)!.at
    : spigots.find(({ equipment, spigot }) => equipment.id === end.equipment && spigot.id === end.spigot)!.at
  const onSite = (ownAt: Point3, mouth: Vec | null): Point3 => {
    if (mouth === null) return toSite.at(ownAt)
    return apart(ownAt, toOwn.at([...mouth])) < ON_MOUTH_MM ? [...mouth] : toSite.at(ownAt)
  }
  return {
    ...job, runs: laid.runs.map((run, i) => run === own.runs[i] ? job.runs[i] : {
      ...run, waypoints: run.waypoints.map((point, k) => ({ ...point, at: onSite(point.at, k === 0 ? mouthOf(run.from) : k === run.waypoints.length - 1 ? mouthOf(run.to) : null) })),
    }),
  }
}

/** what rounding puts between a mouth and a mouth, mm */
const ON_MOUTH_MM = 1e-5

/** Why a run could not be laid, told in the own frame, with its places as they are on site. */
export function cannotOnSite(cannot: readonly CannotRoute[], { toSite: { at, way } }: OwnFrame): CannotRoute[] {
  const place = ({ x, y, z }: Place): Place => {
    const [sx, sy, sz] = at([x, y, z])
    return { x: sx, y: sy, z: sz }
  }
  // moves that clear a finding are looked for where it is told (verdict.ts), not here
  const found = ({ move: _, ...finding }: Finding): Finding => ({ ...finding, at: place(finding.at), mark: place(finding.mark), ...finding.onOther === undefined ? {} : { onOther: place(finding.onOther) } })
  const shift = (byMm: Vec): Vec => {
    const size = Math.hypot(...byMm)
    return size === 0 ? byMm : rounded(way([...byMm]).map((value) => value * size) as Point3, PLACES_PER_MM)
  }
  return cannot.map((one) => ({
    ...one, at: one.at === null ? null : at([...one.at]), counted: one.counted === null ? null : { ...one.counted, at: at([...one.counted.at]) }, findings: one.findings.map(found),
    cure: one.cure?.kind === 'move' ? { ...one.cure, byMm: shift(one.cure.byMm) } : one.cure,
  }))
}
