/**
 * The whole verdict, worked out away from the window: asked for once things have been still for a moment, the latest
 * job wins, and whatever is being worked out for an older one is thrown away.
 */
import type { Job } from '#model/index.ts'
import type { Verdict } from '#routing/verdict.ts'
import type { FromChecker, ToChecker } from '../checkerMessages.ts'

/** A worker, as far as it is needed here. */
export interface CheckerPort {
  postMessage: (message: ToChecker) => void
  terminate: () => void
  onmessage: ((event: MessageEvent<FromChecker>) => void) | null
  onerror: ((event: ErrorEvent) => void) | null
}

export interface CheckerNews {
  /** 0 to 1 */
  readonly progress: (doneRatio: number) => void
  readonly verdict: (job: Job, verdict: Verdict) => void
  readonly failed: (why: string) => void
}

/** Time without another change before the whole job is checked, ms: longer than the steps of a drag are apart. */
const STILL_MS = 150

export class Checker {
  readonly #spawn: () => CheckerPort
  readonly #news: CheckerNews
  #idle: CheckerPort | null = null
  #busy: CheckerPort | null = null
  #timer: ReturnType<typeof setTimeout> | undefined

  constructor(spawn: () => CheckerPort, news: CheckerNews) {
    this.#spawn = spawn
    this.#news = news
  }

  /** whether an answer is being worked out or waited for */
  get isAsked(): boolean {
    return this.#busy !== null || this.#timer !== undefined
  }

  /** @param waitMs 0 asks at once */
  ask(job: Job, waitMs = STILL_MS): void {
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => {
      this.#timer = undefined
      this.#start(job)
    }, waitMs)
  }

  /** Gives up whatever was asked. */
  stop(): void {
    clearTimeout(this.#timer)
    this.#timer = undefined
    this.#dropBusy()
  }

  #start(job: Job): void {
    // one that is still at an older job cannot hear: it is ended, and another takes over
    this.#dropBusy()
    const port = this.#busy = this.#idle ?? this.#spawn()
    this.#idle = null
    port.onerror = (event) => {
      event.preventDefault()
      this.#dropBusy()
      this.#news.failed(event.message ?? 'no reason given')
    }
    port.onmessage = ({ data }) => {
      if (data.kind === 'checking') this.#news.progress(data.doneRatio)
      if (data.kind !== 'verdict' && data.kind !== 'failed') return
      port.onmessage = port.onerror = null
      this.#busy = null
      this.#idle = port
      if (data.kind === 'verdict') this.#news.verdict(job, data.verdict)
      else this.#news.failed(data.why)
    }
    port.postMessage({ kind: 'check', job })
  }

  #dropBusy(): void {
    if (this.#busy === null) return
    this.#busy.onmessage = this.#busy.onerror = null
    this.#busy.terminate()
    this.#busy = null
  }
}
