/** Long work that has to be done in the window, in slices: between two of them the page draws, and hears that it is to stop. */

/** Work goes on for so long at a time, ms. */
const SLICE_MS = 24

/**
 * @param steps yields how much is done, 0 to 1, at every place where it may rest
 * @param isWanted asked before every slice
 * @returns what the steps come to; null when it was no longer wanted
 */
export async function inSlices<T>(steps: Generator<number, T, void>, { isWanted, progress }: {
  readonly isWanted: () => boolean, readonly progress: (doneRatio: number) => void
}): Promise<T | null> {
  for (let doneRatio = 0; ;) {
    // a turn of the browser's own, before the first slice too: what asked for the work is drawn before it starts
    await new Promise((resolve) => { setTimeout(resolve) })
    if (!isWanted()) return null
    const until = performance.now() + SLICE_MS
    do {
      const step = steps.next()
      if (step.done === true) return step.value
      doneRatio = step.value
    } while (performance.now() < until)
    progress(doneRatio)
  }
}
