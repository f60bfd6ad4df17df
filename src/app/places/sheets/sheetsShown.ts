/** The sheets of the job as it is now, the one that is looked at, and how they are to be printed. Nothing here is part of the job. */
import { useEffect } from 'react'
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { PlacedRun } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import type { HandoverFile } from '#sheets/files.ts'
import { USUAL, type SheetOptions } from '#sheets/options.ts'
import type { Sheet } from '#sheets/page.ts'
import type { Revision } from '#sheets/revisions/compareJobs.ts'
import { useSettledChecks } from '../looking/useChecks.ts'
import type { FromSheets, ShownBooklet, ToSheets, Wanted } from './sheetsMessages.ts'

export interface SheetsShown {
  readonly options: SheetOptions
  /** null while they are drawn */
  readonly booklets: readonly ShownBooklet[] | null
  /** 'set-out plan': booklet and sheet */
  readonly shownKey: string
  /** what is being made into a file now */
  readonly making: string | null
  readonly trouble: string | null
  /** against which older file the job was compared, and what came of it */
  readonly compared: { readonly fileName: string, readonly revision: Revision, readonly before: readonly PlacedRun[] } | null
  /** the changed run that is looked at in the void */
  readonly changedId: string | null
}

const today = (): string => new Date().toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' })

export const sheets = createStore<SheetsShown>()(() => ({
  options: { ...USUAL, date: today() }, booklets: null, shownKey: 'set-out plan', making: null, trouble: null, compared: null, changedId: null,
}))

export function useSheets<T>(select: (state: SheetsShown) => T): T {
  return useStore(sheets, select)
}

export const keyOf = (booklet: { readonly id: string }, sheet: Sheet): string => `${booklet.id} ${sheet.id}`

/** The sheet that is looked at; the first when that one is no more. */
export function shownSheet({ booklets, shownKey }: Pick<SheetsShown, 'booklets' | 'shownKey'>): Sheet | null {
  const all = booklets?.flatMap((booklet) => booklet.pages.map((sheet) => ({ key: keyOf(booklet, sheet), sheet }))) ?? []
  return (all.find(({ key }) => key === shownKey) ?? all[0])?.sheet ?? null
}

export function setOptions(set: Partial<SheetOptions>): void {
  sheets.setState(({ options }) => ({ options: { ...options, ...set } }))
}

let worker: Worker | null = null
/** name of the job whose sheets are shown */
let drawnOf = ''
let tickets = 0
const waiting = new Map<number, { readonly done: (message: FromSheets) => void }>()

function drawer(): Worker {
  if (worker !== null) return worker
  worker = new Worker(new URL('./sheets.worker.ts', import.meta.url), { type: 'module' })
  worker.onmessage = ({ data }: MessageEvent<FromSheets>) => {
    waiting.get(data.ticket)?.done(data)
    waiting.delete(data.ticket)
  }
  worker.onerror = (event) => {
    event.preventDefault()
    for (const [ticket, { done }] of waiting) done({ kind: 'failed', ticket, words: event.message })
    letGo()
  }
  return worker
}

function letGo(): void {
  worker?.terminate()
  worker = null
  waiting.clear()
}

type Unticketed<T> = T extends { ticket: number } ? Omit<T, 'ticket'> : never

function ask(message: Unticketed<ToSheets>): Promise<FromSheets> {
  const ticket = ++tickets
  return new Promise((done) => {
    waiting.set(ticket, { done })
    drawer().postMessage({ ...message, ticket } as ToSheets)
  })
}

/** Keeps the sheets up to date while the place is open. */
export function useDrawnSheets(): CheckContext | null {
  const checks = useSettledChecks()
  const options = useSheets((now) => now.options)
  useEffect(() => {
    if (checks === null) return
    // a drawing that is not wanted any more is not waited for
    letGo()
    drawer().postMessage({ kind: 'job', job: checks.assembly.job } satisfies ToSheets)
    // sheets of the job as it was a moment ago stay until the new ones are drawn; those of another job do not
    const { name } = checks.assembly.job
    sheets.setState(({ booklets }) => ({ compared: null, changedId: null, booklets: drawnOf === name ? booklets : null }))
    drawnOf = name
  }, [checks])
  useEffect(() => {
    if (checks === null) return
    let isWanted = true
    // typing a date draws nothing before the person pauses
    const pause = setTimeout(() => {
      void ask({ kind: 'draw', options }).then((message) => {
        if (!isWanted) return
        if (message.kind === 'drawn') sheets.setState({ booklets: message.booklets, trouble: null })
        else if (message.kind === 'failed') sheets.setState({ trouble: 'The sheets could not be drawn.' })
      })
    }, sheets.getState().booklets === null ? 0 : 300)
    return () => {
      isWanted = false
      clearTimeout(pause)
    }
  }, [checks, options])
  useEffect(() => () => {
    letGo()
    sheets.setState({ booklets: null, making: null })
  }, [])
  return checks
}

/** Makes a file and hands it to the person. */
export async function handOver(what: Wanted, name: string): Promise<void> {
  sheets.setState({ making: name, trouble: null })
  const { options, compared } = sheets.getState()
  const template = what.kind === 'client' ? (await import('#client/main.ts?template')).default : undefined
  const message = await ask({ kind: 'file', options, what, template, revision: compared?.revision, time: new Date().toISOString().slice(0, 19) })
  sheets.setState({ making: null })
  if (message.kind === 'file') save(message.file)
  else sheets.setState({ trouble: `${name} could not be made.` })
}

export async function compareWith(file: File): Promise<void> {
  sheets.setState({ making: 'The comparison', trouble: null })
  const message = await ask({ kind: 'compare', options: sheets.getState().options, older: await file.text() })
  sheets.setState({ making: null })
  if (message.kind === 'compared') sheets.setState({ compared: { fileName: file.name, revision: message.revision, before: message.before }, changedId: null })
  else sheets.setState({ compared: null, trouble: message.kind === 'not-compared' ? message.words : 'The two jobs could not be compared.' })
}

const KINDS: Readonly<Record<string, string>> = { pdf: 'application/pdf', svg: 'image/svg+xml', csv: 'text/csv', html: 'text/html', glb: 'model/gltf-binary', ifc: 'application/x-step' }

export function save({ name, content }: HandoverFile): void {
  const blob = new Blob([content as BlobPart], { type: KINDS[name.split('.').at(-1)!] })
  const address = URL.createObjectURL(blob), link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  // the browser reads it after the click
  setTimeout(() => { URL.revokeObjectURL(address) }, 60_000)
}
