import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'

/** What axe-core has against the page as it stands: rule and place of each. */
export async function complaints(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).analyze()
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`)
}
