/** A closed surface of triangles that is a polygon pulled straight along a line, found again: every triangle lies in one of two caps or stands square between them. */
import { cross, dot, minus, type Vec } from '#routing/threadVector.ts'

export type { Vec }
export type Triangle = readonly [Vec, Vec, Vec]

export interface FoundPrism {
  /** where u = v = w = 0, mm */
  readonly origin: Vec
  readonly u: Vec
  readonly v: Vec
  readonly w: Vec
  /** the outline, counter-clockwise, then holes: u, v pairs */
  readonly rings: readonly (readonly (readonly [number, number])[])[]
  readonly heightMm: number
}

/** Corners nearer than this are one, mm. */
const WELD_MM = 0.02
/** A cap's triangles face its way within this (a cosine), a side's stand square to it within that. */
const SAME_WAY = 0.9999, SQUARE = 0.01
/** A cap is as flat as this, mm. */
const FLAT_MM = 0.5
/** Volumes may differ by this share before it is no prism. */
const SAME_VOLUME = 1e-3
const MOST_WAYS = 60

/** The bodies of a mesh: triangles that hang together by their corners. */
export function bodiesOf(triangles: readonly Triangle[]): Triangle[][] {
  const parent = new Map<string, string>()
  const rootOf = (key: string): string => {
    let root = key
    for (let up = parent.get(root)!; up !== root; up = parent.get(root)!) root = up
    for (let at = key; at !== root;) {
      const next = parent.get(at)!
      parent.set(at, root)
      at = next
    }
    return root
  }
  for (const triangle of triangles) {
    const keys = triangle.map(keyOf)
    for (const key of keys) if (!parent.has(key)) parent.set(key, key)
    for (const key of keys.slice(1)) parent.set(rootOf(key), rootOf(keys[0]))
  }
  const bodies = new Map<string, Triangle[]>()
  for (const triangle of triangles) {
    const root = rootOf(keyOf(triangle[0])), own = bodies.get(root)
    if (own === undefined) bodies.set(root, [triangle])
    else own.push(triangle)
  }
  return [...bodies.values()]
}

const keyOf = (p: Vec): string => p.map((value) => Math.round(value / WELD_MM)).join(' ')

export function volumeOf(triangles: readonly Triangle[]): number {
  // about a corner of its own: far from the datum the sum would lose digits
  const [[o]] = triangles
  return triangles.reduce((sum, [a, b, c]) => sum + dot(minus(a, o), cross(minus(b, o), minus(c, o))), 0) / 6
}

/** @returns null for anything that is no straight prism; of several ways to see it as one, that with the simplest outline, then the longest */
export function prismOf(triangles: readonly Triangle[]): FoundPrism | null {
  const faces = triangles.flatMap(([a, b, c]) => {
    const n = cross(minus(b, a), minus(c, a)), size = Math.hypot(...n)
    return size < 1e-6 ? [] : [{ corners: [a, b, c] as Triangle, way: n.map((value) => value / size) as unknown as Vec, area: size / 2 }]
  })
  const volume = Math.abs(volumeOf(triangles))
  if (faces.length < 4 || !(volume > 0)) return null
  const ways: { way: Vec, area: number }[] = []
  for (const { way, area } of faces) {
    const known = ways.find((other) => Math.abs(dot(other.way, way)) > SAME_WAY)
    if (known !== undefined) known.area += area
    else if (ways.push({ way, area }) > MOST_WAYS) break
  }
  const found = ways.flatMap(({ way }) => {
    const prism = prismAlong(faces, way, volume)
    return prism === null ? [] : [prism]
  })
  const corners = ({ rings }: FoundPrism): number => rings.reduce((sum, ring) => sum + ring.length, 0)
  return found.reduce<FoundPrism | null>((best, prism) => best === null || corners(prism) < corners(best) || corners(prism) === corners(best) && prism.heightMm > best.heightMm ? prism : best, null)
}

