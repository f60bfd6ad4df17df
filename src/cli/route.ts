import { writeFileSync } from 'node:fs'
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { joistPlaceOf } from '#checks/joistPlace.ts'
import { joistPlaceWords, placeWords } from '#checks/wording.ts'
import { formatJob } from '#model/write.ts'
import { routeJob, type CannotRoute, type Routed, type RouteEnding } from '#routing/router/routeJob.ts'
import { causeWords, cureCaution, cureWords, largestWords, lookedIntoWords, namesOf, shortList, stopOf } from '#routing/router/whyWords.ts'
import { EXIT, readJob, type Command } from './command.ts'
import { mm, table } from './table.ts'

const ENDINGS: Record<RouteEnding, string> = {
  'routed': 'every run asked for is laid, and the checks find nothing to put right',
  'partly': 'not every run could be laid; what stops the others is told below',
  'out-of-budget': 'stopped before all was tried; the runs that lie well are laid, and nothing is said of whether the others can be',
  'cancelled': 'stopped on request; the runs that lie well are laid, and nothing is said of whether the others can be',
  'nothing-to-route': 'no run needs laying',
}

export const routeCommand: Command = {
  name: 'route', usage: 'route FILE', takesFile: true,
  options: [
    { name: 'out', value: 'FILE', about: 'where to write the job with its runs laid' },
    { name: 'runs', value: 'IDS', about: 'lay these only, ids with commas between; "all" for every run that is not locked' },
    { name: 'keep-ports', about: 'every run stays on the manifold spigot that it has' },
  ],
  summary: 'lays the runs that do not fit yet, clear of everything',
  about: [
    'Lays every run that has something to put right (see check), the others staying where they are; locked runs are never touched.',
    'Runs may change spigots on their manifold so that they fan out, unless --keep-ports. What is called laid has passed the checks.',
    `Exit code ${EXIT.clean} when every run asked for is laid, ${EXIT.findings} when not, ${EXIT.unusable} when the file cannot be used.`,
  ].join('\n'),
  example: 'joistway route house.json --out house-laid.json',
  execute(call) {
    const job = readJob(call)
    if (job === null) return EXIT.unusable
    const asked = call.values.runs === undefined ? 'open' : call.values.runs === 'all' ? 'all' : String(call.values.runs).split(',').map((id) => id.trim()).filter((id) => id !== '')
    if (typeof asked !== 'string') {
      const unknown = asked.filter((id) => !job.runs.some((run) => run.id === id))
      if (unknown.length > 0 || asked.length === 0) {
        call.console.err(`--runs takes ids of the job's runs with commas between; ${unknown.length > 0 ? `it has no ${unknown.join(', ')}` : 'none was given'}`)
        return EXIT.unusable
      }
    }
    const routed = routeJob(job, { runs: asked, ports: call.values['keep-ports'] === true ? 'kept' : 'chosen' })
    if (call.values.out !== undefined) {
      try {
        writeFileSync(String(call.values.out), formatJob(routed.job))
      } catch {
        call.console.err(`${String(call.values.out)} cannot be written`)
        return EXIT.unusable
      }
    }
    if (call.json) {
      const { job: _, ...rest } = routed
      call.console.out(JSON.stringify({ usable: true, job: job.name, ...rest }, null, 2))
    } else call.console.out(readable(routed))
    return routed.ended === 'routed' || routed.ended === 'nothing-to-route' ? EXIT.clean : EXIT.findings
  },
}

function readable({ ended, job, runs, crossings, cannot, lengthMm }: Routed): string {
  const lines = [`${job.name}: ${ENDINGS[ended]}`]
  if (runs.length === 0) return lines[0]
  const laid = runs.filter(({ isRouted }) => isRouted)
  lines.push(`${laid.length} of ${runs.length} runs laid, ${mm(lengthMm)} mm of duct in all, ${crossings.length} places where one passes over another`, '')
  lines.push(table(['Run', 'Length mm', 'Bends', 'Openings', 'State'], runs.map((run) => [run.name, mm(run.lengthMm), String(run.bendCount), String(run.openingCount), run.isRouted ? 'laid' : 'as it was']), [1, 2, 3]))
  const assembly = cannot.length === 0 ? null : assemble(job)
  for (const why of cannot) lines.push('', ...whyLines(assembly!, why).map((line, i) => i === 0 ? line : `   ${line}`))
  return lines.join('\n')
}

function whyLines(assembly: Assembly, why: CannotRoute): string[] {
  const { job, joists } = assembly, { name, runId, by, cure, curedWith } = why, at = stopOf(why)
  const names = namesOf(assembly, by), words = cure === null ? null : cureWords(job, runId, cure, curedWith), caution = cure === null ? '' : cureCaution(cure)
  const place = at === null ? null : { x: at[0], y: at[1], z: at[2] }, on = place === null ? null : joistPlaceOf(joists, { parts: [], mark: place })
  return [
    `${name}: ${causeWords(why, job)}`,
    ...names.length === 0 ? [] : [`In the way: ${shortList(names, 6)}.`],
    ...place === null ? [] : [`Place: ${placeWords(place)} mm${on === null ? '' : `; ${joistPlaceWords(on)}`}.`],
    ...[largestWords(why, job)].filter((line) => line !== ''),
    ...words === null ? [] : [`Tried and checked: it goes in ${words}.`, ...caution === '' ? [] : [caution]],
    ...[lookedIntoWords(why)].filter((line) => line !== ''),
  ]
}
