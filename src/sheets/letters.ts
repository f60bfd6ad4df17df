/** Letters that a printed sheet can show, and how wide they are. */

/** Widths of Helvetica in thousandths of its size, from the space to the tilde: Adobe font metrics, core 14. */
const WIDTHS = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
  1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
  333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
]
/** Bold letters are wider by up to this. */
const BOLD = 1.12
/** No letter beyond those is taken for wider. */
const OTHER = 1000

/** No less than what the text takes up, mm. */
export function textWidthMm(text: string, sizeMm: number, isBold = false): number {
  let sum = 0
  for (const letter of text) {
    const code = letter.codePointAt(0)!
    sum += code >= 32 && code < 127 ? WIDTHS[code - 32] : code < 0x250 ? 834 : OTHER
  }
  return sum * sizeMm / 1000 * (isBold ? BOLD : 1)
}

/** The text, or as much of it as there is room for, with three dots. */
export function fitted(text: string, sizeMm: number, roomMm: number, isBold = false): string {
  if (textWidthMm(text, sizeMm, isBold) <= roomMm) return text
  const letters = [...text]
  while (letters.length > 1 && textWidthMm(`${letters.join('')}...`, sizeMm, isBold) > roomMm) letters.pop()
  return `${letters.join('').trimEnd()}...`
}

/** Broken between words into lines no wider than the room; a word too long for a line is broken where it must be. */
export function wrapped(text: string, sizeMm: number, roomMm: number): string[] {
  const lines: string[] = []
  for (const paragraph of text.split(/\r?\n/)) {
    let line = ''
    for (const word of paragraph.split(/\s+/).filter((each) => each !== '').flatMap((each) => pieces(each, sizeMm, roomMm))) {
      const longer = line === '' ? word : `${line} ${word}`
      if (textWidthMm(longer, sizeMm) <= roomMm) line = longer
      else {
        lines.push(line)
        line = word
      }
    }
    lines.push(line)
  }
  return lines
}

function pieces(word: string, sizeMm: number, roomMm: number): string[] {
  const found: string[] = []
  let piece = ''
  for (const letter of word) {
    if (piece !== '' && textWidthMm(piece + letter, sizeMm) > roomMm) {
      found.push(piece)
      piece = ''
    }
    piece += letter
  }
  return [...found, piece]
}

/** What may never reach a file: control characters, marks that turn the writing round, characters without width, halves of pairs. Each becomes a space. */
const NOT_SHOWN = /[\u0000-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g
export const shown = (text: string): string => text.replace(NOT_SHOWN, ' ')

/** Letters of code page 1252 beyond Latin-1, which the fonts that every PDF reader has can show (ISO 32000-1, annex D). */
const BEYOND_LATIN_1 = '\u20ac\u201a\u0192\u201e\u2026\u2020\u2021\u02c6\u2030\u0160\u2039\u0152\u017d\u2018\u2019\u201c\u201d\u2022\u2013\u2014\u02dc\u2122\u0161\u203a\u0153\u017e\u0178'
const ALIKE: Readonly<Record<string, string>> = { '\u0142': 'l', '\u0141': 'L', '\u0111': 'd', '\u0110': 'D', '\u0131': 'i', '\u2212': '-', '\u2192': '->', '\u2300': '\u00d8', '\u2264': '<=', '\u2265': '>=' }

/** Text that those fonts can show: a letter they lack loses its accent, and becomes a question mark where that does not help. */
export function printable(text: string): string {
  let out = ''
  for (const letter of shown(text).normalize('NFC')) {
    if (isPrintable(letter)) out += letter
    else out += ALIKE[letter] ?? ([...letter.normalize('NFD')].filter(isPrintable).join('') || '?')
  }
  return out
}

function isPrintable(letter: string): boolean {
  const code = letter.codePointAt(0)!
  return code >= 32 && code < 127 || code >= 160 && code < 256 || BEYOND_LATIN_1.includes(letter)
}
