/** The command line: the same answers as the view, without a browser. */
import { parseArgs, type ParseArgsConfig } from 'node:util'
import { airCommand } from './air.ts'
import { checkCommand } from './check.ts'
import { plainText } from './plainText.ts'
import { fitCommand } from './fit.ts'
import { pullingCommand } from './pulling.ts'
import { routeCommand } from './route.ts'
import { schemaCommand } from './schema.ts'
import { bringInCommand } from './bringIn.ts'
import { sheetsCommand } from './sheets.ts'
import { trialCommand } from './trial.ts'
import type { Command, Console } from './command.ts'
import { EXIT } from './command.ts'

const COMMANDS: readonly Command[] = [checkCommand, fitCommand, trialCommand, routeCommand, airCommand, pullingCommand, sheetsCommand, bringInCommand, schemaCommand]

/** @param argv what follows the program's name; @returns the exit code; never throws for what a user can cause */
export async function main(argv: readonly string[], given: Console): Promise<number> {
  const console: Console = { ...given, out: (text) => { given.out(plainText(text)) }, err: (text) => { given.err(plainText(text)) } }
  const [name, ...rest] = argv
  if (name === undefined || name === 'help' || name === '--help' || name === '-h') {
    console.out(overview())
    return name === undefined ? EXIT.unusable : EXIT.clean
  }
  const command = COMMANDS.find((c) => c.name === name)
  if (command === undefined) {
    console.err(`joistway has no command '${name}'. It has: ${COMMANDS.map((c) => c.name).join(', ')}. 'joistway --help' says what each does.`)
    return EXIT.unusable
  }
  let parsed
  try {
    const options: ParseArgsConfig['options'] = { help: { type: 'boolean', short: 'h' }, json: { type: 'boolean' } }
    for (const option of command.options) options[option.name] = { type: option.value === undefined ? 'boolean' : 'string' }
    // a negative number after an option is its value, not another option
    const args = joinNegativeNumbers(rest, command)
    parsed = parseArgs({ args, options, allowPositionals: true, strict: true, tokens: true })
  } catch (error) {
    console.err(`joistway ${name}: ${callWords(error)}. 'joistway ${name} --help' lists what it takes.`)
    return EXIT.unusable
  }
  const { values, positionals, tokens } = parsed
  const asked = tokens.flatMap((token) => token.kind === 'option' ? [token.name] : [])
  const twice = asked.find((option, i) => asked.indexOf(option) !== i)
  if (twice !== undefined) {
    console.err(`joistway ${name}: --${twice} was given twice; say it once.`)
    return EXIT.unusable
  }
  const alone = command.options.filter((option) => option.isAlone === true && asked.includes(option.name))
  if (alone.length > 1) {
    console.err(`joistway ${name}: ${alone.map((option) => `--${option.name}`).join(' and ')} ask different questions; ask one at a time.`)
    return EXIT.unusable
  }
  if (values.help === true) {
    console.out(helpOf(command))
    return EXIT.clean
  }
  if (positionals.length !== (command.takesFile ? 1 : 0)) {
    console.err(command.takesFile
      ? `joistway ${name} takes one file, or - for standard input; it was given ${positionals.length}. Example: ${command.example}`
      : `joistway ${name} takes no file. Example: ${command.example}`)
    return EXIT.unusable
  }
  return command.execute({ file: positionals[0] ?? '', json: values.json === true, values, console })
}

/** What is wrong with the call, in our own words. */
function callWords(error: unknown): string {
  const { code, message } = error as { code?: string, message: string }
  const option = /'(-[^' ]*)/.exec(message)?.[1] ?? ''
  if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') return `there is no option ${option}`
  if (code === 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE') return message.includes('does not take') ? `${option} takes no value` : `${option} wants a value after it`
  return message.split('\n')[0]
}

function joinNegativeNumbers(args: readonly string[], command: Command): string[] {
  const valued = new Set(command.options.filter((o) => o.value !== undefined).map((o) => `--${o.name}`))
  const joined: string[] = []
  for (let i = 0; i < args.length; i++) {
    const next = args[i + 1]
    if (valued.has(args[i]) && next !== undefined && /^-\.?\d/.test(next)) joined.push(`${args[i]}=${args[++i]}`)
    else joined.push(args[i])
  }
  return joined
}

function overview(): string {
  const width = Math.max(...COMMANDS.map((c) => c.usage.length))
  return [
    'joistway: does every ventilation duct fit between the joists?', '',
    ...COMMANDS.map((c) => `  joistway ${c.usage.padEnd(width)}  ${c.summary}`), '',
    `Every command takes --json and --help; FILE may be - for standard input.`,
    `Exit code: ${EXIT.clean} nothing found, ${EXIT.findings} findings, ${EXIT.unusable} file or call that cannot be used.`,
  ].join('\n')
}

function helpOf(command: Command): string {
  const options = [...command.options, { name: 'json', about: 'write JSON instead of a table', value: undefined }]
  const left = (o: (typeof options)[number]) => `--${o.name}${o.value === undefined ? '' : ` ${o.value}`}`
  const width = Math.max(...options.map((o) => left(o).length))
  return [
    `joistway ${command.usage}`, '', command.about, '',
    ...options.map((o) => `  ${left(o).padEnd(width)}  ${o.about}`), '',
    `Example: ${command.example}`,
  ].join('\n')
}