function prismAlong(faces: readonly { readonly corners: Triangle, readonly way: Vec, readonly area: number }[], way: Vec, volume: number): FoundPrism | null {
  // pointing up, or along the positive axis where it lies level: so that what is upright stays upright
  const w = (way[2] < -1e-9 || Math.abs(way[2]) <= 1e-9 && (way[0] < -1e-9 || Math.abs(way[0]) <= 1e-9 && way[1] < 0) ? way.map((value) => -value) : way) as Vec
  const caps = faces.filter((face) => Math.abs(dot(face.way, w)) > SAME_WAY)
  if (caps.length + faces.filter((face) => Math.abs(dot(face.way, w)) < SQUARE).length < faces.length) return null
  const heights = caps.flatMap(({ corners }) => corners.map((p) => dot(p, w)))
  const [low, high] = rangeOf(heights), heightMm = high - low
  if (heightMm < 2 * FLAT_MM || heights.some((height) => height - low > FLAT_MM && high - height > FLAT_MM)) return null
  const top = caps.filter(({ corners }) => high - dot(corners[0], w) <= FLAT_MM)
  const area = top.reduce((sum, cap) => sum + cap.area, 0)
  if (Math.abs(area * heightMm / volume - 1) > SAME_VOLUME) return null
  const u = levelAcross(w), v = cross(w, u)
  const loops = outlinesOf(top.map(({ corners, way: out }) => dot(out, w) > 0 ? corners : [corners[0], corners[2], corners[1]]))
  if (loops === null) return null
  const origin = loops[0][0].map((value, k) => value - heightMm * w[k]) as unknown as Vec
  const rings = loops.map((loop) => straightened(loop.map((p): [number, number] => [hundredth(dot(minus(p, origin), u)), hundredth(dot(minus(p, origin), v))]))).filter((ring) => ring.length >= 3)
  const outer = rings.filter((ring) => ringArea(ring) > 0)
  // two outlines would be two bodies that touch along an edge
  if (outer.length !== 1 || Math.abs(rings.reduce((sum, ring) => sum + ringArea(ring), 0) / area - 1) > SAME_VOLUME) return null
  return { origin, u, v, w, rings: [outer[0], ...rings.filter((ring) => ring !== outer[0])], heightMm }
}

/** Edges of the cap that only one of its triangles has, chained into loops; null where they do not close. */
function outlinesOf(triangles: readonly Triangle[]): Vec[][] | null {
  const next = new Map<string, { readonly to: string, readonly at: Vec }[]>()
  const edges = new Set<string>()
  for (const corners of triangles) for (let k = 0; k < 3; k++) edges.add(`${keyOf(corners[k])}|${keyOf(corners[(k + 1) % 3])}`)
  for (const corners of triangles) {
    for (let k = 0; k < 3; k++) {
      const a = keyOf(corners[k]), b = keyOf(corners[(k + 1) % 3])
      if (a !== b && !edges.has(`${b}|${a}`)) next.set(a, [...next.get(a) ?? [], { to: b, at: corners[k] }])
    }
  }
  const loops: Vec[][] = []
  while (next.size > 0) {
    const [start] = next.keys(), loop: Vec[] = []
    let at = start
    do {
      const ways = next.get(at)
      if (ways === undefined || ways.length !== 1) return null
      loop.push(ways[0].at)
      next.delete(at)
      at = ways[0].to
    } while (at !== start)
    loops.push(loop)
  }
  return loops.length === 0 ? null : loops
}

/** Corners on a straight line are left out. */
function straightened(ring: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  return ring.filter(([x, y], i) => {
    const [px, py] = ring[(i + ring.length - 1) % ring.length], [nx, ny] = ring[(i + 1) % ring.length]
    const length = Math.hypot(nx - px, ny - py)
    return length === 0 || Math.abs((nx - px) * (y - py) - (ny - py) * (x - px)) / length > WELD_MM
  })
}

export function ringArea(ring: readonly (readonly [number, number])[]): number {
  return ring.reduce((sum, [x, y], i) => sum + x * ring[(i + 1) % ring.length][1] - ring[(i + 1) % ring.length][0] * y, 0) / 2
}

/** Least and largest; for lists too long to be arguments. */
export function rangeOf(values: readonly number[]): [number, number] {
  let low = Infinity, high = -Infinity
  for (const value of values) {
    if (value < low) low = value
    if (value > high) high = value
  }
  return [low, high]
}

const hundredth = (value: number): number => Math.round(value * 100) / 100 + 0

/** Square to w and level; along x where w stands upright. */
function levelAcross(w: Vec): Vec {
  const size = Math.hypot(w[0], w[1])
  return size < 1e-9 ? [1, 0, 0] : [-w[1] / size, w[0] / size, 0]
}
