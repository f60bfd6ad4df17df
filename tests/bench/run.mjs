/**
 * `npm run bench`: makes one file of the benches first, as the product is shipped. Run module by module, every use of an imported
 * number looks it up in its module, and the kernels would seem up to three times slower than anybody finds them.
 */
import { spawnSync } from 'node:child_process'
import { rmSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build } from 'vite'

const folder = fileURLToPath(new URL('./', import.meta.url))
// beside the sources, because they look for fixtures and results from where they lie
const file = `bundled-${process.pid}.mjs`
try {
  await build({
    configFile: false, root: folder, logLevel: 'error',
    build: { ssr: 'index.ts', target: 'node20', outDir: folder, emptyOutDir: false, minify: false, rollupOptions: { output: { entryFileNames: file } } },
  })
  process.exitCode = spawnSync(process.execPath, ['--expose-gc', file, ...process.argv.slice(2)], { cwd: folder, stdio: 'inherit' }).status ?? 1
} finally {
  rmSync(new URL(file, import.meta.url), { force: true })
}
