/**
 * The client's file: one HTML page that holds the model and what shows it. It asks for nothing and sends nothing: its own rules for the
 * browser (content security policy) allow the one script and the one style sheet that it was built with, by their fingerprints, and no network.
 */
import { escaped } from '../svgOf.ts'
import { shown } from '../letters.ts'
import type { ClientModel } from './clientModel.ts'

/** What shows the model, built from src/client. */
export interface ClientTemplate {
  readonly script: string
  readonly style: string
  /** 'sha256-...', of exactly these */
  readonly scriptHash: string
  readonly styleHash: string
}

export function clientFile({ script, style, scriptHash, styleHash }: ClientTemplate, model: ClientModel): string {
  // inside a script element only these could end it or open a comment
  const data = JSON.stringify(model, (_, value: unknown) => typeof value === 'string' ? shown(value) : value).replace(/[<>&]/g, (c) => `\\u00${c.charCodeAt(0).toString(16)}`)
  const policy = `default-src 'none'; script-src '${scriptHash}'; style-src '${styleHash}'; img-src data: blob:; connect-src 'none'; base-uri 'none'; form-action 'none'`
  return [
    '<!doctype html>', '<html lang="en-GB">', '<head>', '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">', '<meta name="referrer" content="no-referrer">',
    `<title>${escaped(model.name)}</title>`, `<style>${style}</style>`, '</head>', '<body>', '<main id="shown"></main>',
    `<noscript><p>${escaped(model.name)}: this page needs JavaScript to draw the model; nothing is sent anywhere.</p></noscript>`,
    `<script type="application/json" id="model">${data}</script>`, `<script>${script}</script>`, '</body>', '</html>', '',
  ].join('\n')
}
