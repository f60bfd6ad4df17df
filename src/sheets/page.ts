/** A sheet of paper as data: what is drawn where, in mm of paper from its upper left corner, x to the right and y down. True size: 1 mm here is 1 mm printed. */

export type Point = readonly [x: number, y: number]

/** 'black' for what is built, 'grey' for what stands round it, 'pale' for the body of a duct, 'mark' for measures to be set out. */
export type Ink = 'black' | 'grey' | 'pale' | 'mark' | 'white'

export type Mark =
  | { readonly kind: 'line', readonly points: readonly Point[], readonly widthMm: number, readonly ink: Ink, readonly dashMm?: readonly number[], readonly isRound?: boolean }
  | { readonly kind: 'area', readonly points: readonly Point[], readonly fill: Ink, readonly widthMm?: number, readonly ink?: Ink }
  /** its longer half axis lies `turnDeg` counter-clockwise from the page's x */
  | { readonly kind: 'ellipse', readonly at: Point, readonly halfMm: readonly [number, number], readonly turnDeg: number, readonly widthMm: number, readonly ink: Ink, readonly fill?: Ink }
  /** `at` is on the base line; turned counter-clockwise about it; `sizeMm` is the height of the letters' square */
  | { readonly kind: 'text', readonly at: Point, readonly text: string, readonly sizeMm: number, readonly align: 'start' | 'middle' | 'end', readonly turnDeg?: number, readonly isBold?: boolean, readonly ink?: Ink }

export interface Sheet {
  /** names the sheet and its files: letters, digits and hyphens */
  readonly id: string
  readonly title: string
  readonly widthMm: number
  readonly heightMm: number
  readonly marks: readonly Mark[]
}

/** Red, green, blue, 0..1. Dark enough to be told apart on a black-and-white printer. */
export const INKS: Readonly<Record<Ink, readonly [number, number, number]>> = {
  black: [0.1, 0.1, 0.1], grey: [0.5, 0.5, 0.5], pale: [0.85, 0.88, 0.9], mark: [0.72, 0.07, 0.2], white: [1, 1, 1],
}

export const line = (points: readonly Point[], widthMm = 0.25, ink: Ink = 'black', dashMm?: readonly number[]): Mark => ({ kind: 'line', points, widthMm, ink, dashMm })
export const area = (points: readonly Point[], fill: Ink, widthMm = 0, ink: Ink = 'black'): Mark => ({ kind: 'area', points, fill, widthMm, ink })
export const circle = (at: Point, radiusMm: number, widthMm = 0.25, ink: Ink = 'black', fill?: Ink): Mark => ({ kind: 'ellipse', at, halfMm: [radiusMm, radiusMm], turnDeg: 0, widthMm, ink, fill })
export function text(at: Point, words: string, sizeMm = 2.5, align: 'start' | 'middle' | 'end' = 'start', more: { readonly turnDeg?: number, readonly isBold?: boolean, readonly ink?: Ink } = {}): Mark {
  return { kind: 'text', at, text: words, sizeMm, align, ...more }
}
export const box = (x: number, y: number, widthMm: number, heightMm: number): Point[] => [[x, y], [x + widthMm, y], [x + widthMm, y + heightMm], [x, y + heightMm]]
