import { assemble } from '#assembly/assemble.ts'
import { joistPlaceOf } from '#checks/joistPlace.ts'
import { SEVERITY_WORDS, joistPlaceWords, moveSentence, sentenceOf, titleOf } from '#checks/wording.ts'
import { nearestToRun } from '#checks/nearest.ts'
import { contextFor } from '#checks/context.ts'
import type { Assembly } from '#assembly/assembly.ts'
import type { Finding } from '#checks/finding.ts'
import { verdictOf, type Verdict } from '#routing/verdict.ts'
import { EXIT, readJob, type Command } from './command.ts'
import { mm, table } from './table.ts'

/** how many of the nearest solids `--json` lists for each run */
const NEAREST_COUNT = 20
/** moves are looked for only for the worst findings: where hundreds are wrong, no single move is an answer */
const MOST_MOVES = 300

export const checkCommand: Command = {
  name: 'check', usage: 'check FILE', takesFile: true, options: [],
  summary: 'everything that does not fit, with its place and the move that clears it',
  about: [
    'Checks every run of the job against every solid, every other run and the rules that the job names.',
    `Exit code ${EXIT.clean} when nothing is found (advice aside), ${EXIT.findings} when something is, ${EXIT.unusable} when the file cannot be used.`,
    `With --json: the findings, and for every run its clearance to the ${NEAREST_COUNT} nearest solids (other runs are not among them), from`,
    'surface to surface in mm, with the point of the run\'s centreline and of the solid\'s surface that it was measured between, and the ids of the file.',
  ].join('\n'),
  example: 'joistway check fixtures/good/canal-house.json',
  execute(call) {
    const job = readJob(call)
    if (job === null) return EXIT.unusable
    const assembly = assemble(job), context = contextFor(assembly)
    const verdict = verdictOf(job, assembly, context, { mostMoves: MOST_MOVES })
    if (call.json) {
      call.console.out(JSON.stringify({
        usable: true, job: job.name, counts: verdict.counts,
        findings: verdict.findings.map((finding) => ({ ...finding, title: titleOf(finding), sentence: sentenceOf(finding), onJoist: onJoistOf(assembly, finding) })),
        runs: verdict.runs.map((run, i) => ({ ...run, nearest: nearestToRun(context, i, NEAREST_COUNT) })),
      }, null, 2))
    } else {
      call.console.out(readable(job.name, verdict, assembly))
    }
    return verdict.counts.stop + verdict.counts.mend > 0 ? EXIT.findings : EXIT.clean
  },
}

/** null where no joist is near */
function onJoistOf({ joists }: Assembly, finding: Finding) {
  const on = joistPlaceOf(joists, finding)
  return on === null ? null : { joistId: on.joist.id, alongMm: on.alongMm, datumEnd: on.datumEnd, besideMm: on.besideMm, words: joistPlaceWords(on) }
}

function readable(name: string, { findings, counts, runs }: Verdict, { joists }: Assembly): string {
  const counted = (['stop', 'mend', 'advice'] as const).map((severity) => `${counts[severity]} ${SEVERITY_WORDS[severity].toLowerCase()}`)
  const lines = [`${name}: ${counted.join(', ')}`, '']
  findings.forEach((finding, i) => {
    lines.push(`${i + 1}. ${SEVERITY_WORDS[finding.severity].toUpperCase()}  ${titleOf(finding)}`, `   ${sentenceOf(finding)}`)
    const on = joistPlaceOf(joists, finding)
    if (on !== null) lines.push(`   On site: ${joistPlaceWords(on)}.`)
    const move = moveSentence(finding)
    if (move !== '') lines.push(`   ${move}`)
    lines.push('')
  })
  if (findings.length > MOST_MOVES) lines.push(`Moves were looked for only for the ${MOST_MOVES} worst.`, '')
  if (runs.length === 0) return [...lines, 'The job has no runs, so there was little to check.'].join('\n')
  lines.push(table(
    ['Run', 'Length mm', 'Bends', 'Outer mm', 'Touches at mm', 'What it would touch first', 'State'],
    runs.map((run) => [
      run.name, mm(run.lengthMm), String(run.bendCount), mm(run.outerDiameterMm), mm(run.trialDiameterMm),
      run.touchesFirst?.name ?? 'nothing near', run.state === 'clear' ? 'goes in' : SEVERITY_WORDS[run.state].toLowerCase(),
    ]), [1, 2, 3, 4]))
  return lines.join('\n')
}
