import { lstatSync, mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { handoverFiles, revisionFiles } from '#sheets/files.ts'
import { USUAL, type SheetOptions } from '#sheets/options.ts'
import { compareJobs, type Revision } from '#sheets/revisions/compareJobs.ts'
import { clientTemplate } from './clientTemplate.ts'
import { EXIT, lengthOption, readJob, type Call, type Command } from './command.ts'

const LENGTHS = { trim: 'trimMm', stock: 'stockMm', coil: 'coilMm' } as const

export const sheetsCommand: Command = {
  name: 'sheets', usage: 'sheets FILE', takesFile: true,
  options: [
    { name: 'out', value: 'DIR', about: 'the folder to write into; it is made when it is not there' },
    { name: 'paper', value: 'a4|a3', about: 'size of the sheets; a4 when left out' },
    { name: 'date', value: 'TEXT', about: 'the date printed on every sheet; today when left out' },
    { name: 'revision', value: 'TEXT', about: 'the revision printed on every sheet' },
    { name: 'since', value: 'FILE', about: 'an older version of the job: also writes which runs moved, by how much, and which sheets to print again' },
    { name: 'trim', value: 'MM', about: `added to every bendable duct, ${USUAL.trimMm} mm when left out` },
    { name: 'stock', value: 'MM', about: `length that rigid duct is sold in, ${USUAL.stockMm} mm when left out` },
    { name: 'coil', value: 'MM', about: `length of a coil of bendable duct, ${USUAL.coilMm} mm when left out` },
  ],
  summary: 'everything for the site: set-out drawings, cut list, pulling sheet, schedules',
  about: [
    'Writes into the folder: PDFs at true scale to print at 100 %, an SVG of every drawing, every schedule as CSV for a spreadsheet, and one page for',
    'the client that shows the model in any browser, from disk, with no network. The model itself as glTF 2.0 (.glb) and IFC4 (.ifc).',
    'A file of the same name that is there already is written over. It checks nothing: joistway check says what does not fit.',
    `Exit code ${EXIT.clean} when they are written, ${EXIT.unusable} when the job or the folder cannot be used.`,
  ].join('\n'),
  example: 'joistway sheets fixtures/good/canal-house.json --out handover --paper a3',
  async execute(call) {
    const options = optionsOf(call)
    if (options === null) return EXIT.unusable
    const job = readJob(call)
    if (job === null) return EXIT.unusable
    const { since } = call.values
    const older = since === undefined ? undefined : readJob({ ...call, file: String(since) })
    if (older === null) return EXIT.unusable
    const context = contextFor(assemble(job))
    const revision = older === undefined ? null : compareJobs(contextFor(assemble(older)), context, options)
    const files = await handoverFiles(context, options, await clientTemplate(), new Date().toISOString().slice(0, 19))
    if (revision !== null) files.push(...await revisionFiles(context, revision, options))
    const folder = String(call.values.out)
    try {
      mkdirSync(folder, { recursive: true })
      for (const { name, content } of files) write(join(folder, name), content)
    } catch (error) {
      call.console.err(`${folder}: cannot be written into (${(error as { code?: string }).code ?? String(error)}); name another folder with --out`)
      return EXIT.unusable
    }
    if (call.json) call.console.out(JSON.stringify({ usable: true, job: job.name, folder, files: files.map(({ name }) => name), ...revision === null ? {} : { revision } }, null, 2))
    else call.console.out([`${job.name}: ${files.length} files in ${folder}`, ...files.filter(({ name }) => /\.(?:pdf|html)$/.test(name)).map(({ name }) => `  ${name}`), 'and every drawing as SVG, every schedule as CSV, the model as glTF and IFC. Print the PDFs at 100 %.', ...revision === null ? [] : ['', ...revisionWords(revision)]].join('\n'))
    return EXIT.clean
  },
}

function revisionWords({ runs, things, reprint }: Revision): string[] {
  if (runs.length + things.length + reprint.length === 0) return ['Nothing is other than in the older version.']
  return [
    `Other than in the older version: ${runs.length} runs, ${things.length} other things.`,
    ...runs.map(({ name, what, moved, words }) => `  ${name}: ${[what === 'changed' ? moved === null ? '' : `moved ${moved.mm.toFixed(1)} mm` : what, ...words].filter((each) => each !== '').join(', ')}`),
    `Sheets to print again: ${reprint.filter(({ what }) => what !== 'gone').map(({ title }) => title).join('; ') || 'none'}.`,
    ...reprint.some(({ what }) => what === 'gone') ? [`To throw away: ${reprint.filter(({ what }) => what === 'gone').map(({ title }) => title).join('; ')}.`] : [],
  ]
}

/** A link of that name is not followed to wherever it leads. */
function write(file: string, content: string | Uint8Array): void {
  if (lstatSync(file, { throwIfNoEntry: false })?.isSymbolicLink() === true) throw Object.assign(new Error(), { code: `${file} is a link` })
  writeFileSync(file, content)
}

function optionsOf(call: Call): SheetOptions | null {
  const { out, paper, date, revision } = call.values
  if (typeof out !== 'string' || out === '') {
    call.console.err('joistway sheets: name the folder to write into with --out')
    return null
  }
  if (paper !== undefined && paper !== 'a4' && paper !== 'a3') {
    call.console.err(`--paper takes a4 or a3; it was given '${String(paper)}'`)
    return null
  }
  const lengths: Partial<Record<(typeof LENGTHS)[keyof typeof LENGTHS], number>> = {}
  for (const [name, key] of Object.entries(LENGTHS)) {
    if (call.values[name] === undefined) continue
    const mm = lengthOption(call, name, key === 'trimMm' ? 0 : 100, 1_000_000)
    if (mm === null) return null
    lengths[key] = mm
  }
  const today = new Date().toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' })
  return { ...USUAL, ...lengths, paper: paper ?? 'a4', date: date === undefined ? today : String(date), revision: revision === undefined ? '' : String(revision) }
}
