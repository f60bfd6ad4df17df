import { lazy, Suspense, useMemo } from 'react'
import type { Assembly } from '#assembly/assembly.ts'
import { directionAt, pointAt } from '#geometry/curve/measure.ts'
import type { Extras, Ghosts, Label, Ring } from '#scene/extras.ts'
import type { Xyz } from '#scene/frame.ts'
import type { OpeningTint } from '#scene/openingSteps.ts'
import { OPENING_STEPS, stepOf } from '#scene/openingSteps.ts'
import { useBench } from '../../editing/useBench.ts'
import { mmText } from '../../figures.ts'
import { isFreeFor, useOpeningSizes } from '../joist/joistShown.ts'
import { useShownRunId } from '../strip/unrolled.ts'
import { failsAt } from '../trial/trying.ts'
import { useReading } from './taping.ts'
import { useCut, useDrawing } from './useLooking.ts'
import { lookNow, useViewing } from './viewing.ts'
import './looking.css'

const Overlay = lazy(async () => ({ default: (await import('#scene/Overlay.tsx')).Overlay }))

/** Drawn in the void: a child of VoidView. */
export function InView() {
  const assembly = useBench((now) => now.assembly)
  return assembly === null ? null : <Suspense fallback={null}><Drawn assembly={assembly} /></Suspense>
}

function Drawn({ assembly }: { readonly assembly: Assembly }) {
  const cut = useCut(), drawing = useDrawing()
  const ring = useRing(assembly), tints = useTints(), { ghosts, marks } = useGhosts(assembly), names = useNames(assembly), sizes = useSizeLabels()
  const reading = useReading()
  const tape = useMemo(() => {
    if (reading === null || !reading.ok) return null
    const { onFrom, onTo, clearanceMm, overlap } = reading.tape
    return { from: xyz(onFrom), to: xyz(onTo), words: clearanceMm === null ? 'overlap' : overlap ? `overlap by ${mmText(-clearanceMm)}` : mmText(clearanceMm) }
  }, [reading])
  const labels = useMemo(() => [...names, ...marks, ...sizes], [names, marks, sizes])
  const extras = useMemo((): Extras => ({ cut, drawing, ring, tints, ghosts, labels, tape, lookNow }), [cut, drawing, ring, tints, ghosts, labels, tape])
  return <Overlay extras={extras} assembly={assembly} />
}

function xyz({ x, y, z }: { readonly x: number, readonly y: number, readonly z: number }): Xyz {
  return [x, y, z]
}

function useRing(assembly: Assembly): Ring | null {
  const isOpen = useViewing((now) => now.open.has('strip'))
  const runId = useShownRunId()
  const stationMm = useViewing((now) => now.stationMm)
  return useMemo(() => {
    const placed = assembly.runs.find(({ run }) => run.id === runId) ?? assembly.runs[0]
    if (!isOpen || placed === undefined) return null
    const at = [0, 0, 0], direction = [0, 0, 0]
    pointAt(placed.centreline, stationMm, at)
    directionAt(placed.centreline, stationMm, direction)
    return { at: [at[0], at[1], at[2]], direction: [direction[0], direction[1], direction[2]], radiusMm: placed.outerRadiusMm }
  }, [assembly, isOpen, runId, stationMm])
}

const NO_TINTS: readonly OpeningTint[] = []
/** taken by what passes now, told apart by more than lightness in the elevation and the list */
const TAKEN = '#8a8378'

function useTints(): readonly OpeningTint[] {
  const isOpen = useViewing((now) => now.open.has('joist') && now.tintsOpenings)
  const wantedMm = useViewing((now) => now.wantedMm)
  const sizes = useOpeningSizes(isOpen)
  return useMemo(() => {
    if (sizes === null) return NO_TINTS
    return sizes.all.flatMap((choice): OpeningTint[] => {
      const { joistIndex, opening, largestMm } = choice
      if (wantedMm !== null && largestMm < wantedMm - 1e-6) return []
      return [{ joistIndex, opening, colour: wantedMm !== null && !isFreeFor(choice, wantedMm) ? TAKEN : OPENING_STEPS[stepOf(largestMm)].colour }]
    })
  }, [sizes, wantedMm])
}

const NO_LABELS: readonly Label[] = []

