/** Joist sections of the four kinds to start from. Ordinary trade sizes, from memory; every number is there to be changed for the joist in hand. */
import type { JobInput } from '#model/index.ts'

type SectionInput = NonNullable<JobInput['sections']>[number]
type Without<T> = T extends unknown ? Omit<T, 'id'> : never
export interface SectionTemplate { readonly key: string, readonly section: Without<SectionInput> }

export const SECTION_TEMPLATES: readonly SectionTemplate[] = [
  { key: 'open-web-254', section: {
    kind: 'open-web', name: 'Open-web joist 254 x 72', depthMm: 254, chordWidthMm: 72, chordHeightMm: 47, webPitchMm: 600, webWidthMm: 40, webThicknessMm: 2, webFaces: 'both', posts: 'none', endBlockMm: 0,
  } },
  { key: 'open-web-304', section: {
    kind: 'open-web', name: 'Open-web joist 304 x 97', depthMm: 304, chordWidthMm: 97, chordHeightMm: 47, webPitchMm: 600, webWidthMm: 40, webThicknessMm: 2, webFaces: 'both', posts: 'none', endBlockMm: 0,
  } },
  { key: 'solid-timber-220', section: { kind: 'solid-timber', name: 'Timber joist 47 x 220', depthMm: 220, widthMm: 47 } },
  { key: 'i-section-240', section: { kind: 'i-section', name: 'I-section joist 240 x 45', depthMm: 240, flangeWidthMm: 45, flangeHeightMm: 45, webThicknessMm: 9 } },
  { key: 'cold-formed-254', section: { kind: 'cold-formed', name: 'Steel C 254 x 51', depthMm: 254, flangeWidthMm: 51, lipMm: 15, thicknessMm: 1.5 } },
]
