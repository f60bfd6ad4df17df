/** The length that a scale bar shows: 1, 2 or 5 times a power of ten, as long as there is room for. Pure. */

export interface ScaleBar {
  readonly lengthMm: number
  readonly lengthPx: number
  /** '500 mm', '2 m' */
  readonly words: string
}

export function scaleBar(pxPerMm: number, mostPx: number): ScaleBar {
  const mostMm = mostPx / pxPerMm
  const power = 10 ** Math.floor(Math.log10(mostMm))
  const lengthMm = [5, 2, 1].map(step => step * power).find(length => length <= mostMm) ?? power
  return { lengthMm, lengthPx: lengthMm * pxPerMm, words: lengthMm >= 1_000 ? `${lengthMm / 1_000} m` : `${Number(lengthMm.toPrecision(6))} mm` }
}
