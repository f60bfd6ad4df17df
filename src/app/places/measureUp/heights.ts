/** Heights that a new thing usually has in this job, from what is already there. Pure. */
import type { Job } from '#model/index.ts'

export interface Heights {
  /** of the finished ceiling */
  readonly ceilingMm: number
  /** of its upper side: the lowest that anything in the void stands */
  readonly undersideMm: number
  /** of what closes the void above */
  readonly topMm: number
  readonly joistUndersideMm: number
  readonly joistDepthMm: number
}

/** A room of ordinary height under 15 mm of board: common practice, from memory. */
const CEILING_MM = 2_400
const BOARD_MM = 15
const JOIST_DEPTH_MM = 254

export function heightsIn({ rooms, zones, joistFields, sections }: Job): Heights {
  const field = joistFields.at(-1), zone = zones.at(-1)
  const ceilingMm = rooms.at(-1)?.ceilingMm ?? (zone === undefined ? CEILING_MM : zone.undersideMm - BOARD_MM)
  const undersideMm = zone?.undersideMm ?? field?.origin[2] ?? ceilingMm + BOARD_MM
  const joistDepthMm = sections.find(({ id }) => id === field?.section)?.depthMm ?? (zone === undefined ? JOIST_DEPTH_MM : zone.topMm - zone.undersideMm)
  const joistUndersideMm = field?.origin[2] ?? undersideMm
  return { ceilingMm, undersideMm, topMm: zone?.topMm ?? joistUndersideMm + joistDepthMm, joistUndersideMm, joistDepthMm }
}
