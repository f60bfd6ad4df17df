/** What whoever asks for sheets may choose; everything else comes from the job. Every figure is written on the sheets that use it. */
export interface SheetOptions {
  readonly paper: 'a4' | 'a3'
  /** as it is to be printed; '' leaves a line to fill in */
  readonly date: string
  readonly revision: string
  /** added to every length of bendable duct, to be cut off square in place, mm */
  readonly trimMm: number
  /** farthest from support to support, mm */
  readonly rigidSupportMm: number
  readonly bendableSupportMm: number
  /** lengths that duct is sold in, mm */
  readonly stockMm: number
  readonly coilMm: number
  /** taken by each cut, mm */
  readonly kerfMm: number
  /** thickness of a sleeve's lining, mm */
  readonly sleeveWallMm: number
}

export const USUAL: SheetOptions = {
  paper: 'a4', date: '', revision: '',
  // common practice, no source
  trimMm: 100,
  // NHBC 8.4.2.6 (2024): rigid duct supported at no more than 750 mm
  rigidSupportMm: 750,
  // common practice, no source
  bendableSupportMm: 600,
  // 3 m is a usual stock length of round duct (a duct works' manual); coils of 50 m and the width of a cut are common practice
  stockMm: 3_000, coilMm: 50_000, kerfMm: 3, sleeveWallMm: 3,
}
