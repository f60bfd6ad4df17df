import { airOfJob, type AirReport } from '#air/index.ts'
import { cautionWords } from '#air/cautions.ts'
import { handoverSheet, roundLines } from '#air/handoverSheet.ts'
import { BEND_SOURCES, INTO_DUCT, OUT_OF_DUCT } from '#air/losses.ts'
import type { SystemPressure } from '#air/pressure.ts'
import { sourceWords } from '#air/sources.ts'
import { FROM_WORDS, LEVEL_NOTE, SEVERITY_WORDS, fanWords, ratesWords, sentenceOf, settingWords, titleOf } from '#air/wording.ts'
import { assemble } from '#assembly/assemble.ts'
import { EXIT, readJob, type Command } from './command.ts'
import { table } from './table.ts'

export const airCommand: Command = {
  name: 'air', usage: 'air FILE', takesFile: true,
  options: [{ name: 'sheet', about: 'the record of commissioning as a sheet to print and sign' }],
  summary: 'the air: flows, pressures, fan, valve settings, and what the rooms still lack',
  about: [
    'Works out the flow of every room and terminal from the rate table that the job names, the pressure of every run from its length, bore and',
    'bends, what the fans must give, how to set the valves, and what the meter’s rounds say. What was assumed is said.',
    `Exit code ${EXIT.clean} when nothing is to be put right (advice aside), ${EXIT.findings} when something is, ${EXIT.unusable} when the file cannot be used.`,
  ].join('\n'),
  example: 'joistway air fixtures/good/canal-house.json',
  execute(call) {
    const job = readJob(call)
    if (job === null) return EXIT.unusable
    const report = airOfJob(assemble(job))
    if (call.json) call.console.out(JSON.stringify({ usable: true, job: job.name, ...asData(report) }, null, 2))
    else call.console.out(call.values.sheet === true ? handoverSheet(job, report) : readable(job.name, report))
    return report.remarks.some(({ severity }) => severity === 'mend') ? EXIT.findings : EXIT.clean
  },
}

function readable(name: string, report: AirReport): string {
  const { rates, trickle, normal, boost, valves, remarks, rounds, cautions, air, settings } = report
  const count = (severity: 'mend' | 'advice') => `${remarks.filter((remark) => remark.severity === severity).length} ${SEVERITY_WORDS[severity].toLowerCase()}`
  const lines = [`${name}: ${count('mend')}, ${count('advice')}`, '', ...ratesWords(rates)]
  lines.push(`Air at ${settings.airC} °C, ${settings.altitudeM} m above the sea: ${air.density.toFixed(3)} kg/m³. Bends: ${sourceWords(BEND_SOURCES[settings.bends])}.`,
    `Ends of ducts: ${INTO_DUCT.zeta} velocity pressures on the way in (${sourceWords(INTO_DUCT.source)}), ${OUT_OF_DUCT.zeta} on the way out (${sourceWords(OUT_OF_DUCT.source)}).`, '')
  remarks.forEach((remark, i) => lines.push(`${i + 1}. ${SEVERITY_WORDS[remark.severity].toUpperCase()}  ${titleOf(remark)}`, `   ${sentenceOf(remark)}`, ''))
  lines.push(table(
    ['Terminal', 'Room', 'Air', 'Normal l/s', 'Boost l/s', 'From'],
    rates.terminals.map(({ equipment, room, stream, normalLps, boostLps, from }) => [equipment.name, room?.name ?? '', stream, one(normalLps), one(boostLps), FROM_WORDS[from]]), [3, 4]), '')
  for (const { speed, pressures, fans } of rates.isTrickleEntered ? [trickle, normal, boost] : [normal, boost]) {
    lines.push(`Pressure, ${speed}`, ...fans.map(fanWords), '', runTable(pressures), '')
    for (const { index, system, neededPa } of pressures) {
      if (index !== null) lines.push(`Index of the ${system.stream}: ${index.name}, ${one(neededPa)} Pa, by ${index.way.map(({ placed }) => placed.run.name).join(', ')}`)
    }
    lines.push('')
  }
  lines.push('Valves, normal running', table(['Terminal', 'l/s', 'Setting'], valves.map((valve) => [valve.equipment.name, one(valve.lps), settingWords(valve)]), [1]), '')
  for (const round of rounds) lines.push(...roundLines(round), '')
  lines.push(LEVEL_NOTE, '', 'Take care', ...cautions.map((caution) => `- ${cautionWords(caution)}`))
  return lines.join('\n')
}

