/** Pictures of plans to trace over, kept in this browser beside the jobs: a job holds only the name and size of its picture. */
import { openDB, type IDBPDatabase } from 'idb'
import type { Underlay } from '#model/index.ts'

type Named = Pick<Underlay, 'picture' | 'widthPixels' | 'heightPixels'>
/** pictures of this window, whether or not the browser would keep them */
const held = new Map<string, Blob>()
let opened: Promise<IDBPDatabase | null> | null = null

function open(): Promise<IDBPDatabase | null> {
  return opened ??= openDB('joistway-pictures', 1, { upgrade: (db) => { db.createObjectStore('pictures') } }).catch(() => null)
}

function keyOf({ picture, widthPixels, heightPixels }: Named): string {
  return `${picture} ${widthPixels}x${heightPixels}`
}

/** @returns false where the browser would not keep it: it is there until the window closes */
export async function keepPicture(named: Named, blob: Blob): Promise<boolean> {
  held.set(keyOf(named), blob)
  try {
    const db = await open()
    await db?.put('pictures', blob, keyOf(named))
    return db !== null
  } catch {
    return false
  }
}

/** null when this browser has never had it */
export async function findPicture(named: Named): Promise<Blob | null> {
  const here = held.get(keyOf(named))
  if (here !== undefined) return here
  try {
    const found: unknown = await (await open())?.get('pictures', keyOf(named))
    return found instanceof Blob ? found : null
  } catch {
    return null
  }
}
