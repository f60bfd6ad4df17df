/** What comes in files of its own, so that the page itself is there at once. */
export const loadView = () => import('#scene/VoidView.tsx')
export const loadAssembly = () => import('#assembly/assemble.ts')
export const loadDemo = () => import('./demo.ts')
