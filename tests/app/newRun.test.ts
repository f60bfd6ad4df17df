import { expect, test } from 'vitest'
import { newRun } from '#app/places/thread/newRun.ts'
import { freeRun, jobOf, together } from '../checks/smallJob.ts'

const room = (id: string) => ({ rooms: [{ id, name: 'Bedroom', outline: [[0, 0], [3000, 0], [3000, 3000]] as [number, number][] }] })

test('the first run of a job has an id that no room has, though rooms were numbered R before it', () => {
  const job = jobOf(room('R1')), { id, name } = newRun(job)
  expect([...job.rooms.map((part) => part.id)]).not.toContain(id)
  expect(name).toBe('Run 1')
})

test('the next goes on in the way that the job numbers its runs', () => {
  const job = jobOf(together(room('A1'), freeRun('R7', [[0, 0, 0], [1000, 0, 0]]), freeRun('R24', [[0, 500, 0], [1000, 500, 0]])))
  expect(newRun(job)).toEqual({ id: 'R25', name: 'Run 25' })
})

test('but steps over a number that a room has taken', () => {
  const job = jobOf(together(room('R25'), freeRun('R24', [[0, 500, 0], [1000, 500, 0]])))
  expect(newRun(job).id).toBe('R26')
})
