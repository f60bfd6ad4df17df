/** What a newcomer does next, told from what the job lacks. Pure. */
import type { Job } from '#model/index.ts'

export interface NextStep {
  readonly words: string
  /** id of the tool that does it; null where it is done elsewhere */
  readonly tool: string | null
}

/** @param isEnough nobody means to measure more joists */
export function nextStep({ rooms, zones, joistFields, sections }: Job, isEnough = false): NextStep | null {
  if (rooms.length === 0) return { words: 'Draw the room: tap its corners.', tool: 'room' }
  if (zones.length === 0) return { words: 'Say where ducts may go: pick the room out and make its ceiling a zone, or draw one.', tool: 'zone' }
  if (joistFields.length === 0) return { words: 'Lay the joists: tap two corners.', tool: 'joist-field' }
  const isOpenWeb = (id: string): boolean => sections.find(section => section.id === id)?.kind === 'open-web'
  const unmeasured = joistFields.find(({ section, joists }) => isOpenWeb(section) && joists.some(({ firstNodeMm }) => firstNodeMm === undefined))
  if (unmeasured !== undefined && !isEnough) {
    const left = unmeasured.joists.filter(({ firstNodeMm }) => firstNodeMm === undefined).length
    return { words: `Measure the joists: ${left} of ${unmeasured.joists.length} in ${unmeasured.name} still have no first node off the tape. Tap a joist and type.`, tool: null }
  }
  return null
}
