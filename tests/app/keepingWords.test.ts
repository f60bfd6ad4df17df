import { describe, expect, test } from 'vitest'
import { saveWords } from '#app/keepingWords.ts'
import type { KeeperState } from '#app/storage/keeperState.ts'
import { smallVoidJob } from '../scene/smallVoid.ts'

const REST: KeeperState = { jobs: [], thrownAway: null, current: null, file: null, savedJob: null, isKeeping: false, trouble: null, isElsewhere: false, notice: null, wouldLose: null }

describe('what the save button says', () => {
  const job = smallVoidJob(), changed = { ...job, name: 'Another name' }
  test('after saving to a file it says so until the job is changed, and again once the change is undone', () => {
    expect(saveWords(REST, job).words).toBe('not changed yet')
    expect(saveWords({ ...REST, savedJob: job }, job).words).toBe('saved in its file')
    expect(saveWords({ ...REST, savedJob: job }, changed).words).toBe('changed since saved')
    expect(saveWords({ ...REST, savedJob: job }, job).words).toBe('saved in its file')
  })
  test('what endangers the work is said before it', () => {
    expect(saveWords({ ...REST, savedJob: job, trouble: { kind: 'full' } }, job).words).toBe('not kept')
    expect(saveWords({ ...REST, savedJob: job, isKeeping: true }, changed).words).toBe('keeping…')
  })
})
