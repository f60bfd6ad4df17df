import { memo, useMemo } from 'react'
import type { Assembly } from '#assembly/assembly.ts'
import type { Finding } from '#checks/finding.ts'
import type { Point2 } from '#model/index.ts'
import { AIR, airOf } from '#scene/air.ts'
import type { PlanLayer } from './PlanView.tsx'
import { namesThatFit, type Name } from './names.ts'
import { boundsOf } from './planBounds.ts'
import { footprintOf } from './outlines.ts'
import { markBoxes } from './PlanMarks.tsx'
import { toScreen, type PlanFrame } from './planFrame.ts'
import type { PlanPick } from './planPick.ts'
import { halfway, pointsAlong } from './runLine.ts'

/** names from this weight on are written only nearer than this: from farther off they hide what they name */
const SMALL_THINGS = 4, NEAR_PX_PER_MM = 0.085

interface SiteName { readonly key: string, readonly words: string, readonly inShort?: string, readonly site: Point2, readonly orElse?: readonly Point2[], readonly layer: PlanLayer, readonly weight: number }

/** Site names, as many as can be read: what is picked out first, then what is largest. */
export const PlanNames = memo(({ assembly, findings, frame, hidden, pick }: {
  readonly assembly: Assembly
  /** their marks stand over the names */
  readonly findings: readonly Finding[]
  readonly frame: PlanFrame, readonly hidden: ReadonlySet<PlanLayer>, readonly pick: PlanPick | null
}) => {
  const names = useMemo(() => siteNames(assembly), [assembly])
  const picked = pick === null ? '' : `${pick.kind}:${pick.id}`
  // the lengths of the sides stand on the edge of what is picked out, where a ceiling is named
  const hidesZones = pick?.kind === 'room' || pick?.kind === 'zone'
  const isNear = frame.pxPerMm > NEAR_PX_PER_MM
  const shown: Name[] = names.filter(({ key, layer, weight }) => !hidden.has(layer) && !(hidesZones && layer === 'zones') && (weight < SMALL_THINGS || isNear || key === picked))
    .map(({ key, words, inShort, site, orElse, layer, weight }) => ({ key, orElse: orElse?.map((place) => toScreen(frame, place)), stays: layer === 'joists' || layer === 'runs', words: isNear || key === picked ? words : inShort ?? words, at: toScreen(frame, site), weight: key === picked ? -1 : weight }))
  return (
    <g className="plan-names" pointerEvents="none" aria-hidden="true">
      {namesThatFit(shown, frame.widthPx, frame.heightPx, markBoxes(findings, frame, pick)).map(({ key, words, at: [x, y], weight }) => (
        <text key={key} x={x} y={y} textAnchor="middle" dominantBaseline="central" className={weight === -1 ? 'is-picked' : weight === 0 ? 'plan-room-name' : undefined}>{words}</text>
      ))}
    </g>
  )
})

function siteNames({ job, joists, runs }: Assembly): SiteName[] {
  return [
    ...job.rooms.map(({ id, name, outline }) => ({ key: `room:${id}`, words: name, site: middleOf(outline), layer: 'rooms' as const, weight: 0 })),
    ...job.equipment.map(({ id, name, kind, centre }) => ({ key: `equipment:${id}`, words: name, site: [centre[0], centre[1]] as Point2, layer: 'equipment' as const, weight: kind === 'unit' || kind === 'manifold' ? 1 : SMALL_THINGS })),
    ...runs.map((placed) => {
      const air = airOf(placed)
      const withAir = (name: string): string => air === undefined ? name : `${name} \u00b7 ${AIR[air].letters}`
      return { key: `run:${placed.run.id}`, words: withAir(placed.run.name), inShort: withAir(shortName(placed.run.name)), site: halfway(pointsAlong(placed.centreline)), layer: 'runs' as const, weight: 2 }
    }),
    ...joists.map(({ id, name, origin, along, across, lengthMm }) => {
      const x = Math.min(240, lengthMm / 4), at = (along0: number): Point2 => [origin[0] + along[0] * along0 + across[0], origin[1] + along[1] * along0 + across[1]]
      return { key: `joist:${id}`, words: name.replace(/^joist /, ''), site: at(x), orElse: [at(lengthMm - x), at(lengthMm / 2), at(lengthMm / 4), at(lengthMm * 3 / 4)], layer: 'joists' as const, weight: 3 }
    }),
    ...job.solids.filter(({ class: kind }) => kind !== 'slab' && kind !== 'lining').map(({ id, name, shape }) => {
      const print = footprintOf(shape)
      return { key: `solid:${id}`, words: name, site: print.kind === 'area' ? middleOf(print.rings[0]) : halfway(print.points), layer: 'solids' as const, weight: 4 }
    }),
    ...job.sleeves.map(({ id, name, at }) => ({ key: `sleeve:${id}`, words: name, site: [at[0], at[1]] as Point2, layer: 'solids' as const, weight: 4 })),
    ...job.zones.map(({ id, name, outline }) => {
      const [minX, minY, maxX] = boundsOf(outline)
      return { key: `zone:${id}`, words: name, site: [(minX + maxX) / 2, minY] as Point2, layer: 'zones' as const, weight: 5 }
    }),
  ]
}

/** 'Run 6 - snug supply, hall side' is 'Run 6' from afar. */
function shortName(name: string): string {
  return /^(.{2,}?)\s+[-\u2013:]\s/.exec(name)?.[1] ?? name
}

function middleOf(ring: readonly Point2[]): Point2 {
  const [minX, minY, maxX, maxY] = boundsOf(ring)
  return [(minX + maxX) / 2, (minY + maxY) / 2]
}
