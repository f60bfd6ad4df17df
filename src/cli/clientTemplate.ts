/** Builds what shows the model in the client's file: src/client as one script and one style sheet. For the command and, through a plugin, for the view. */
import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build, type Plugin } from 'vite'
import type { ClientTemplate } from '#sheets/client/clientFile.ts'

const CLIENT = fileURLToPath(new URL('../client/', import.meta.url))

let made: Promise<ClientTemplate> | undefined

/** Once for each process: it takes some seconds. */
export const clientTemplate = (): Promise<ClientTemplate> => made ??= buildTemplate()

async function buildTemplate(): Promise<ClientTemplate> {
  const result = await build({
    configFile: false, root: CLIENT, logLevel: 'error', mode: 'production', define: { 'process.env.NODE_ENV': '"production"' },
    build: { write: false, target: 'es2022', minify: true, lib: { entry: `${CLIENT}main.ts`, formats: ['iife'], name: 'shown', fileName: () => 'shown.js' } },
  })
  const outputs = (Array.isArray(result) ? result : [result]).flatMap((each) => 'output' in each ? each.output : [])
  const chunks = outputs.flatMap((output) => output.type === 'chunk' ? [output.code] : [])
  if (chunks.length !== 1) throw new Error(`clientTemplate: the client's file takes one script, and ${chunks.length} were built`)
  // neither may stand in a script element
  const script = chunks[0].replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--').trim()
  const style = readFileSync(`${CLIENT}client.css`, 'utf8').trim()
  return { script, style, scriptHash: fingerprint(script), styleHash: fingerprint(style) }
}

const fingerprint = (text: string): string => `sha256-${createHash('sha256').update(text, 'utf8').digest('base64')}`

/** Lets the view import it: `import template from '#client/main.ts?template'`. */
export function clientTemplatePlugin(): Plugin {
  const MARK = 'main.ts?template'
  return {
    name: 'joistway-client-template',
    enforce: 'pre',
    resolveId: (source) => source.endsWith(`client/${MARK}`) ? `\0${CLIENT}${MARK}` : undefined,
    load: async (id) => id === `\0${CLIENT}${MARK}` ? `export default ${JSON.stringify(await clientTemplate())}` : undefined,
  }
}
