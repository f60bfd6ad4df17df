/** Who may import whom, as DEVELOPERS.md draws it. A folder may always import itself, and nothing that is not listed. */
export interface FolderRule {
  /** project folders */
  readonly folders: readonly string[]
  /** packages, by name; 'node:' stands for everything built into Node.js */
  readonly packages: readonly string[]
  /** may look at the clock and roll dice */
  readonly clock?: true
}

export const LAYOUT: Readonly<Record<string, FolderRule>> = {
  model: { folders: [], packages: ['zod'] },
  geometry: { folders: [], packages: ['earcut'] },
  assembly: { folders: ['model', 'geometry'], packages: [] },
  checks: { folders: ['model', 'geometry', 'assembly'], packages: [] },
  air: { folders: ['model', 'geometry', 'assembly'], packages: [] },
  routing: { folders: ['model', 'geometry', 'assembly', 'checks'], packages: [] },
  sheets: { folders: ['model', 'geometry', 'assembly', 'checks', 'air', 'routing'], packages: ['@cantoo/pdf-lib', 'web-ifc'] },
  commands: { folders: ['model', 'geometry', 'assembly', 'checks', 'routing'], packages: [] },
  scene: { folders: ['model', 'geometry', 'assembly', 'checks', 'routing'], packages: ['react', 'three', '@react-three/fiber', '@react-three/drei'], clock: true },
  client: { folders: ['model', 'geometry', 'assembly', 'checks', 'air', 'routing', 'sheets', 'scene'], packages: ['three'] },
  app: { folders: ['model', 'geometry', 'assembly', 'checks', 'air', 'routing', 'sheets', 'commands', 'scene', 'client'], packages: ['react', 'react-dom', 'zustand', 'idb', 'web-ifc'], clock: true },
  cli: { folders: ['model', 'geometry', 'assembly', 'checks', 'air', 'routing', 'sheets', 'commands'], packages: ['node:', 'vite', 'web-ifc'], clock: true },
}

/** Most lines of one source file. */
export const LONGEST_FILE = 400

/** Files that may be longer, each with its reason, so that the list is seen to grow. */
export const LONGER: Readonly<Record<string, string>> = {}

/** Single imports beyond the table, as they are written, each with its reason. */
export const BEYOND: Readonly<Record<string, { readonly imports: readonly string[], readonly reason: string }>> = {
  'src/cli/joistway.mjs': { imports: ['tsx/esm/api'], reason: 'reads the TypeScript sources without a build' },
  'src/cli/clientTemplate.ts': { imports: ['../client/'], reason: 'builds that folder and never runs it' },
  'src/app/demo.ts': { imports: ['../../fixtures/bad/canal-house-with-faults.json?raw'], reason: 'the building that the view opens with is one of the fixtures' },
}

/** Everything that may stand at the top of the repository. */
export const TOP_LEVEL: readonly string[] = [
  'README.md', 'DEVELOPERS.md', 'package.json', 'package-lock.json', 'LICENSE', 'tsconfig.json', 'vite.config.ts', 'src', 'fixtures', 'tests', '.gitignore', '.ci',
]
