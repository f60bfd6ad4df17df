/** What comes in files of its own, so that the page itself is there at once. */
export const loadView = () => import('#scene/VoidView.tsx')
export const loadAssembly = () => import('#assembly/assemble.ts')
export const loadDemo = () => import('./demo.ts')
export const loadBench = () => import('./editing/theBench.ts')
export const loadWriting = () => import('#model/write.ts')
export const loadJobs = () => import('./screens/Jobs.tsx')
export const loadWorkStrip = () => import('./screens/WorkStrip.tsx')
