/** Reads a PDF back: page sizes, words with their places, and every straight stroke, in mm from the page's lower left corner. */
import { OPS, getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

export interface ReadPage {
  readonly widthMm: number
  readonly heightMm: number
  readonly texts: readonly { readonly text: string, readonly x: number, readonly y: number }[]
  /** x0, y0, x1, y1 */
  readonly strokes: readonly (readonly [number, number, number, number])[]
}

const MM = 25.4 / 72

export async function readPdf(bytes: Uint8Array): Promise<{ pages: ReadPage[], title: string }> {
  const document = await getDocument({ data: new Uint8Array(bytes), useSystemFonts: true, verbosity: 0 }).promise
  const pages: ReadPage[] = []
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number)
    const [x0, y0, x1, y1] = page.view
    const { items } = await page.getTextContent()
    const texts = items.flatMap((item) => 'str' in item && item.str.trim() !== '' ? [{ text: item.str, x: item.transform[4] * MM, y: item.transform[5] * MM }] : [])
    const list = await page.getOperatorList()
    const strokes: [number, number, number, number][] = []
    list.fnArray.forEach((fn, i) => {
      if (fn !== OPS.constructPath) return
      const [ops, numbers] = list.argsArray[i] as [number[], number[]]
      let at = 0, x = 0, y = 0
      for (const op of ops) {
        if (op === OPS.moveTo || op === OPS.lineTo) {
          const [nx, ny] = [numbers[at++] * MM, numbers[at++] * MM]
          if (op === OPS.lineTo) strokes.push([x, y, nx, ny])
          x = nx
          y = ny
        } else if (op === OPS.curveTo) {
          at += 6
          x = numbers[at - 2] * MM
          y = numbers[at - 1] * MM
        }
      }
    })
    pages.push({ widthMm: (x1 - x0) * MM, heightMm: (y1 - y0) * MM, texts, strokes })
  }
  const { info } = await document.getMetadata()
  return { pages, title: String((info as { Title?: string }).Title ?? '') }
}

export const strokeMm = ([x0, y0, x1, y1]: readonly [number, number, number, number]): number => Math.hypot(x1 - x0, y1 - y0)
