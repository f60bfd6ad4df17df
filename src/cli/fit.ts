import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { openingsTable, type OpeningRow } from '#checks/openingsTable.ts'
import { straightThroughOnTheWay } from '#checks/straightThrough.ts'
import { MOST_DUCTS, fitMix } from '#geometry/fit/fitMix.ts'
import { EXIT, lengthOption, readJob, type Call, type Command } from './command.ts'
import { mm, table } from './table.ts'
import type { Assembly } from '#assembly/assembly.ts'

export const fitCommand: Command = {
  name: 'fit', usage: 'fit FILE', takesFile: true,
  options: [
    { name: 'diameter', value: 'MM', isAlone: true, about: 'only the openings that a duct of this outer diameter passes straight through, with its spare' },
    { name: 'mix', value: 'MM,MM,...', isAlone: true, about: 'only the openings that ducts of these outer diameters pass together, side by side, with the growth that all of them could still take' },
    { name: 'through', value: 'J1,J2,...', isAlone: true, about: 'the largest straight duct through these joists and those between them, and where its axis lies' },
  ],
  summary: 'every opening between webs: the largest duct it takes, and what crosses it',
  about: [
    'Lists every opening of every open-web joist: its number from the datum end, where the largest duct would sit, the largest duct straight',
    'through it, the largest of two and of three side by side, and every run that crosses it with the room left between the duct',
    'on its present axis and the nearest edge, less than 0 where it is cut into (in a bend: as if it ran straight on from there).',
    'Sizes are of the empty opening: what crosses it already is named beside it.',
  ].join('\n'),
  example: 'joistway fit fixtures/good/canal-house.json --diameter 90',
  execute(call) {
    const diameterMm = call.values.diameter === undefined ? null : lengthOption(call, 'diameter', 1, 2_000)
    if (call.values.diameter !== undefined && diameterMm === null) return EXIT.unusable
    const mixMm = call.values.mix === undefined ? null : mixOption(call)
    if (call.values.mix !== undefined && mixMm === null) return EXIT.unusable
    const job = readJob(call)
    if (job === null) return EXIT.unusable
    const assembly = assemble(job)
    if (call.values.through !== undefined) return printThrough(call, assembly, String(call.values.through))
    const all = openingsTable(contextFor(assembly))
    const wanted = mixMm ?? (diameterMm === null ? null : [diameterMm])
    const rows = wanted === null ? all.map((row) => ({ ...row, spareMm: null })) : openingsThatTake(assembly, all, wanted)
    if (call.json) call.console.out(JSON.stringify({ usable: true, job: job.name, diametersMm: wanted, openingCount: all.length, openings: rows }, null, 2))
    else call.console.out(readable(job.name, all.length, rows, wanted))
    return EXIT.clean
  },
}

interface Row extends OpeningRow {
  /** how much every duct asked for could grow together in diameter; null when none was asked for */
  readonly spareMm: number | null
}

function openingsThatTake(assembly: Assembly, rows: readonly OpeningRow[], diametersMm: readonly number[]): Row[] {
  const openingOf = new Map(assembly.joists.flatMap((joist) => joist.openings.map(({ number, opening }) => [`${joist.id}/${number}`, opening] as const)))
  return rows.flatMap((row) => {
    const opening = openingOf.get(`${row.joistId}/${row.opening}`)
    const fit = opening === undefined ? null : fitMix(opening, diametersMm)
    return fit !== null && fit.ok ? [{ ...row, spareMm: fit.spareMm }] : []
  })
}

function mixOption(call: Call): number[] | null {
  const words = String(call.values.mix).split(',')
  const diametersMm = words.map(Number)
  if (words.length <= MOST_DUCTS && diametersMm.every((mm, i) => words[i].trim() !== '' && mm >= 1 && mm <= 2_000)) return diametersMm
  call.console.err(`--mix takes up to ${MOST_DUCTS} diameters from 1 to 2000 mm with commas between, such as 90,75,75; it was given '${String(call.values.mix)}'`)
  return null
}

function readable(name: string, openingCount: number, rows: readonly Row[], wanted: readonly number[] | null): string {
  if (openingCount === 0) return `${name}: no open-web joists, so no openings between webs`
  const ducts = wanted === null ? '' : wanted.length === 1 ? `a duct of ${mm(wanted[0])} mm` : `ducts of ${wanted.map(mm).join(', ')} mm together`
  const head = wanted === null ? `${name}: ${openingCount} openings` : `${name}: ${rows.length} of ${openingCount} openings take ${ducts} straight through, were they empty`
  const spareHead = wanted === null ? [] : ['Could grow by mm']
  return [head, '', table(
    ['Joist', 'Opening', 'From datum end mm', 'Level mm', 'Largest mm', ...spareHead, 'Largest of two mm', 'of three mm', 'Crossed by (room to the nearest edge, mm)'],
    rows.map((row) => [
      row.joistName, String(row.opening), mm(row.alongMm), mm(row.levelMm), mm(row.largestMm),
      ...(wanted === null ? [] : [mm(row.spareMm)]),
      mm(row.largestOfTwoMm), mm(row.largestOfThreeMm),
      row.crossedBy.map(({ runName, crossing }) => `${runName} (${crossing.spareMm === null ? 'cut into' : mm(crossing.spareMm)})`).join(', '),
    ]), wanted === null ? [1, 2, 3, 4, 5, 6] : [1, 2, 3, 4, 5, 6, 7])].join('\n')
}

function printThrough(call: Call, assembly: Assembly, list: string): number {
  const ids = list.split(',').map((id) => id.trim()).filter((id) => id !== '')
  const joists = ids.map((id) => assembly.joists.find((joist) => joist.id === id))
  const missing = ids.find((_, i) => joists[i] === undefined)
  if (missing !== undefined) {
    call.console.err(`--through: the job has no joist '${missing}'`)
    return EXIT.unusable
  }
  const twice = ids.find((id, i) => ids.indexOf(id) !== i)
  if (twice !== undefined) {
    call.console.err(`--through: joist '${twice}' was named twice`)
    return EXIT.unusable
  }
  const fit = straightThroughOnTheWay(assembly.joists, joists.filter((joist) => joist !== undefined))
  if ('why' in fit) {
    call.console.err(`--through: ${fit.why}`)
    return EXIT.unusable
  }
  const between = fit.joists.filter(({ id }) => !ids.includes(id)).map(({ id }) => id)
  const way = fit.joists.map(({ id }) => id)
  const also = between.length === 0 ? '' : ` and ${between.join(', ')} between them`
  if (call.json) {
    const { diameterMm, openings, axis, proved } = fit
    call.console.out(JSON.stringify({ usable: true, through: way, between, diameterMm, openings, axis, proved }, null, 2))
  } else if (fit.diameterMm === 0) {
    call.console.out(`Nothing straight passes through ${ids.join(', ')}${also}${fit.proved ? '' : ' that was found; not every choice was ruled out'}.`)
  } else {
    call.console.out([
      `The largest straight duct through ${ids.join(', ')}${also} is ${mm(fit.diameterMm)} mm${fit.proved ? '' : ', or larger: not every choice was ruled out'}. Beams, other ducts, and joists that run another way were not looked at.`, '',
      table(['Joist', 'Opening', 'Axis x mm', 'Axis y mm', 'Axis z mm'],
        way.map((id, i) => [between.includes(id) ? `${id} (between)` : id, String(fit.openings[i]), mm(fit.axis[i].x), mm(fit.axis[i].y), mm(fit.axis[i].z)]), [1, 2, 3, 4]),
    ].join('\n'))
  }
  return EXIT.clean
}
