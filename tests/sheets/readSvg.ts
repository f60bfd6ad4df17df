/** Reads an SVG back as the elements it has; throws for anything that is not well-formed XML. */
import { XMLParser, XMLValidator } from 'fast-xml-parser'

export interface SvgElement { readonly name: string, readonly text: string, readonly attributes: Readonly<Record<string, string>> }

export function readSvg(svg: string): SvgElement[] {
  const verdict = XMLValidator.validate(svg)
  if (verdict !== true) throw new Error(`readSvg: ${verdict.err.msg} in line ${verdict.err.line}`)
  const tree = new XMLParser({ preserveOrder: true, ignoreAttributes: false, attributeNamePrefix: '', trimValues: false }).parse(svg) as Node[]
  const found: SvgElement[] = []
  const walk = (nodes: readonly Node[]): void => nodes.forEach((node) => {
    const name = Object.keys(node).find((key) => key !== ':@' && key !== '#text')
    if (name === undefined) return
    const inner = node[name] as Node[]
    found.push({ name, text: inner.map((each) => each['#text'] === undefined ? '' : String(each['#text'])).join(''), attributes: (node[':@'] ?? {}) as Record<string, string> })
    walk(inner)
  })
  walk(tree)
  return found
}

type Node = Record<string, unknown>

export const pointsOf = ({ attributes }: SvgElement): [number, number][] => (attributes['points'] ?? '').split(' ').map((pair) => pair.split(',').map(Number) as [number, number])
