#!/usr/bin/env node
/** The `joistway` command: reads the TypeScript sources as they are, so that it works straight after `npm ci`. */
import { readFileSync } from 'node:fs'
import { register } from 'tsx/esm/api'

// a reader such as `head` that has seen enough is no fault
process.stdout.on('error', (error) => {
  if (error.code === 'EPIPE') process.exit()
  throw error
})

try {
  register()
  const { main } = await import('./main.ts')
  process.exitCode = await main(process.argv.slice(2), {
    out: text => process.stdout.write(`${text}\n`),
    err: text => process.stderr.write(`${text}\n`),
    readStandardInput: () => readFileSync(0),
  })
} catch (error) {
  process.stderr.write(`joistway stopped at a fault of its own: ${error instanceof Error ? error.message : error}\n`)
  process.exitCode = 2
}
