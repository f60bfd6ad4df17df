/** Names of files from names in a job: nothing in them can leave the folder, hide, or be a name that a system keeps for itself. */

/** Names that Windows keeps for devices, with any ending. */
const KEPT = /^(?:con|prn|aux|nul|com\d|lpt\d)$/i
const LONGEST = 60

/** Letters a to z, digits and hyphens only; never empty. @param ending such as 'pdf', given by the program */
export function fileName(name: string, ending: string): string {
  const plain = name.normalize('NFKD').replace(/[\u0300-\u036f]/g, '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, LONGEST).replace(/-+$/, '')
  return `${plain === '' || KEPT.test(plain) ? `job${plain === '' ? '' : `-${plain}`}` : plain}.${ending}`
}

/** The same file name never twice, whatever the case: later ones are numbered. */
export function distinct<T extends { readonly name: string }>(files: readonly T[]): T[] {
  const taken = new Set<string>()
  return files.map((file) => {
    const dot = file.name.lastIndexOf('.')
    let name = file.name
    for (let n = 2; taken.has(name.toLowerCase()); n++) name = `${file.name.slice(0, dot)}-${n}${file.name.slice(dot)}`
    taken.add(name.toLowerCase())
    return { ...file, name }
  })
}
