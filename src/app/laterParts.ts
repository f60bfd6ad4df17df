/** What comes in files of its own, so that the page itself is there at once. */
import { firstPicture } from './firstPicture.ts'

export const loadView = () => import('#scene/VoidView.tsx')
export const loadAssembly = () => import('#assembly/assemble.ts')
export const loadTubes = () => import('#scene/meshSpans.ts')
export const loadVoids = () => import('./places/measureUp/voids.ts')
export const loadDemo = () => import('./demo.ts')
/** what is not wanted for the first picture waits for it */
const later = <T>(load: () => Promise<T>) => async (): Promise<T> => {
  await firstPicture
  return load()
}
export const loadBench = later(() => import('./editing/theBench.ts'))
export const loadWriting = () => import('#model/write.ts')
export const loadJobs = () => import('./screens/Jobs.tsx')
export const loadWorkStrip = later(() => import('./screens/WorkStrip.tsx'))
export const loadPointing = later(() => import('#scene/Pointing.tsx'))
export const loadInView = () => import('./places/looking/InView.tsx')
export const loadLaying = () => import('./places/thread/laying.ts')
export const loadMaking = () => import('./places/thread/FindingWork.tsx')