/** The largest duct of each opening of the joist that is shown, written in it; told to the millimetre below. */
function useSizeLabels(): readonly Label[] {
  const isOpen = useViewing((now) => now.open.has('joist') && now.tintsOpenings)
  const joistId = useViewing((now) => now.joistId)
  const sizes = useOpeningSizes(isOpen)
  return useMemo(() => {
    if (sizes === null) return NO_LABELS
    const { joists } = sizes.checks.assembly
    const joistIndex = Math.max(0, joists.findIndex(({ id }) => id === joistId))
    return sizes.all.filter((choice) => choice.joistIndex === joistIndex).map(({ opening, largestMm }): Label => {
      const { origin, along, section, openings } = joists[joistIndex]
      const corners = openings.find(({ number }) => number === opening)?.opening.verticesXy ?? []
      const x = corners.length === 0 ? 0 : [...corners].reduce((sum, value, i) => i % 2 === 0 ? sum + value : sum, 0) / (corners.length / 2)
      return {
        id: `size-${opening}`, words: `no. ${opening}: ${mmText(Math.floor(largestMm + 1e-6))}`, weight: 8, look: 'void-label-joist',
        anchors: [[origin[0] + x * along[0], origin[1] + x * along[1], origin[2] + section.depthMm / 2]],
      }
    })
  }, [joistId, sizes])
}
const NO_GHOSTS: { readonly ghosts: Ghosts | null, readonly marks: readonly Label[] } = { ghosts: null, marks: NO_LABELS }

function useGhosts(assembly: Assembly): typeof NO_GHOSTS {
  const isOpen = useViewing((now) => now.open.has('trial'))
  const list = useViewing((now) => now.trialList)
  const growMm = useViewing((now) => now.trialGrowMm)
  // which fail changes seldom while a slider moves: the ghosts are made anew only then
  const failingKey = list === null ? '' : list.rows.filter((row) => failsAt(row, growMm)).map(({ runId }) => runId).join('\n')
  const { runs, failing, marks } = useMemo(() => {
    const indexOf = new Map<string, number>(assembly.runs.map(({ run }, i) => [run.id, i]))
    const fails = new Set(failingKey.split('\n'))
    const rows = list?.rows ?? []
    return {
      runs: rows.flatMap(({ runId }) => indexOf.get(runId) ?? []),
      failing: rows.flatMap(({ runId }) => fails.has(runId) ? indexOf.get(runId) ?? [] : []),
      marks: rows.flatMap(({ runId, name, together: { at, touchesFirst } }): Label[] => at === null || touchesFirst === null || !fails.has(runId) ? []
        : [{ id: `trial-${runId}`, words: `\u2717 ${name}: ${touchesFirst.name}`, anchors: [xyz(at)], weight: 20, look: 'void-label-bad' }]),
    }
  }, [assembly, list, failingKey])
  return useMemo(() => !isOpen || growMm === 0 ? NO_GHOSTS : { ghosts: { runs, failing, growMm }, marks }, [isOpen, growMm, runs, failing, marks])
}

/** places along a run where its name may stand: its middle first */
const ALONG = [0.5, 0.35, 0.65, 0.2, 0.8]

function useNames(assembly: Assembly): readonly Label[] {
  const runs = useViewing((now) => now.namesRuns)
  const joists = useViewing((now) => now.namesJoists)
  return useMemo(() => {
    if (!runs && !joists) return NO_LABELS
    const point = [0, 0, 0]
    const ofRuns = !runs ? [] : assembly.runs.map(({ run, centreline }): Label => ({
      id: run.id, words: run.name, weight: 10, look: 'void-label-run',
      anchors: ALONG.map((share): Xyz => {
        pointAt(centreline, centreline.lengthMm * share, point)
        return [point[0], point[1], point[2]]
      }),
    }))
    const ofJoists = !joists ? [] : assembly.joists.map(({ id, origin, along, lengthMm, section }): Label => ({
      id, words: id, weight: 5, look: 'void-label-joist',
      anchors: [0, 1, 0.5].map((share): Xyz => [origin[0] + share * lengthMm * along[0], origin[1] + share * lengthMm * along[1], origin[2] + section.depthMm]),
    }))
    return [...ofRuns, ...ofJoists]
  }, [assembly, runs, joists])
}
