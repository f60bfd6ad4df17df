/** How far the laying of runs has come: which stage, how many of its runs, and a share of all of it that only grows. */

/** In this order; a stage that has nothing to do is left out. 'why': what stops the runs for which no way was found. */
export type RouteStage = 'looking' | 'pulling-taut' | 'making-room' | 'straightening' | 'why'

export interface RouteProgress {
  readonly stage: RouteStage
  /** runs with which the stage is done, of so many; `of` is 0 where it takes all of them at once */
  readonly done: number
  readonly of: number
  /** the run that is being looked at, where it is one */
  readonly runName: string | null
  /** changes that were tried to free it */
  readonly triedCount: number
  /** 0 to 1, never less than before */
  readonly doneRatio: number
}

/** The share of the whole that each stage is taken for: about what it takes on floors of nineteen runs. */
const SHARES: Readonly<Record<RouteStage, readonly [number, number]>> = {
  'looking': [0, 0.45], 'pulling-taut': [0.45, 0.55], 'making-room': [0.55, 0.75], 'straightening': [0.75, 0.9], 'why': [0.9, 1],
}

export class Progress {
  #stage: RouteStage = 'looking'
  #ratio = 0
  readonly #tell: (progress: RouteProgress) => void

  constructor(tell: (progress: RouteProgress) => void) {
    this.#tell = tell
  }

  begin(stage: RouteStage, of = 0): void {
    this.#stage = stage
    this.reached(0, of)
  }

  /** @param ratio of the stage, where it is not told by the runs that are done with */
  reached(done: number, of: number, runName: string | null = null, ratio = of === 0 ? 0 : done / of, triedCount = 0): void {
    const [from, to] = SHARES[this.#stage]
    this.#ratio = Math.max(this.#ratio, from + (to - from) * Math.min(1, Math.max(0, ratio)))
    this.#tell({ stage: this.#stage, done, of, runName, triedCount, doneRatio: this.#ratio })
  }

  end(): void {
    this.#ratio = 1
    this.#tell({ stage: this.#stage, done: 0, of: 0, runName: null, triedCount: 0, doneRatio: 1 })
  }
}

const STAGE_WORDS: Readonly<Record<RouteStage, string>> = {
  'looking': 'Looking for ways', 'pulling-taut': 'Pulling the ducts taut', 'making-room': 'Making room where two are at odds',
  'straightening': 'Looking for fewer bends', 'why': 'Why runs cannot be laid',
}

/** 'Looking for ways: 12 of 19 runs'; 'Why Run 7 cannot be laid: 2 of 3 runs looked into, 14 changes tried for it' */
export function progressWords({ stage, done, of, runName, triedCount }: RouteProgress): string {
  const runs = of === 0 ? '' : `: ${done} of ${of} ${of === 1 ? 'run' : 'runs'}`
  return stage === 'why' ? `${runName === null ? STAGE_WORDS.why : `Why ${runName} cannot be laid`}${runs === '' ? '' : `${runs} looked into`}${triedCount === 0 ? '' : `, ${triedCount} ${triedCount === 1 ? 'change' : 'changes'} tried for it`}` : `${STAGE_WORDS[stage]}${runs}`
}
