/** What a command says, run in this process. */
import { main } from '#cli/main.ts'

export async function said(argv: string[], standardInput = ''): Promise<{ code: number, out: string, err: string }> {
  let out = '', err = ''
  const code = await main(argv, { out: (text) => { out += `${text}\n` }, err: (text) => { err += `${text}\n` }, readStandardInput: () => standardInput })
  return { code, out, err }
}
