/** Jobs as files on disk: to the very file where the browser can, else as a download. What is written is what `formatJob` makes and the command line reads. */
import type { FileMark } from './shelf.ts'

/** Parts of the window that not every browser has. */
interface Pickers {
  showOpenFilePicker?: (options: object) => Promise<FileSystemFileHandle[]>
  showSaveFilePicker?: (options: object) => Promise<FileSystemFileHandle>
}
/** asking again whether a file from an earlier visit may be written */
interface Asking {
  requestPermission?: (options: { mode: 'readwrite' }) => Promise<PermissionState>
}

export type Saved =
  | { readonly ok: true, readonly file: FileMark, readonly how: 'written' | 'downloaded' }
  | { readonly ok: false, readonly why: 'left-it' | 'changed-on-disk' | 'failed', readonly words: string }

const KINDS = [{ description: 'Joistway job', accept: { 'application/json': ['.json'] } }]

/** Whether the browser lets a person pick a file that can be written again. */
export function canPick(): boolean {
  return (window as Pickers).showOpenFilePicker !== undefined
}

/** @returns undefined when the person left it */
export async function pickFile(): Promise<{ readonly file: File, readonly mark: FileMark } | undefined> {
  try {
    const [handle] = await (window as Pickers).showOpenFilePicker!({ types: KINDS })
    const file = await handle.getFile()
    return { file, mark: { name: file.name, handle, writtenAt: file.lastModified } }
  } catch (error) {
    if (isLeft(error)) return undefined
    throw error
  }
}

/** @param name of the job, to name the file after */
export async function saveAs(text: string, name: string): Promise<Saved> {
  const picker = (window as Pickers).showSaveFilePicker
  if (picker === undefined) return download(text, name)
  let handle: FileSystemFileHandle
  try {
    handle = await picker({ suggestedName: fileNameOf(name), types: KINDS })
  } catch (error) {
    // a page inside another page may have the picker and not be let to use it
    return isLeft(error) ? { ok: false, why: 'left-it', words: 'Nothing was saved.' } : download(text, name)
  }
  return write(text, handle)
}

/** Writes to the same file again, unless something else has written it meanwhile. */
export async function save(text: string, { handle, writtenAt, name }: FileMark): Promise<Saved> {
  if (handle === undefined) return saveAs(text, name.replace(/\.json$/i, ''))
  try {
    const { requestPermission } = handle as Asking
    if (requestPermission !== undefined && await requestPermission.call(handle, { mode: 'readwrite' }) !== 'granted') {
      return { ok: false, why: 'failed', words: `The browser was not allowed to write ${name}.` }
    }
    const { lastModified } = await handle.getFile()
    if (writtenAt !== undefined && lastModified !== writtenAt) {
      return { ok: false, why: 'changed-on-disk', words: `${name} was changed by something else since it was opened or saved here, so it was left as it is. Save as another file.` }
    }
  } catch (error) {
    // a file that was moved or thrown away is written anew
    if (!(error instanceof DOMException) || error.name !== 'NotFoundError') return failed(name, error)
  }
  return write(text, handle)
}

async function write(text: string, handle: FileSystemFileHandle): Promise<Saved> {
  try {
    const stream = await handle.createWritable()
    await stream.write(text)
    await stream.close()
    return { ok: true, how: 'written', file: { name: handle.name, handle, writtenAt: (await handle.getFile()).lastModified } }
  } catch (error) {
    return failed(handle.name, error)
  }
}

function download(text: string, name: string): Saved {
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }))
  const link = document.createElement('a')
  link.href = address
  link.download = fileNameOf(name)
  link.click()
  // the browser reads it after the click
  setTimeout(() => { URL.revokeObjectURL(address) }, 60_000)
  return { ok: true, how: 'downloaded', file: { name: link.download } }
}

function failed(name: string, error: unknown): Saved {
  return { ok: false, why: 'failed', words: `${name} could not be written: ${error instanceof Error ? error.message : 'no reason given'}` }
}

function isLeft(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'AbortError'
}

/** The job's name as a file name that every system takes. */
export function fileNameOf(name: string): string {
  const plain = name.normalize('NFC').replace(/[\u0000-\u001f<>:"/\\|?*]+/g, ' ').replace(/\s+/g, ' ').trim().replace(/[. ]+$/, '').slice(0, 80)
  return `${plain === '' ? 'job' : plain}.json`
}
