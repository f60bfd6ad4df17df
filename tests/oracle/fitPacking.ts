/** Ducts side by side the dumb way: throw them in, shake them, keep what is better, shake less. */

/** Uniform growth in diameter that a placing allows (ducts at least as large as drawn, so growth may be negative). */
function growthOf(halfPlanes: readonly number[], diameters: readonly number[], gap: number, xy: readonly number[]): number {
  let growth = Infinity
  diameters.forEach((d, i) => {
    for (let e = 0; e < halfPlanes.length; e += 5) {
      growth = Math.min(growth, 2 * (halfPlanes[e + 2] - halfPlanes[e] * xy[2 * i] - halfPlanes[e + 1] * xy[2 * i + 1]) - d)
    }
    for (let j = 0; j < i; j++) {
      growth = Math.min(growth, Math.hypot(xy[2 * i] - xy[2 * j], xy[2 * i + 1] - xy[2 * j + 1]) - gap - (d + diameters[j]) / 2)
    }
  })
  return growth
}

/** The best growth met in `starts` shakes of `steps` moves; a lower bound of what is possible. */
export function growthByShaking(
  halfPlanes: readonly number[], diameters: readonly number[], gap: number, size: number, random: () => number, starts: number, steps: number,
): number {
  let best = -Infinity
  for (let start = 0; start < starts; start++) {
    let xy = diameters.flatMap(() => [(random() - 0.5) * size, (random() - 0.5) * size])
    let growth = growthOf(halfPlanes, diameters, gap, xy)
    let shake = size / 3
    for (let step = 0; step < steps; step++) {
      const moved = [...xy]
      const who = Math.floor(random() * diameters.length)
      const all = random() < 0.4
      for (let i = 0; i < diameters.length; i++) {
        if (!all && i !== who) continue
        moved[2 * i] += (random() - 0.5) * shake
        moved[2 * i + 1] += (random() - 0.5) * shake
      }
      const after = growthOf(halfPlanes, diameters, gap, moved)
      if (after > growth) { growth = after; xy = moved } else shake = Math.max(1e-9, shake * 0.985)
      if (after > growth - 1e-15 && random() < 0.3) shake *= 1.05
    }
    best = Math.max(best, growth)
  }
  return best
}
