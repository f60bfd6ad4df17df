/** Where the tour stops: three ways of looking that every job has, then its own saved views. */
import type { ClientModel, ClientView } from '#sheets/client/clientModel.ts'

/** @param aspect width over height of the picture */
export function tourOf({ boundsMm: [x0, y0, z0, x1, y1, z1], views }: ClientModel, aspect: number): ClientView[] {
  const target = [(x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2] as const
  // far enough for a ball round the void to be in the picture whichever way it is the narrower
  const radius = Math.hypot(x1 - x0, y1 - y0, z1 - z0) / 2, half = Math.min(Math.tan(22.5 * Math.PI / 180), Math.tan(22.5 * Math.PI / 180) * aspect)
  const far = radius / Math.sin(Math.atan(half)) * 0.92
  const stop = (name: string, note: string, way: readonly [number, number, number]): ClientView => {
    const size = Math.hypot(...way)
    return { name, note, target, eye: [0, 1, 2].map((k) => target[k] + way[k] / size * far) as [number, number, number], up: [0, 0, 1], hidden: [], cut: null }
  }
  return [
    stop('The whole', 'The ducts between the joists, over the ceiling.', [-0.52, -0.72, 0.78]), stop('From above', '', [0, -0.001, 1]),
    stop('From the rooms below', 'Lift the ceiling away to see what runs above it.', [-0.25, -0.6, -0.8]), ...views,
  ]
}
