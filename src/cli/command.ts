/** What a command of the command line is, and how it reads its file. */
import { readFileSync, statSync } from 'node:fs'
import type { Job } from '#model/index.ts'
import { formatProblems, parseJob } from '#model/parse.ts'

export const EXIT = { clean: 0, findings: 1, unusable: 2 } as const

export interface Console {
  out(text: string): void
  err(text: string): void
  /** all of standard input, as it came or as text */
  readStandardInput(): Uint8Array | string
}

export interface Call {
  readonly file: string
  readonly json: boolean
  readonly values: Readonly<Record<string, unknown>>
  readonly console: Console
}

export interface Command {
  readonly name: string
  readonly usage: string
  readonly summary: string
  readonly about: string
  readonly example: string
  readonly takesFile: boolean
  /** `isAlone`: a question of its own, not to be asked together with another such */
  readonly options: readonly { readonly name: string, readonly value?: string, readonly about: string, readonly isAlone?: boolean }[]
  execute(call: Call): number | Promise<number>
}

const LARGEST_FILE_BYTES = 64 * 1024 * 1024

/** @returns the job, or null after saying on the console what is wrong with the file */
export function readJob({ file, json, console }: Call): Job | null {
  const name = file === '-' ? 'standard input' : file
  const refuse = (found: string, allowed: string): null => {
    if (json) console.out(JSON.stringify({ usable: false, problems: [{ path: '', code: 'unreadable', found, allowed }], unlisted: 0 }, null, 2))
    else console.err(`${name}: ${found}; ${allowed}`)
    return null
  }
  let text: string
  try {
    if (file !== '-' && statSync(file).size > LARGEST_FILE_BYTES) return refuse('too large', `a job takes up to ${LARGEST_FILE_BYTES / 1024 / 1024} MB`)
    const bytes = file === '-' ? console.readStandardInput() : readFileSync(file)
    try {
      text = typeof bytes === 'string' ? bytes : new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    } catch {
      return refuse('not written in UTF-8', 'save it as UTF-8 text')
    }
  } catch (error) {
    return refuse(readErrorWords(error), 'name a file that can be read, or - for standard input')
  }
  const result = parseJob(text)
  if (result.ok) return result.job
  if (json) console.out(JSON.stringify({ usable: false, problems: result.problems, unlisted: result.unlisted }, null, 2))
  else console.err(`${name} cannot be used:\n${formatProblems(result)}`)
  return null
}

function readErrorWords(error: unknown): string {
  const code = (error as { code?: string }).code
  return code === 'ENOENT' ? 'no such file' : code === 'EISDIR' ? 'it is a folder' : code === 'EACCES' ? 'not allowed' : String(code ?? error)
}

/** A typed length, mm; null and a word on the console when it is none. */
export function lengthOption(call: Call, name: string, least: number, most: number): number | null {
  const text = String(call.values[name])
  const mm = /^\s*[+-]?(\d+\.?\d*|\.\d+)\s*(mm)?\s*$/.test(text) ? Number.parseFloat(text) : NaN
  if (!Number.isFinite(mm) || mm < least || mm > most) {
    call.console.err(`--${name} takes a number of millimetres from ${least} to ${most}; it was given '${text}'`)
    return null
  }
  return mm
}
