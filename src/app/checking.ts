/** What the worker loads once a job has been read. */
export { assemble } from '#assembly/assemble.ts'
export { contextFor } from '#checks/context.ts'
export { verdictOf } from '#routing/verdict.ts'
