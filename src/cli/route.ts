import { writeFileSync } from 'node:fs'
import { formatJob } from '#model/write.ts'
import { routeJob, type CannotRoute, type Routed, type RouteEnding } from '#routing/router/routeJob.ts'
import { EXIT, readJob, type Command } from './command.ts'
import { mm, table } from './table.ts'

const ENDINGS: Record<RouteEnding, string> = {
  'routed': 'every run asked for is laid, and the checks find nothing to put right',
  'partly': 'some runs are laid; no way was found for the others',
  'out-of-budget': 'stopped before all was tried: this does not say that the others cannot be laid',
  'cancelled': 'stopped on request: this does not say that the others cannot be laid',
  'nothing-to-route': 'no run needs laying',
}

const CAUSES: Record<CannotRoute['cause'], string> = {
  'ends': 'its ends are wrong, whatever its course',
  'spigot-blocked': 'proved: what stands before its spigot bars every duct of its size',
  'shut-in': 'proved: every way is barred to a duct of its size',
  'no-fitting': 'no course of its listed fittings was found; this is no proof that there is none',
  'no-way': 'no way found beside the others; this is no proof that there is none',
  'not-tried': 'the work was stopped before enough was tried',
}

function cureWords(cure: CannotRoute['cure']): string {
  if (cure === null) return 'None of the changes tried frees it.'
  switch (cure.kind) {
    case 'next-spigot': return `Tried and checked: it can be laid from spigot ${cure.spigotId} of ${cure.equipmentId}.`
    case 'move': return `Tried and checked: it can be laid with ${cure.equipmentId} moved by ${cure.byMm.map((v) => mm(v)).join(', ')} mm along x, y, z.`
    case 'smaller-type': return `Tried and checked: it can be laid as ${cure.typeId}, with spigots of that size.`
    case 'without': return `Tried and checked: it can be laid without ${cure.runIds.join(', ')}.`
  }
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
    } else call.console.out(readable(job.name, routed))
    return routed.ended === 'routed' || routed.ended === 'nothing-to-route' ? EXIT.clean : EXIT.findings
  },
}

function readable(name: string, { ended, runs, crossings, cannot, lengthMm }: Routed): string {
  const lines = [`${name}: ${ENDINGS[ended]}`]
  if (runs.length === 0) return lines[0]
  const laid = runs.filter(({ isRouted }) => isRouted)
  lines.push(`${laid.length} of ${runs.length} runs laid, ${mm(lengthMm)} mm of duct in all, ${crossings.length} places where one passes over another`, '')
  lines.push(table(['Run', 'Length mm', 'Bends', 'Openings', 'State'], runs.map((run) => [run.name, mm(run.lengthMm), String(run.bendCount), String(run.openingCount), run.isRouted ? 'laid' : 'as it was']), [1, 2, 3]))
  for (const { name: run, cause, by, largestMm, cure } of cannot) {
    const what = by.length === 0 ? '' : ` In the way: ${by.slice(0, 6).join(', ')}.`, largest = largestMm === null ? '' : ` The largest duct that passes there: ${mm(largestMm)} mm.`
    lines.push('', `${run}: ${CAUSES[cause]}.${what}${largest}`, `   ${cureWords(cure)}`)
  }
  return lines.join('\n')
}
