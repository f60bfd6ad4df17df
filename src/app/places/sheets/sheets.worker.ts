/** Draws sheets and makes files of them, away from the window. */
import { assemble } from '#assembly/assemble.ts'
import { contextFor, type CheckContext } from '#checks/context.ts'
import type { Job } from '#model/index.ts'
import { parseJob } from '#model/parse.ts'
import { clientFile } from '#sheets/client/clientFile.ts'
import { clientModelOf } from '#sheets/client/clientModelOf.ts'
import { csvOf } from '#sheets/csvOf.ts'
import { fileName } from '#sheets/fileName.ts'
import { revisionFiles, type HandoverFile } from '#sheets/files.ts'
import { ifcOf } from '#sheets/ifc/ifcOf.ts'
import { bookletsOf, pagesOf } from '#sheets/index.ts'
import { glbOf } from '#sheets/model3d/glbOf.ts'
import { pdfOf } from '#sheets/pdfOf.ts'
import { compareJobs } from '#sheets/revisions/compareJobs.ts'
import type { FromSheets, ShownBooklet, ToSheets } from './sheetsMessages.ts'

let known: { readonly job: Job, readonly context: CheckContext } | null = null

function contextOf(job: Job): CheckContext {
  if (known?.job !== job) known = { job, context: contextFor(assemble(job)) }
  return known.context
}

let job: Job | null = null

self.onmessage = ({ data }: MessageEvent<ToSheets>) => {
  if (data.kind === 'job') {
    job = data.job
    return
  }
  void answer(data).then((message) => { self.postMessage(message) }, (error: unknown) => {
    self.postMessage({ kind: 'failed', ticket: data.ticket, words: error instanceof Error ? error.message : String(error) } satisfies FromSheets)
  })
}

async function answer(ask: Exclude<ToSheets, { kind: 'job' }>): Promise<FromSheets> {
  const { ticket, options } = ask
  if (job === null) throw new Error('there is no job to draw')
  const context = contextOf(job)
  switch (ask.kind) {
    case 'draw': return {
      kind: 'drawn', ticket,
      booklets: bookletsOf(context, options).map((booklet): ShownBooklet => ({ id: booklet.id, title: booklet.title, tables: booklet.tables.map(({ id, title }) => ({ id, title })), pages: pagesOf(context, options, booklet) })),
    }
    case 'compare': {
      const read = parseJob(ask.older)
      if (!read.ok) return { kind: 'not-compared', ticket, words: 'That file is no job that can be read. Pick the older job file.' }
      const older = assemble(read.job)
      return { kind: 'compared', ticket, revision: compareJobs(contextFor(older), context, options), before: older.runs }
    }
    case 'file': return { kind: 'file', ticket, file: await fileOf(context, ask) }
  }
}

async function fileOf(context: CheckContext, { what, options, template, time, revision }: Extract<ToSheets, { kind: 'file' }>): Promise<HandoverFile> {
  const { job: { name } } = context.assembly
  switch (what.kind) {
    case 'pdf': {
      const booklet = bookletsOf(context, options).find(({ id }) => id === what.booklet)!
      return { name: fileName(`${name} ${booklet.title}`, 'pdf'), content: await pdfOf(`${name}: ${booklet.title}`, pagesOf(context, options, booklet)) }
    }
    case 'csv': {
      const table = bookletsOf(context, options).flatMap(({ tables }) => tables).find(({ id }) => id === what.table)!
      return { name: fileName(`${name} ${table.title}`, 'csv'), content: csvOf(table) }
    }
    case 'client': return { name: fileName(`${name} for information`, 'html'), content: clientFile(template!, clientModelOf(context.assembly, options)) }
    case 'glb': return { name: fileName(name, 'glb'), content: glbOf(context.assembly) }
    case 'ifc': return { name: fileName(name, 'ifc'), content: ifcOf(context, time) }
    case 'changes': return { ...(await revisionFiles(context, revision!, options))[0], name: fileName(`${name} changes`, 'pdf') }
  }
}
