/** The first picture comes before everything that it can do without: checking and the bench wait for it. */
import { useEffect, useState } from 'react'

/** Where no picture can be drawn, and nobody said so, the rest comes all the same, ms. */
const LONGEST_WAIT_MS = 3_000

let come: () => void = () => {}
export const firstPicture = new Promise<void>((resolve) => { come = resolve })
setTimeout(come, LONGEST_WAIT_MS)

/** It has been drawn, or cannot be. */
export function pictureCame(): void {
  come()
}

/** Whether it has come. */
export function useFirstPicture(): boolean {
  const [hasCome, setCome] = useState(false)
  useEffect(() => { void firstPicture.then(() => { setCome(true) }) }, [])
  return hasCome
}
