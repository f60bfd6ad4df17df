/** The short name that floats in the view at what was picked out. */
import type { Assembly } from '#assembly/assembly.ts'
import type { Finding } from '#checks/finding.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import type { Tag } from '#scene/Pointing.tsx'
import { AIR, airOf } from '#scene/air.ts'
import type { Selection } from '#scene/selection.ts'
import { capital } from './facts.ts'
import { amountWords } from './words.ts'

export function tagOf(assembly: Assembly, findings: readonly Finding[], selection: Selection | null): Tag | null {
  switch (selection?.kind) {
    case undefined: return null
    case 'finding': {
      const finding = findings.find(({ id }) => id === selection.id)
      return finding === undefined ? null : { words: amountWords(finding), at: [finding.mark.x, finding.mark.y, finding.mark.z] }
    }
    case 'run': {
      const placed = assembly.runs.find(({ run }) => run.id === selection.runId)
      if (placed === undefined) return null
      const at = new Float64Array(3)
      pointAt(placed.centreline, placed.centreline.lengthMm / 2, at)
      const air = airOf(placed)
      return { words: air === undefined ? placed.run.name : `${placed.run.name} \u00b7 ${AIR[air].letters}`, at: [at[0], at[1], at[2]] }
    }
    case 'solid': return { words: capital(assembly.parts.describe(selection.solidIndex).name), at: selection.at }
    case 'opening': return { words: `${capital(assembly.joists[selection.joistIndex].name)}, opening ${selection.number}`, at: selection.at }
  }
}
