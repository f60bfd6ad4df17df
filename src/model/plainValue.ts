/** Whether a value is a plain tree that can be judged at all: not endless, not too big, no keys that reach a prototype. */
import { DEEPEST, MOST_VALUES } from './jsonText.ts'
import type { Problems } from './problem.ts'

/** Keys that could reach an object's prototype; no job uses them. */
export const FORBIDDEN_KEYS: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype'])

/**
 * False when the value is too deep or too big to go on with (a value that contains itself is endlessly deep). Forbidden
 * keys are added to the problems, and the walk goes on.
 */
export function isPlainTree(root: unknown, problems: Problems): boolean {
  const path: (string | number)[] = []
  let values = 0
  const walk = (value: unknown): boolean => {
    if (++values > MOST_VALUES) {
      problems.add([], 'too-large', `more than ${MOST_VALUES} values`, `at most ${MOST_VALUES}`)
      return false
    }
    if (typeof value !== 'object' || value === null) return true
    if (path.length >= DEEPEST) {
      problems.add([], 'too-deep', `nesting more than ${DEEPEST} deep`, `at most ${DEEPEST} deep`)
      return false
    }
    if (Array.isArray(value)) {
      for (let i = 0; i < value.length; i++) {
        path.push(i)
        if (!walk(value[i])) return false
        path.pop()
      }
      return true
    }
    for (const key of Object.keys(value)) {
      path.push(key)
      if (FORBIDDEN_KEYS.has(key)) problems.add(path, 'forbidden-key', 'a key that may not be used', 'remove it')
      else if (!walk((value as Record<string, unknown>)[key])) return false
      path.pop()
    }
    return true
  }
  return walk(root)
}
