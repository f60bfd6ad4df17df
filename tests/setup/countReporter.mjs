/** Leaves the numbers of passed, failed and skipped tests in a file, for run.mjs to print after everything else. */
import { writeFileSync } from 'node:fs'

export default class CountReporter {
  /**
   * @param {readonly import('vitest/node').TestModule[]} modules
   * @param {readonly unknown[]} unhandledErrors
   */
  onTestRunEnd(modules, unhandledErrors) {
    const file = process.env['JOISTWAY_COUNTS']
    if (file === undefined) return
    const counts = { passed: 0, failed: unhandledErrors.length, skipped: 0 }
    for (const module of modules) {
      let failedHere = 0
      for (const test of module.children.allTests()) {
        const { state } = test.result()
        if (state === 'passed') counts.passed++
        else if (state === 'skipped') counts.skipped++
        else failedHere++
      }
      // a file that could not be loaded, or whose set-up failed, has no failed test to show for it
      counts.failed += failedHere > 0 ? failedHere : module.state() === 'failed' ? 1 : 0
    }
    writeFileSync(file, JSON.stringify(counts))
  }
}
