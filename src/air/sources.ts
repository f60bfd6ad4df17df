/** Where a figure comes from, and how far it has been seen: the data of this folder carries one of these beside each table. */

/**
 * 'read': in the document's own text. 'restated': in another publication that quotes it. 'from memory': not seen.
 * 'common practice': no published source. 'worked out': by the formula named.
 */
export type Mark = 'read' | 'restated' | 'from memory' | 'common practice' | 'worked out'

export interface Source {
  readonly document: string
  readonly edition?: string
  /** clause, table or equation */
  readonly at?: string
  readonly mark: Mark
}

/** 'Approved Document F volume 1, 2021, Table 1.3' with a remark when it was not read in its own text. */
export function sourceWords({ document, edition, at, mark }: Source): string {
  const name = [document, edition, at].filter((word) => word !== undefined).join(', ')
  return mark === 'read' || mark === 'worked out' ? name : `${name} (${mark})`
}
