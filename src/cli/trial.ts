import { assemble } from '#assembly/assemble.ts'
import { sentenceOf, titleOf } from '#checks/wording.ts'
import { contextFor } from '#checks/context.ts'
import { touchedWhenGrown } from '#routing/grown.ts'
import { trialSize } from '#routing/trialSize.ts'
import { EXIT, lengthOption, readJob, type Command } from './command.ts'
import { mm, table } from './table.ts'

export const trialCommand: Command = {
  name: 'trial', usage: 'trial FILE', takesFile: true,
  options: [{ name: 'grow', value: 'MM', about: 'what the whole job would touch with every duct this much larger in diameter (smaller when negative)' }],
  summary: 'how much larger every duct could be before it touches anything',
  about: [
    'For each run, the trial size: the largest outer diameter that its centreline still takes, everything else staying as it is, and what',
    'it would touch first; and the size up to which the clearances that the job asks for are kept. With --grow, every duct grows at once: what the job would then touch, and what of that it touches already.',
    `Nothing in the file changes. Exit code with --grow: ${EXIT.clean} when nothing is touched, ${EXIT.findings} when something is.`,
  ].join('\n'),
  example: 'joistway trial fixtures/good/canal-house.json --grow 10',
  execute(call) {
    const growMm = call.values.grow === undefined ? null : lengthOption(call, 'grow', -2_000, 2_000)
    if (call.values.grow !== undefined && growMm === null) return EXIT.unusable
    const job = readJob(call)
    if (job === null) return EXIT.unusable
    const context = contextFor(assemble(job))
    if (growMm !== null) {
      const touched = touchedWhenGrown(context, growMm)
      if (call.json) {
        call.console.out(JSON.stringify({
          usable: true, job: job.name, growMm,
          touched: touched.map(({ finding, isThereNow }) => ({ ...finding, sentence: sentenceOf(finding), isThereNow })),
        }, null, 2))
      } else {
        const lines = [`${job.name}, every duct ${mm(Math.abs(growMm))} mm ${growMm < 0 ? 'smaller' : 'larger'} in diameter: ${touched.length === 0 ? 'nothing is touched or too close.' : `${touched.length} places`}`]
        touched.forEach(({ finding, isThereNow }, i) => {
          lines.push('', `${i + 1}. ${titleOf(finding)}${isThereNow ? ' (there already)' : ''}`, `   ${sentenceOf(finding)}`)
        })
        call.console.out(lines.join('\n'))
      }
      return touched.length === 0 ? EXIT.clean : EXIT.findings
    }
    const rows = context.runs.map(({ placed }, i) => ({ runId: placed.run.id, name: placed.run.name, outerDiameterMm: 2 * placed.outerRadiusMm, ...trialSize(context, i), keepsClear: trialSize(context, i, 'clearance') }))
      .sort((a, b) => ((a.diameterMm ?? Infinity) - a.outerDiameterMm) - ((b.diameterMm ?? Infinity) - b.outerDiameterMm))
    if (call.json) call.console.out(JSON.stringify({ usable: true, job: job.name, runs: rows }, null, 2))
    else {
      call.console.out([`${job.name}: how much larger each duct could be, least first`, '', table(
        ['Run', 'Outer mm', 'Takes up to mm', 'Growth mm', 'Keeps clearances up to mm', 'Would touch first', 'Along the run mm'],
        rows.map((row) => [
          row.name, mm(row.outerDiameterMm), row.diameterMm === null ? 'any' : mm(row.diameterMm),
          row.diameterMm === null ? '' : mm(row.diameterMm - row.outerDiameterMm), row.keepsClear.diameterMm === null ? 'any' : mm(row.keepsClear.diameterMm), row.touchesFirst?.name ?? '', row.stationMm === null ? '' : mm(row.stationMm),
        ]), [1, 2, 3, 4, 6])].join('\n'))
    }
    return EXIT.clean
  },
}
