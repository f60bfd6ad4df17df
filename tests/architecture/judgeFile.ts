/** What one source file breaks of the layout: each fault with its line, in words. */
import { posix } from 'node:path'
import { parseSync } from 'vite'
import { BEYOND, LAYOUT, LONGER, LONGEST_FILE } from './layout.ts'

export interface Fault {
  readonly line: number
  readonly rule: string
}

interface Node {
  readonly type: string
  readonly start: number
  readonly [key: string]: unknown
}

/** @param file path from the top of the repository, with forward slashes, such as `src/model/schema.ts` */
export function judgeFile(file: string, text: string): Fault[] {
  const faults: Fault[] = []
  const lines = text.split('\n').length - (text.endsWith('\n') ? 1 : 0)
  const folder = file.split('/')[1]
  const rule = LAYOUT[folder]
  if (rule === undefined) return [{ line: 1, rule: `src/${folder} has no row in the layout` }]
  if (lines > LONGEST_FILE && LONGER[file] === undefined) faults.push({ line: LONGEST_FILE, rule: `${lines} lines, at most ${LONGEST_FILE}` })

  const add = (at: number, broken: string) => faults.push({ line: text.slice(0, at).split('\n').length, rule: broken })
  const { program, comments, errors } = parseSync(file, text)
  for (const { message } of errors) add(0, `cannot be parsed: ${message}`)

  const imported = (source: unknown, at: number) => {
    if (typeof source !== 'string') {
      add(at, 'imports what cannot be known beforehand')
      return
    }
    if (BEYOND[file]?.imports.includes(source)) return
    const target = source.split('?')[0]
    if (target.startsWith('.') || target.startsWith('#')) {
      const path = target.startsWith('#') ? `src/${target.slice(1)}` : posix.join(posix.dirname(file), target)
      const [top, other] = path.split('/')
      if (top !== 'src' || other === undefined) add(at, `imports ${source}, which is outside src`)
      else if (other !== folder && !rule.folders.includes(other)) add(at, `${folder} may not import ${other} (${source})`)
      return
    }
    if (/^[a-z]+:/.test(target) && !target.startsWith('node:')) {
      add(at, `imports from an address (${source})`)
      return
    }
    const name = target.startsWith('node:') ? 'node:' : target.split('/').slice(0, target.startsWith('@') ? 2 : 1).join('/')
    if (!rule.packages.includes(name)) add(at, `${folder} may not import the package ${name === 'node:' ? target : name}`)
  }

  for (const { type, value, start } of comments) {
    const reference = type === 'Line' && /^\/\s*<reference\b/.test(value)
    if (reference) add(start, 'uses a triple-slash reference')
  }
  walk(program as unknown as Node, (node) => {
    switch (node.type) {
      case 'ImportDeclaration':
      case 'ExportAllDeclaration':
      case 'ExportNamedDeclaration':
      case 'ImportExpression':
      case 'TSImportType': {
        const source = node['source'] as Node | null
        if (source !== null) imported(literal(source), node.start)
        break
      }
      case 'TSExternalModuleReference': imported(literal(node['expression'] as Node), node.start); break
      case 'NewExpression': {
        const called = nameOf(node['callee'] as Node)
        const args = node['arguments'] as Node[]
        if (called === 'URL' && args.length === 2 && nameOf(args[1]) === 'import.meta.url') imported(literal(args[0]), node.start)
        if (called === 'Date' && args.length === 0 && !rule.clock) add(node.start, `${folder} may not look at the clock (new Date())`)
        break
      }
      case 'CallExpression':
        // Date() without new gives the time as text
        if (nameOf(node['callee'] as Node) === 'Date' && !rule.clock) add(node.start, `${folder} may not look at the clock (Date())`)
        break
      case 'MemberExpression': {
        const name = nameOf(node)?.replace(/^(?:globalThis|window|self)\./, '')
        if (name === 'Math.random' && !rule.clock) add(node.start, `${folder} may not roll dice (Math.random)`)
        if ((name === 'Date.now' || name === 'performance.now') && !rule.clock) add(node.start, `${folder} may not look at the clock (${name})`)
        break
      }
    }
  })
  return faults.sort((a, b) => a.line - b.line)
}

function walk(node: Node, visit: (node: Node) => void): void {
  visit(node)
  for (const inner of Object.values(node)) {
    if (Array.isArray(inner)) inner.forEach(each => isNode(each) && walk(each, visit))
    else if (isNode(inner)) walk(inner, visit)
  }
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && typeof (value as Node).type === 'string'
}

/** the text of a literal, or of a template without holes; undefined for anything worked out at run time */
function literal(node: Node): string | undefined {
  if (node.type === 'Literal' && typeof node['value'] === 'string') return node['value']
  if (node.type === 'TemplateLiteral' && (node['expressions'] as unknown[]).length === 0) return (node['quasis'] as { value: { cooked: string } }[])[0].value.cooked
  return undefined
}

/** `a.b.c` and `a['b'].c` as text; undefined for anything else */
function nameOf(node: Node): string | undefined {
  if (node.type === 'Identifier') return node['name'] as string
  if (node.type === 'MetaProperty') return 'import.meta'
  if (node.type !== 'MemberExpression') return undefined
  const object = nameOf(node['object'] as Node)
  const property = node['computed'] ? literal(node['property'] as Node) : (node['property'] as { name: string }).name
  return object === undefined || property === undefined ? undefined : `${object}.${property}`
}
