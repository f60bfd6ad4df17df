/** The door of this folder: every check of a job, and of one run. A new check is its file, a line here and a sentence in wording.ts. */
import type { Assembly } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { bendFaults } from './bends.ts'
import { clashFaults } from './clash.ts'
import { connectionFaults, sharedSpigot, sharedSpigots } from './connections.ts'
import { contextFor, type CheckContext } from './context.ts'
import { openingFaults } from './crossings.ts'
import { bySeverity, type Finding } from './finding.ts'
import { holeFaults } from './holes.ts'
import { voidFaults } from './leavesVoid.ts'
import { allPairFaults, runPairFaults } from './runPairs.ts'
import { sleeveFaults } from './sleeves.ts'
import { unsoundSolids } from './solids.ts'
import { selfClashFaults } from './selfClash.ts'
import { standsInFaults } from './standsIn.ts'
import { straightFaults } from './straights.ts'
import { outdoorFaults, terminalFaults } from './terminals.ts'

export { contextFor, withRun, type CheckContext } from './context.ts'
export { crossingsOf, type Crossing } from './crossings.ts'

/** Checks of one run against what does not move. */
const OF_ONE_RUN: readonly ((context: CheckContext, runIndex: number) => Finding[])[] = [
  clashFaults, selfClashFaults, openingFaults, sleeveFaults, voidFaults, bendFaults, straightFaults, connectionFaults,
]

/** Checks that no run takes part in. */
const OF_THE_JOB: readonly ((context: CheckContext) => Finding[])[] = [
  unsoundSolids, standsInFaults, holeFaults, terminalFaults, outdoorFaults,
]

/** Every finding of the job, worst first. */
export function checkJob(assembly: Assembly, context: CheckContext = contextFor(assembly)): Finding[] {
  const findings = OF_THE_JOB.flatMap((check) => check(context))
  context.runs.forEach((_, runIndex) => {
    for (const check of OF_ONE_RUN) findings.push(...check(context, runIndex))
  })
  findings.push(...allPairFaults(context), ...sharedSpigots(context))
  return findings.sort(bySeverity)
}

/** Every finding that one run takes part in, worst first: the same ones that checkJob gives, with the same ids. */
export function checkRun(context: CheckContext, runIndex: number): Finding[] {
  const { placed } = context.runs[runIndex]
  const findings = OF_ONE_RUN.flatMap((check) => check(context, runIndex))
  findings.push(...runPairFaults(context, runIndex))
  for (const spigot of new Set([placed.from, placed.to].filter(isSpigot))) {
    const fault = sharedSpigot(context, spigot)
    if (fault !== null) findings.push(fault)
  }
  return findings.sort(bySeverity)
}
