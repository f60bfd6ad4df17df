/** Everything that is handed over, as files by name. */
import type { CheckContext } from '#checks/context.ts'
import { clientFile, type ClientTemplate } from './client/clientFile.ts'
import { clientModelOf } from './client/clientModelOf.ts'
import { csvOf } from './csvOf.ts'
import { distinct, fileName } from './fileName.ts'
import { ifcOf } from './ifc/ifcOf.ts'
import { bookletsOf, pagesOf } from './index.ts'
import { glbOf } from './model3d/glbOf.ts'
import type { SheetOptions } from './options.ts'
import { pdfOf } from './pdfOf.ts'
import { revisionTables, type Revision } from './revisions/compareJobs.ts'
import { templatesOf } from './templates/templatesOf.ts'
import { wholeTemplate } from './templates/tiled.ts'
import { svgOf } from './svgOf.ts'
import { tableSheets } from './tableSheets.ts'

export interface HandoverFile {
  readonly name: string
  readonly content: string | Uint8Array
}

/** PDFs of every booklet, an SVG of every drawing, a CSV of every schedule, the client's file, and the model as glTF and IFC. @param time of writing, as in 2031-05-01T00:00:00 */
export async function handoverFiles(context: CheckContext, options: SheetOptions, template: ClientTemplate, time: string): Promise<HandoverFile[]> {
  const { job } = context.assembly
  const files: HandoverFile[] = []
  for (const booklet of bookletsOf(context, options)) {
    files.push({ name: fileName(booklet.id, 'pdf'), content: await pdfOf(`${job.name}: ${booklet.title}`, pagesOf(context, options, booklet)) })
    for (const sheet of booklet.id === 'templates' ? templatesOf(context, options).map(wholeTemplate) : booklet.drawings) files.push({ name: fileName(sheet.id, 'svg'), content: svgOf(sheet) })
    for (const table of booklet.tables) files.push({ name: fileName(table.id, 'csv'), content: csvOf(table) })
  }
  files.push({ name: fileName(`${job.name}-for-information`, 'html'), content: clientFile(template, clientModelOf(context.assembly, options)) })
  files.push({ name: fileName(job.name, 'glb'), content: glbOf(context.assembly) }, { name: fileName(job.name, 'ifc'), content: ifcOf(context, time) })
  return distinct(files)
}

/** What is other than in an older version, to print and as CSV. */
export async function revisionFiles({ assembly: { job } }: CheckContext, revision: Revision, options: SheetOptions): Promise<HandoverFile[]> {
  const tables = revisionTables(revision)
  return [
    { name: 'changes.pdf', content: await pdfOf(`${job.name}: Changes`, tables.flatMap((table) => tableSheets(job, options, table))) },
    ...tables.map((table) => ({ name: fileName(table.id, 'csv'), content: csvOf(table) })),
  ]
}
