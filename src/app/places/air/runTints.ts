/** Runs coloured by how fast the air goes in them, or by their part of what the fan must give: from light to dark, with the figure beside each. */
import type { AirReport } from '#air/index.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import type { Label } from '#scene/extras.ts'
import type { Xyz } from '#scene/frame.ts'
import type { AirView } from './airView.ts'

export interface TintStep { readonly from: number, readonly words: string, readonly colour: string, readonly ink: string }

const COLOURS = [['#f0e08a', '#000000'], ['#9cc77c', '#000000'], ['#55a596', '#000000'], ['#4f7c94', '#000000'], ['#5f5680', '#ffffff'], ['#2e2440', '#ffffff']] as const
const stepsFrom = (froms: readonly number[], wordsOf: (from: number, next: number | undefined) => string): TintStep[] =>
  froms.map((from, i) => ({ from, words: wordsOf(from, froms[i + 1]), colour: COLOURS[i][0], ink: COLOURS[i][1] }))

export const TINT_STEPS: Readonly<Record<'speed' | 'pressure', readonly TintStep[]>> = {
  speed: stepsFrom([0, 0.5, 1, 1.5, 2, 2.5], (from, next) => next === undefined ? `${from} m/s and more` : from === 0 ? `below ${next} m/s` : `${from} to ${next} m/s`),
  pressure: stepsFrom([0, 5, 10, 20, 35, 50], (from, next) => next === undefined ? `${from} % and more` : from === 0 ? `below ${next} %` : `${from} to ${next} %`),
}

function stepOf(tint: 'speed' | 'pressure', value: number): TintStep {
  return TINT_STEPS[tint].findLast(({ from }) => value >= from) ?? TINT_STEPS[tint][0]
}

/** places along a run where its figure may stand: its middle first */
const ALONG = [0.5, 0.35, 0.65, 0.2, 0.8]

/** Runs that no system uses stay as they are. */
export function runTints({ runs }: Assembly, report: AirReport, { speed, tint }: AirView): { readonly colours: readonly (string | null)[], readonly labels: readonly Label[] } {
  const colours: (string | null)[] = runs.map(() => null), labels: Label[] = []
  if (tint === 'none') return { colours, labels }
  const indexOf = new Map<string, number>(runs.map(({ run }, i) => [run.id, i]))
  const point = [0, 0, 0]
  for (const { runs: own, neededPa } of report[speed].pressures) {
    for (const { run: { placed }, velocityMps, totalPa } of own) {
      const value = tint === 'speed' ? velocityMps : neededPa > 0 ? totalPa / neededPa * 100 : 0
      const index = indexOf.get(placed.run.id)
      if (index === undefined) continue
      colours[index] = stepOf(tint, value).colour
      labels.push({
        id: `air-${placed.run.id}`, words: tint === 'speed' ? `${velocityMps.toFixed(2)} m/s` : `${totalPa.toFixed(1)} Pa, ${value.toFixed(0)} %`, weight: 10 + value, look: 'void-label-run',
        anchors: ALONG.map((share): Xyz => {
          pointAt(placed.centreline, placed.centreline.lengthMm * share, point)
          return [point[0], point[1], point[2]]
        }),
      })
    }
  }
  return { colours, labels }
}
