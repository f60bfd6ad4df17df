/** What the window and the drawer of sheets say to each other. */
import type { PlacedRun } from '#assembly/assembly.ts'
import type { Job } from '#model/index.ts'
import type { ClientTemplate } from '#sheets/client/clientFile.ts'
import type { HandoverFile } from '#sheets/files.ts'
import type { Booklet } from '#sheets/index.ts'
import type { SheetOptions } from '#sheets/options.ts'
import type { Sheet } from '#sheets/page.ts'
import type { Revision } from '#sheets/revisions/compareJobs.ts'

/** A file to make. */
export type Wanted =
  | { readonly kind: 'pdf', readonly booklet: Booklet['id'] }
  | { readonly kind: 'csv', readonly table: string }
  | { readonly kind: 'client' | 'glb' | 'ifc' | 'changes' }

export interface ShownBooklet {
  readonly id: Booklet['id']
  readonly title: string
  readonly tables: readonly { readonly id: string, readonly title: string }[]
  readonly pages: readonly Sheet[]
}

export type ToSheets =
  | { readonly kind: 'job', readonly job: Job }
  | { readonly kind: 'draw', readonly ticket: number, readonly options: SheetOptions }
  | { readonly kind: 'compare', readonly ticket: number, readonly options: SheetOptions, readonly older: string }
  | {
    readonly kind: 'file', readonly ticket: number, readonly options: SheetOptions, readonly what: Wanted, readonly time: string
    readonly template?: ClientTemplate, readonly revision?: Revision
  }

export type FromSheets =
  | { readonly kind: 'drawn', readonly ticket: number, readonly booklets: readonly ShownBooklet[] }
  | { readonly kind: 'compared', readonly ticket: number, readonly revision: Revision, readonly before: readonly PlacedRun[] }
  | { readonly kind: 'not-compared', readonly ticket: number, readonly words: string }
  | { readonly kind: 'file', readonly ticket: number, readonly file: HandoverFile }
  | { readonly kind: 'failed', readonly ticket: number, readonly words: string }