function runTable(pressures: readonly SystemPressure[]): string {
  return table(
    ['Run', 'Air', 'l/s', 'm/s', 'Re', 'Length m', 'Pa/m', 'Friction Pa', 'Bends', 'Bends Pa', 'Ends Pa', 'In line Pa', 'Total Pa'],
    pressures.flatMap(({ system, runs }) => runs.map(({ run, lps, velocityMps, reynolds, frictionPaPerM, frictionPa, bendsPa, endsPa, inLinePa, totalPa }) => [
      run.placed.run.name, system.stream, one(lps), velocityMps.toFixed(2), reynolds.toFixed(0), (run.way.legsM + run.way.arcsM).toFixed(2), frictionPaPerM.toFixed(3),
      one(frictionPa), String(run.way.bends.length), one(bendsPa), one(endsPa), one(inLinePa), one(totalPa),
    ])), [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])
}

function one(value: number): string {
  return value.toFixed(1)
}

/** Ids and figures in place of whole things of the job. */
function asData({ rates, air, settings, trickle, normal, boost, valves, remarks, cautions, rounds }: AirReport): object {
  const idOf = (thing: { readonly id: string } | null) => thing?.id ?? null
  const speed = ({ pressures, fans }: AirReport['normal']) => ({
    fans: fans.map(({ unit, ...fan }) => ({ unit: unit.id, ...fan })),
    systems: pressures.map(({ system, totalLps, neededPa, index, runs, terminals, imbalanceLps }) => ({
      stream: system.stream, unit: idOf(system.unit), start: system.nodes[system.root].name, totalLps, neededPa, imbalanceLps,
      index: index === null ? null : { terminal: idOf(index.equipment), way: index.way.map(({ placed }) => placed.run.id) },
      runs: runs.map(({ run, ...figures }) => ({ run: run.placed.run.id, boreMm: run.way.boreMm, roughnessMm: run.way.roughnessMm, legsM: run.way.legsM, arcsM: run.way.arcsM, ...figures })),
      terminals: terminals.map(({ equipment, way, ...figures }) => ({ terminal: idOf(equipment), way: way.map(({ placed }) => placed.run.id), ...figures })),
    })),
  })
  return {
    table: rates.table, dwelling: rates.dwelling, dwellingFrom: rates.dwellingFrom, tableLps: rates.tableLps, decidedBy: rates.decidedBy,
    wholeLps: rates.wholeLps, isWholeEntered: rates.isWholeEntered, isTrickleEntered: rates.isTrickleEntered, trickleTotals: rates.trickle, normalTotals: rates.normal, boostTotals: rates.boost, air, bends: settings.bends,
    rooms: rates.rooms.map(({ room, ...figures }) => ({ room: room.id, ...figures })),
    terminals: rates.terminals.map(({ equipment, room, ...figures }) => ({ terminal: equipment.id, room: idOf(room), ...figures })),
    trickle: speed(trickle), normal: speed(normal), boost: speed(boost),
    valves: valves.map(({ equipment, ...figures }) => ({ terminal: equipment.id, ...figures })),
    rounds: rounds.map(({ rows, ...round }) => ({ ...round, rows: rows.map(({ terminal, ...row }) => ({ terminal: terminal.equipment.id, ...row })) })),
    remarks: remarks.map((remark) => ({ ...remark, title: titleOf(remark), sentence: sentenceOf(remark) })), cautions: cautions.map((caution) => ({ ...caution, words: cautionWords(caution) })),
    levels: LEVEL_NOTE,
  }
}
