/** Joists laid between two corners of the plan. */
import { type Command, nextId } from '#commands/index.ts'
import { nameIn, numberOf, textOf, type Tool } from '../../plan/tool.ts'
import { heightsIn } from './heights.ts'
import { SECTION_TEMPLATES } from './sectionTemplates.ts'
import { FieldSketch } from './sketches.tsx'

const NEW = 'new:'

export const FIELD_TOOL: Tool = {
  id: 'joist-field', name: 'Joists', Sketch: FieldSketch, shape: 'box',
  steps: [
    'Tap the corner that you measure from: the first joist stands there, and offsets are taken from that end.',
    'Tap the corner across from it, or type how far away it is.',
  ],
  asks: [
    { kind: 'choice', key: 'section', label: 'Section', choices: ({ sections }) => [
      ...sections.map(({ id, name }) => ({ value: id, words: name })),
      ...SECTION_TEMPLATES.filter(({ section }) => !sections.some(({ name }) => name === section.name)).map(({ key, section }) => ({ value: `${NEW}${key}`, words: section.name })),
    ] },
    { kind: 'length', key: 'centresMm', label: 'Centres, joist to joist' },
    { kind: 'choice', key: 'runs', label: 'The joists run', choices: () => [
      { value: 'short', words: 'the shorter way' }, { value: '0', words: 'left to right (along x)' }, { value: '90', words: 'up and down (along y)' },
    ] },
    { kind: 'length', key: 'undersideMm', label: 'Underside, above datum', negative: true },
    { kind: 'length', key: 'firstNodeMm', label: 'First node from the end', negative: true },
    { kind: 'length', key: 'bearingMm', label: 'Bearing at each end', zero: true },
  ],
  // 400 mm: common practice
  usual: job => ({
    section: job.sections.at(-1)?.id ?? `${NEW}${SECTION_TEMPLATES[0].key}`, centresMm: 400, runs: 'short', undersideMm: heightsIn(job).joistUndersideMm, firstNodeMm: 0, bearingMm: 0,
  }),
  make: ([a, b], values, job) => {
    const section = textOf(values, 'section')
    const isAlongX = Math.abs(b[0] - a[0]) <= Math.abs(b[1] - a[1])
    const runs = textOf(values, 'runs')
    const directionDeg = runs === 'short' ? (isAlongX ? 0 : 90) : Number(runs)
    const lay = (id: string): Command => ({
      do: 'lay-joist-field', corners: [a, b], section: id, directionDeg, centresMm: numberOf(values, 'centresMm'), undersideMm: numberOf(values, 'undersideMm'),
      firstNodeMm: numberOf(values, 'firstNodeMm'), bearingMm: numberOf(values, 'bearingMm'), ...nameIn(values),
    })
    if (job.sections.some(({ id }) => id === section)) return lay(section)
    // a section that an undo took away is made anew
    const template = SECTION_TEMPLATES.find(({ key }) => section === `${NEW}${key}`) ?? SECTION_TEMPLATES[0]
    const known = job.sections.find(({ name }) => name === template.section.name)
    if (known !== undefined) return lay(known.id)
    const id = nextId(job, 'sections')
    return { do: 'together', name: 'Lay joists', commands: [{ do: 'add-section', section: { ...template.section, id } }, lay(id)] }
  },
}
