/**
 * A JSON reader (RFC 8259) that says where the text is wrong and refuses what the built-in one lets pass: a key given
 * twice in one object, nesting without end, text without end. Linear in the text; no recursion deeper than DEEPEST.
 */
import { type Path, type Problems, quoted } from './problem.ts'

/** Longest text read, characters. */
export const LONGEST_TEXT = 64 * 1024 * 1024
/** Deepest nesting read; a job needs nine. */
export const DEEPEST = 32
/** Most values (numbers, texts, lists, objects) in one file. */
export const MOST_VALUES = 3_000_000

/** thrown and caught in this file only */
class Stop {
  readonly code: 'not-json' | 'too-deep' | 'too-large'
  readonly at: number
  readonly found: string
  readonly allowed: string
  constructor(code: 'not-json' | 'too-deep' | 'too-large', at: number, found: string, allowed: string) {
    this.code = code
    this.at = at
    this.found = found
    this.allowed = allowed
  }
}

const NUMBER = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y

/**
 * The value that the text stands for, or undefined with the reason added to `problems`. A repeated key is added too,
 * but does not stop the reading (the last one counts, so that the rest can still be judged).
 */
export function readJsonText(text: string, problems: Problems): { value: unknown } | undefined {
  if (text.length > LONGEST_TEXT) {
    problems.add([], 'too-large', `${text.length} characters`, `at most ${LONGEST_TEXT}`)
    return undefined
  }
  const start = text.charCodeAt(0) === 0xfeff ? 1 : 0
  if (text.slice(start).trim() === '') {
    problems.add([], 'not-json', 'an empty file', 'a job in JSON')
    return undefined
  }
  try {
    return { value: new Reader(text, start, problems).whole() }
  } catch (stop) {
    if (!(stop instanceof Stop)) throw stop
    const { line, column } = lineAndColumn(text, stop.at)
    problems.add([], stop.code, `${stop.found} at line ${line}, column ${column}`, stop.allowed)
    return undefined
  }
}

/** Both counted from 1; lines end with \n, \r\n or \r. */
function lineAndColumn(text: string, at: number): { line: number, column: number } {
  let line = 1
  let lineStart = 0
  for (let i = 0; i < at; i++) {
    const c = text.charCodeAt(i)
    if (c === 10 || (c === 13 && text.charCodeAt(i + 1) !== 10)) {
      line++
      lineStart = i + 1
    }
  }
  return { line, column: at - lineStart + 1 }
}

class Reader {
  readonly #text: string
  readonly #problems: Problems
  readonly #path: (string | number)[] = []
  #at: number
  #values = 0

  constructor(text: string, start: number, problems: Problems) {
    this.#text = text
    this.#at = start
    this.#problems = problems
  }

  whole(): unknown {
    const value = this.#value()
    if (this.#next() !== -1) throw this.#stop('nothing more')
    return value
  }

  /** the next character's code after white space, or -1 at the end; does not step over it */
  #next(): number {
    const text = this.#text
    for (; this.#at < text.length; this.#at++) {
      const c = text.charCodeAt(this.#at)
      if (c !== 32 && c !== 10 && c !== 13 && c !== 9) return c
    }
    return -1
  }

  #stop(allowed: string, at = this.#at): Stop {
    const found = at >= this.#text.length ? 'the end of the file' : quoted(String.fromCodePoint(this.#text.codePointAt(at)!), 2)
    return new Stop('not-json', at, found, allowed)
  }

  #value(): unknown {
    if (++this.#values > MOST_VALUES) throw new Stop('too-large', this.#at, `more than ${MOST_VALUES} values`, `at most ${MOST_VALUES}`)
    const c = this.#next()
    if (c === 123) return this.#object()
    if (c === 91) return this.#list()
    if (c === 34) return this.#string()
    if (c === 45 || (c >= 48 && c <= 57)) return this.#number()
    const text = this.#text
    for (const [word, value] of [['true', true], ['false', false], ['null', null]] as const) {
      if (text.startsWith(word, this.#at)) {
        this.#at += word.length
        return value
      }
    }
    throw this.#stop('a value: text in double quotes, a number, true, false, null, { or [')
  }

  #number(): number {
    NUMBER.lastIndex = this.#at
    const found = NUMBER.exec(this.#text)
    if (!found) throw this.#stop('a digit', this.#at + 1)
    this.#at = NUMBER.lastIndex
    return Number(found[0])
  }

  #string(): string {
    const text = this.#text
    const start = this.#at++
    let escaped = false
    for (; ; this.#at++) {
      if (this.#at >= text.length) throw this.#stop('a closing "')
      const c = text.charCodeAt(this.#at)
      if (c === 34) break
      if (c < 32) throw this.#stop('a closing ", or this character as an escape such as \\n')
      if (c === 92) {
        escaped = true
        ESCAPE.lastIndex = this.#at
        if (!ESCAPE.test(text)) throw this.#stop('one of \\" \\\\ \\/ \\b \\f \\n \\r \\t, or \\u and four hexadecimal digits', this.#at + 1)
        this.#at++
      }
    }
    const end = this.#at++
    return escaped ? JSON.parse(text.slice(start, end + 1)) as string : text.slice(start + 1, end)
  }

  #deeper(step: string | number): void {
    this.#path.push(step)
    if (this.#path.length > DEEPEST) throw new Stop('too-deep', this.#at, `nesting more than ${DEEPEST} deep`, `at most ${DEEPEST} deep`)
  }

  #list(): unknown[] {
    this.#at++
    const list: unknown[] = []
    if (this.#next() === 93) {
      this.#at++
      return list
    }
    for (; ;) {
      this.#deeper(list.length)
      list.push(this.#value())
      this.#path.pop()
      const c = this.#next()
      if (c !== 44 && c !== 93) throw this.#stop('a comma or ]')
      this.#at++
      if (c === 93) return list
    }
  }

  #object(): Record<string, unknown> {
    this.#at++
    const object: Record<string, unknown> = {}
    if (this.#next() === 125) {
      this.#at++
      return object
    }
    for (let first = true; ; first = false) {
      if (this.#next() !== 34) throw this.#stop(first ? 'a key in double quotes, or }' : 'a key in double quotes')
      const key = this.#string()
      if (this.#next() !== 58) throw this.#stop('a colon')
      this.#at++
      this.#deeper(key)
      if (Object.hasOwn(object, key)) this.#problems.add(this.#path as Path, 'repeated-key', 'this key a second time in one object', 'each key once')
      const value = this.#value()
      // a plain assignment would set the prototype
      if (key === '__proto__') Object.defineProperty(object, key, { value, enumerable: true, configurable: true, writable: true })
      else object[key] = value
      this.#path.pop()
      const c = this.#next()
      if (c !== 44 && c !== 125) throw this.#stop('a comma or }')
      this.#at++
      if (c === 125) return object
    }
  }
}
