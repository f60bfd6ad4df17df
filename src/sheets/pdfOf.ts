/** Sheets as one PDF at true size, a page each; vectors and the fonts that every reader has. */
import {
  PDFDocument, PDFHexString, StandardFonts, appendBezierCurve, beginText, closePath, endText, fill, fillAndStroke, lineTo, moveTo, popGraphicsState, pushGraphicsState,
  setDashPattern, setFillingRgbColor, setFontAndSize, setLineJoin, setLineWidth, setStrokingRgbColor, setTextMatrix, showText, stroke,
  type PDFFont, type PDFOperator, type PDFPage,
} from '@cantoo/pdf-lib'
import { printable } from './letters.ts'
import { INKS, type Ink, type Mark, type Point, type Sheet } from './page.ts'

const POINTS_PER_MM = 72 / 25.4

export async function pdfOf(title: string, sheets: readonly Sheet[]): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false })
  document.setTitle(printable(title))
  document.setProducer('Joistway')
  const fonts = { plain: await document.embedFont(StandardFonts.Helvetica), bold: await document.embedFont(StandardFonts.HelveticaBold) }
  for (const sheet of sheets) {
    const page = document.addPage([sheet.widthMm * POINTS_PER_MM, sheet.heightMm * POINTS_PER_MM])
    const keys = { plain: page.node.newFontDictionary('F', fonts.plain.ref), bold: page.node.newFontDictionary('F', fonts.bold.ref) }
    draw(page, sheet, fonts, keys)
  }
  return document.save({ useObjectStreams: true })
}

type Fonts = Readonly<Record<'plain' | 'bold', PDFFont>>

function draw(page: PDFPage, { heightMm, marks }: Sheet, fonts: Fonts, keys: Readonly<Record<'plain' | 'bold', Parameters<typeof setFontAndSize>[0]>>): void {
  const x = (mm: number): number => mm * POINTS_PER_MM, y = (mm: number): number => (heightMm - mm) * POINTS_PER_MM
  const path = (points: readonly Point[]): PDFOperator[] => points.map(([px, py], i) => i === 0 ? moveTo(x(px), y(py)) : lineTo(x(px), y(py)))
  const pen = (widthMm: number, ink: Ink, dashMm: readonly number[] = []): PDFOperator[] => [setLineWidth(widthMm * POINTS_PER_MM), setStrokingRgbColor(...INKS[ink]), setDashPattern(dashMm.map((mm) => mm * POINTS_PER_MM), 0)]
  const put = (mark: Mark): PDFOperator[] => {
    switch (mark.kind) {
      case 'line': return mark.points.length < 2 ? [] : [...pen(mark.widthMm, mark.ink, mark.dashMm), setLineJoin(mark.isRound === true ? 1 : 0), ...path(mark.points), stroke()]
      case 'area': return [...pen(mark.widthMm ?? 0, mark.ink ?? 'black'), setFillingRgbColor(...INKS[mark.fill]), ...path(mark.points), closePath(), (mark.widthMm ?? 0) > 0 ? fillAndStroke() : fill()]
      case 'ellipse': return [
        ...pen(mark.widthMm, mark.ink), ...mark.fill === undefined ? [] : [setFillingRgbColor(...INKS[mark.fill])],
        ...ellipse(x(mark.at[0]), y(mark.at[1]), x(mark.halfMm[0]), x(mark.halfMm[1]), mark.turnDeg * Math.PI / 180), closePath(), mark.fill === undefined ? stroke() : fillAndStroke(),
      ]
      case 'text': {
        const weight = mark.isBold === true ? 'bold' : 'plain', words = printable(mark.text), size = mark.sizeMm * POINTS_PER_MM
        const back = mark.align === 'start' ? 0 : fonts[weight].widthOfTextAtSize(words, size) * (mark.align === 'middle' ? 0.5 : 1)
        const turn = (mark.turnDeg ?? 0) * Math.PI / 180, c = Math.cos(turn), s = Math.sin(turn)
        return [
          beginText(), setFillingRgbColor(...INKS[mark.ink ?? 'black']), setFontAndSize(keys[weight], size),
          setTextMatrix(c, s, -s, c, x(mark.at[0]) - back * c, y(mark.at[1]) - back * s), showText(fonts[weight].encodeText(words) satisfies PDFHexString), endText(),
        ]
      }
    }
  }
  page.pushOperators(pushGraphicsState())
  // mark by mark: a plan of a whole estate is too much for one call
  for (const mark of marks) page.pushOperators(...put(mark))
  page.pushOperators(popGraphicsState())
}

/** Four cubic curves; off the true circle by less than 0.03 % of its radius. */
const KAPPA = 4 / 3 * (Math.SQRT2 - 1)

function ellipse(x: number, y: number, a: number, b: number, turn: number): PDFOperator[] {
  const c = Math.cos(turn), s = Math.sin(turn)
  const at = (u: number, v: number): [number, number] => [x + c * u * a - s * v * b, y + s * u * a + c * v * b]
  const curve = (u0: number, v0: number, u1: number, v1: number, u2: number, v2: number): PDFOperator => appendBezierCurve(...at(u0, v0), ...at(u1, v1), ...at(u2, v2))
  return [
    moveTo(...at(1, 0)), curve(1, KAPPA, KAPPA, 1, 0, 1), curve(-KAPPA, 1, -1, KAPPA, -1, 0), curve(-1, -KAPPA, -KAPPA, -1, 0, -1), curve(KAPPA, -1, 1, -KAPPA, 1, 0),
  ]
}
