import { browserShelf } from './browserShelf.ts'
import { memoryShelf } from './memoryShelf.ts'
import type { Shelf } from './shelf.ts'

/** The browser's database, or memory where the browser refuses it. @param refused called once then, before anything is kept */
export function shelfOrMemory(refused: () => void): Shelf {
  let lasts = true
  const ready = browserShelf().catch(() => {
    lasts = false
    refused()
    return memoryShelf()
  })
  return {
    get lasts() { return lasts },
    transact: async (how, work) => (await ready).transact(how, work),
  }
}
