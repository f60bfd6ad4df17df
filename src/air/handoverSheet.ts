/** The commissioning record as a sheet in plain text, to print and to sign: what was wanted, what was read, and lines for what is not filled in yet. */
import type { Job } from '#model/index.ts'
import type { AirReport } from './index.ts'
import { FAN_WITHIN, type RoundReport } from './commissioning.ts'
import { LEVEL_NOTE, TOLERANCE_NOTE, lps, percent, ratesWords, sentenceOf, turnWords } from './wording.ts'
import { cautionWords } from './cautions.ts'

const BLANK = '________'
const LONG_BLANK = '____________________'
/** A sheet has at least this many signature lines. */
export const SIGNERS = ['Installer', 'Commissioned by', 'For the owner'] as const

export function handoverSheet(job: Job, report: AirReport): string {
  const { rates, rounds, remarks, cautions } = report
  const record = job.air?.commissioning
  const lines = [`VENTILATION: RECORD OF COMMISSIONING`, job.name, '']
  lines.push(...ratesWords(rates), '')
  lines.push(
    `Meter: ${record?.meter?.name ?? LONG_BLANK}  serial ${record?.meter?.serial ?? BLANK}  calibrated ${record?.meter?.calibrated ?? BLANK}  accuracy ${record?.meter?.accuracyPercent ?? BLANK} %`,
    `Tolerance on each terminal: ${record?.tolerancePercent === undefined ? `${BLANK} %` : `${record.tolerancePercent} %`}. ${TOLERANCE_NOTE}`, '',
  )
  if (rounds.length === 0) lines.push(...emptyRound(report), '')
  for (const round of rounds) lines.push(...roundLines(round), '')
  lines.push('Fan settings, share of full speed')
  for (const speed of ['trickle', 'normal', 'boost'] as const) {
    const fan = record?.fans.findLast((entry) => entry.speed === speed)
    lines.push(`  ${speed.padEnd(8)} supply ${fan?.supplyPercent ?? BLANK} %   extract ${fan?.extractPercent ?? BLANK} %`)
  }
  const names = new Map<string, string>(job.rooms.map((room) => [room.id, room.name]))
  lines.push('', 'Sound readings')
  for (const { room, speed, levelDbA, note } of record?.sound ?? []) lines.push(`  ${names.get(room) ?? room}: ${levelDbA} dB(A), ${speed}${note === undefined ? '' : `, ${note}`}`)
  if ((record?.sound ?? []).length === 0) lines.push(`  ${LONG_BLANK} ${BLANK} dB(A)`)
  lines.push(`  ${LEVEL_NOTE}`, '', 'Filters')
  for (const { name, fitted, cleanBy } of record?.filters ?? []) lines.push(`  ${name}: fitted ${fitted ?? BLANK}, clean or change by ${cleanBy ?? BLANK}`)
  if ((record?.filters ?? []).length === 0) lines.push(`  ${LONG_BLANK} fitted ${BLANK}, clean or change by ${BLANK} (about every six months: common practice)`)
  const open = remarks.filter(({ severity }) => severity === 'mend')
  lines.push('', 'Still to be put right', ...open.length === 0 ? ['  nothing found'] : open.map((remark) => `  ${sentenceOf(remark)}`))
  lines.push('', 'Take care', ...cautions.map((caution) => `  ${cautionWords(caution)}`))
  if (record?.note !== undefined && record.note !== '') lines.push('', 'Note', `  ${record.note}`)
  lines.push('', 'Signatures')
  const signed = record?.signatures ?? []
  const roles = [...signed.map(({ role }) => role), ...SIGNERS.filter((role) => !signed.some((entry) => entry.role === role))]
  for (const role of roles) {
    const entry = signed.find((other) => other.role === role)
    lines.push('', `  ${role.padEnd(18)} name ${entry?.name ?? LONG_BLANK}   day ${entry?.day ?? BLANK}   signed ${LONG_BLANK}`)
  }
  return lines.join('\n')
}

function emptyRound({ rates }: AirReport): string[] {
  const width = Math.max(8, ...rates.terminals.map(({ equipment }) => equipment.name.length))
  return [
    `${'Terminal'.padEnd(width)}  Air      Normal l/s  read 1    read 2    read 3    Boost l/s   read`,
    ...rates.terminals.map(({ equipment, stream, normalLps, boostLps }) =>
      `${equipment.name.padEnd(width)}  ${stream.padEnd(7)}  ${normalLps.toFixed(1).padStart(10)}  ${BLANK}  ${BLANK}  ${BLANK}  ${boostLps.toFixed(1).padStart(9)}  ${BLANK}`),
  ]
}

export function roundLines({ number, round, rows, streams, imbalanceRatio, strangers, isDone }: RoundReport): string[] {
  const names = new Map<string, string>(rows.map(({ terminal: { equipment } }) => [equipment.id, equipment.name]))
  const width = Math.max(8, ...[...names.values()].map((name) => name.length))
  const lines = [`Round ${number}${round.name === undefined ? '' : `, ${round.name}`}, ${round.speed}${round.day === undefined ? '' : `, ${round.day}`}`]
  for (const { terminal, targetLps, readLps, setting, offRatio, isWithin } of rows) {
    const verdict = readLps === null ? 'not read' : offRatio === null ? 'no target' : `${offRatio > 0 ? '+' : ''}${percent(offRatio)}${isWithin === null ? '' : isWithin ? ', within' : ', OUT'}`
    lines.push(`  ${terminal.equipment.name.padEnd(width)}  ${terminal.stream.padEnd(7)}  target ${targetLps.toFixed(1).padStart(5)}  read ${readLps === null ? '    -' : readLps.toFixed(1).padStart(5)}  ${verdict}${setting === null ? '' : `, set at ${setting}`}`)
  }
  for (const { terminal, lps: value } of strangers) lines.push(`  ${terminal}: ${lps(value)}, a terminal that the job no longer has`)
  for (const { stream, targetLps, readLps, unread, totalRatio, turns } of streams) {
    if (totalRatio === null) continue
    lines.push(`  ${stream} in all: ${lps(readLps)} of ${lps(targetLps)}${unread > 0 ? `, ${unread} not read` : ''}`)
    const next = turns.find(({ way }) => way !== 'leave')
    if (next !== undefined) lines.push(`    Next: ${turnWords(next, names.get(next.id) ?? next.id)}`)
    else if (Math.abs(totalRatio - 1) > FAN_WITHIN) lines.push(`    The shares are right: bring the ${stream} fan ${totalRatio < 1 ? 'up' : 'down'} to ${(1 / totalRatio).toFixed(2)} times its speed.`)
  }
  if (imbalanceRatio !== null) lines.push(`  Supply is ${percent(Math.abs(imbalanceRatio))} ${imbalanceRatio >= 0 ? 'above' : 'below'} extract.`)
  if (isDone) lines.push('  Every terminal is within the tolerance.')
  return lines
}
