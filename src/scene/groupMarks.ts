/** Marks that would cover one another stand as one, the worst of them, with how many more lie under it. Pure; px of the screen. */

export interface MarkGroup {
  /** the one that is drawn */
  readonly lead: number
  /** how many others stand under it */
  readonly more: number
}

/**
 * @param pixelsXy two numbers to each mark; NaN for one that is not in sight
 * @param order indices of the marks, those that matter most first: they stay where they are, and the others go under them
 * @param apartPx marks nearer than this to each other are one
 */
export function groupMarks(pixelsXy: ArrayLike<number>, order: readonly number[], apartPx: number): MarkGroup[] {
  const leads: { readonly lead: number, more: number }[] = []
  // squares of that size: what is near lies in the same one or beside it
  const squares = new Map<string, { readonly lead: number, more: number }[]>()
  for (const mark of order) {
    const x = pixelsXy[2 * mark], y = pixelsXy[2 * mark + 1]
    if (!(Number.isFinite(x) && Number.isFinite(y))) continue
    const column = Math.floor(x / apartPx), row = Math.floor(y / apartPx)
    let nearest: { readonly lead: number, more: number } | undefined, least = apartPx
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const other of squares.get(`${column + dx} ${row + dy}`) ?? []) {
          const away = Math.hypot(pixelsXy[2 * other.lead] - x, pixelsXy[2 * other.lead + 1] - y)
          if (away < least) {
            least = away
            nearest = other
          }
        }
      }
    }
    if (nearest !== undefined) {
      nearest.more++
      continue
    }
    const made = { lead: mark, more: 0 }
    leads.push(made)
    const square = `${column} ${row}`, there = squares.get(square)
    if (there === undefined) squares.set(square, [made])
    else there.push(made)
  }
  return leads
}

/** How many more, in as few letters as a badge holds. */
export const MORE_WORDS = ['+1', '+2', '+3', '+4', '+5', '+6', '+7', '+8', '+9', '10+', '20+', '50+', '99+'] as const

/** @returns which of MORE_WORDS tells of so many; at least 1 */
export function moreStep(more: number): number {
  return more < 10 ? more - 1 : more < 20 ? 9 : more < 50 ? 10 : more < 99 ? 11 : 12
}
