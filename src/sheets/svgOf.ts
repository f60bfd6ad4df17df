/** A sheet as SVG at true size. Nothing in it can run or fetch: shapes and escaped text only. */
import { shown } from './letters.ts'
import { INKS, type Ink, type Mark, type Point, type Sheet } from './page.ts'

export function svgOf({ title, widthMm, heightMm, marks }: Sheet): string {
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${num(widthMm)}mm" height="${num(heightMm)}mm" viewBox="0 0 ${num(widthMm)} ${num(heightMm)}" font-family="Helvetica, Arial, sans-serif">`,
    `<title>${escaped(title)}</title>`,
    `<rect width="${num(widthMm)}" height="${num(heightMm)}" fill="#fff"/>`,
    ...marks.map(markOf), '</svg>', '',
  ].join('\n')
}

function markOf(mark: Mark): string {
  switch (mark.kind) {
    case 'line':
      return `<polyline points="${pointsOf(mark.points)}" fill="none" stroke="${colour(mark.ink)}" stroke-width="${num(mark.widthMm)}"${mark.isRound === true ? ' stroke-linejoin="round"' : ''}${mark.dashMm === undefined ? '' : ` stroke-dasharray="${mark.dashMm.map(num).join(' ')}"`}/>`
    case 'area': {
      const stroke = (mark.widthMm ?? 0) > 0 ? ` stroke="${colour(mark.ink ?? 'black')}" stroke-width="${num(mark.widthMm!)}"` : ''
      return `<polygon points="${pointsOf(mark.points)}" fill="${colour(mark.fill)}"${stroke}/>`
    }
    case 'ellipse': {
      const [x, y] = mark.at
      const turn = mark.turnDeg === 0 ? '' : ` transform="rotate(${num(-mark.turnDeg)} ${num(x)} ${num(y)})"`
      return `<ellipse cx="${num(x)}" cy="${num(y)}" rx="${num(mark.halfMm[0])}" ry="${num(mark.halfMm[1])}"${turn} fill="${mark.fill === undefined ? 'none' : colour(mark.fill)}" stroke="${colour(mark.ink)}" stroke-width="${num(mark.widthMm)}"/>`
    }
    case 'text': {
      const [x, y] = mark.at
      const turn = (mark.turnDeg ?? 0) === 0 ? '' : ` transform="rotate(${num(-mark.turnDeg!)} ${num(x)} ${num(y)})"`
      return `<text x="${num(x)}" y="${num(y)}" font-size="${num(mark.sizeMm)}"${mark.align === 'start' ? '' : ` text-anchor="${mark.align}"`}${mark.isBold === true ? ' font-weight="bold"' : ''}${turn} fill="${colour(mark.ink ?? 'black')}">${escaped(mark.text)}</text>`
    }
  }
}

/** For text and quoted attributes of XML and HTML. */
export function escaped(text: string): string {
  return shown(text).replace(/[&<>"']/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', '\'': '&#39;' })[c]!)
}

const pointsOf = (points: readonly Point[]): string => points.map(([x, y]) => `${num(x)},${num(y)}`).join(' ')
const colour = (ink: Ink): string => `#${INKS[ink].map((value) => Math.round(value * 255).toString(16).padStart(2, '0')).join('')}`
/** to a ten-thousandth of a millimetre of paper */
const num = (value: number): string => String(Math.round(value * 1e4) / 1e4)
