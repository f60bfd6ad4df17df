/** A course that something is wrong with, pushed away from what it is too near to, for as long as that makes it better. */
import type { Finding } from '#checks/finding.ts'
import type { Tried, Try } from './threadRun.ts'
import { apart, dot, minus, plus, unit, type Vec } from './threadVector.ts'

const ROUNDS = 6
/** how much more than what is missing a push goes, mm */
const BEYOND_MM = 1

export function mended(attempt: Try, course: Tried): Tried {
  let best = course
  for (let round = 0; round < ROUNDS && best.badness > 0; round++) {
    let better: Tried | null = null
    for (const finding of best.findings.filter(isAboutRoom).slice(0, 3)) {
      for (const points of pushes(best, finding)) {
        const tried = attempt(points)
        if (tried.badness < (better ?? best).badness) better = tried
        if (tried.badness === 0) return tried
      }
    }
    if (better === null) return best
    best = better
  }
  return best
}

function isAboutRoom({ code, onOther }: Finding): boolean {
  return onOther !== undefined && (code === 'clash' || code === 'tight' || code === 'cut-member' || code === 'leaves-void')
}

/** The leg where it is wrong pushed aside, either end of it alone, or a new corner there. */
function pushes({ points, placed }: Tried, finding: Finding): Vec[][] {
  const isOurs = finding.parts[0].id === placed.run.id
  const at = vec(isOurs ? finding.at : finding.onOther!), other = vec(isOurs ? finding.onOther! : finding.at)
  const missing = finding.required - finding.measured + BEYOND_MM
  // within the other body, out is towards its surface
  const isWithin = finding.code === 'leaves-void' ? finding.measured + placed.outerRadiusMm > 0 === false : finding.measured + placed.outerRadiusMm < 0
  const way = unit(isWithin ? minus(other, at) : minus(at, other))
  if (way[0] === 0 && way[1] === 0 && way[2] === 0) return []
  const leg = nearestLeg(points, at)
  const last = points.length - 1
  const share = apart(points[leg], at) / Math.max(apart(points[leg], at) + apart(points[leg + 1], at), 1e-9)
  const moved = (indices: readonly number[], by: number): Vec[] => points.map((point, i) => indices.includes(i) ? plus(point, along(points, i, way), by) : point)
  const options: Vec[][] = []
  const isFree = (i: number): boolean => i > 0 && i < last
  if (isFree(leg) && isFree(leg + 1)) options.push(moved([leg, leg + 1], missing))
  if (isFree(leg)) options.push(moved([leg], Math.min(3 * missing, missing / Math.max(1 - share, 0.2))))
  if (isFree(leg + 1)) options.push(moved([leg + 1], Math.min(3 * missing, missing / Math.max(share, 0.2))))
  options.push([...points.slice(0, leg + 1), plus(at, way, 1.3 * missing), ...points.slice(leg + 1)])
  return options
}

/** The corner next to an end stays on that end's line. */
function along(points: readonly Vec[], i: number, way: Vec): Vec {
  const end = i === 1 ? 0 : i === points.length - 2 ? points.length - 1 : -1
  if (end < 0) return way
  const line = unit(minus(points[i], points[end])), by = dot(line, way)
  return [line[0] * by, line[1] * by, line[2] * by]
}

function nearestLeg(points: readonly Vec[], at: Vec): number {
  let leg = 0, least = Infinity
  for (let i = 0; i + 1 < points.length; i++) {
    const step = minus(points[i + 1], points[i]), square = dot(step, step)
    const t = square > 0 ? Math.min(1, Math.max(0, dot(minus(at, points[i]), step) / square)) : 0
    const mm = apart(plus(points[i], step, t), at)
    if (mm < least) [leg, least] = [i, mm]
  }
  return leg
}

function vec({ x, y, z }: { readonly x: number, readonly y: number, readonly z: number }): Vec {
  return [x, y, z]
}
