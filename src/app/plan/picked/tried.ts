import type { Command } from '#commands/index.ts'
import { bench } from '../../editing/theBench.ts'

/** Carries a command out for a field. @returns why it was refused, for the field to show */
export function tried(command: Command, held = false): string | undefined {
  const done = bench.perform(command, { held })
  return done.ok ? undefined : done.why
}
