/** Words about what is kept, where, and what a person can do when it is not. */
import type { KeeperState, Notice, Trouble } from './storage/keeper.ts'
import type { KeptJob } from './storage/shelf.ts'
import type { Job } from '#model/index.ts'
import { countText } from './figures.ts'

const KEPT = { words: 'kept in this browser', isKept: 'yes' } as const
const KEEPING = { words: 'keeping…', isKept: 'soon' } as const
const NOT_KEPT = { words: 'not kept', isKept: 'no' } as const
const UNCHANGED = { words: 'not changed yet', isKept: 'none' } as const
const ELSEWHERE = { words: 'open in another window', isKept: 'elsewhere' } as const

const IN_FILE = { words: 'saved in its file', isKept: 'yes' } as const
const FILE_OLDER = { words: 'changed since saved', isKept: 'yes' } as const

/** One of a few constant objects, so that a screen is drawn again only when the words change. */
/** @param present the job as it stands */
export function saveWords({ trouble, isKeeping, isElsewhere, current, savedJob }: KeeperState, present: Job | null) {
  if (isElsewhere) return ELSEWHERE
  if (trouble !== null) return NOT_KEPT
  if (isKeeping) return KEEPING
  if (savedJob !== null) return savedJob === present ? IN_FILE : FILE_OLDER
  return current === null ? UNCHANGED : KEPT
}

export function troubleWords(trouble: Trouble): { readonly title: string, readonly words: string } {
  switch (trouble.kind) {
    case 'refused': return {
      title: 'This browser keeps nothing',
      words: 'It does not let this page store anything, as in some private windows. You can go on working, but only in this window: save to a file before you close it.',
    }
    case 'full': return {
      title: 'There is no more room in this browser',
      words: 'What was kept before is still there. Your last changes are in this window only: save to a file, or throw away jobs that you no longer need.',
    }
    case 'failed': return {
      title: 'Your last changes could not be kept',
      words: `They are in this window only, and the next change tries again. Save to a file to be safe. The browser said: ${trouble.why}`,
    }
    case 'changed-elsewhere': return {
      title: 'This job was changed in another window too',
      words: 'Both are still there. Keep yours as a job of its own, or go on with the other one and lose what you changed here.',
    }
  }
}

export function noticeWords(notice: Notice): string {
  switch (notice.kind) {
    case 'recovered': return `The window closed in the middle of “${notice.step}”. The job stands as it was last drawn; undo takes that step back.`
    case 'drag-lost': return `The window closed in the middle of “${notice.step}”. That could not be brought back: the job stands as it was before.`
    case 'older-version': return `The last state of this job could not be read. This is the one before it, of ${timeText(notice.at)}.`
    case 'unreadable': return `${notice.name} could not be read. It was left as it is.`
    case 'held-here': return 'The other window has let go of this job: it can be changed here now.'
    case 'saved': return notice.how === 'written' ? `Saved to ${notice.name}.` : `Saved as ${notice.name} where your browser puts downloads.`
    case 'not-saved': return notice.words
  }
}

/** '18 joists, 7 runs, changed today at 14:05, 96 kB' */
export function jobLine({ joists, runs, changedAt, bytes }: KeptJob, now: number): string {
  return `${countText(joists, 'joist')}, ${countText(runs, 'run')}, changed ${timeText(changedAt, now)}, ${sizeText(bytes)}`
}

export function sizeText(bytes: number): string {
  return bytes < 1_000_000 ? `${Math.max(1, Math.round(bytes / 1_000))} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`
}

/** A moment as people say it: 'today at 14:05', '3 March at 09:12'. */
export function timeText(at: number, now: number = Date.now()): string {
  const then = new Date(at), today = new Date(now)
  const clock = then.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })
  if (then.toDateString() === today.toDateString()) return `today at ${clock}`
  const day = then.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', ...(then.getFullYear() === today.getFullYear() ? {} : { year: 'numeric' }) })
  return `${day} at ${clock}`
}
