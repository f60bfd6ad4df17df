/** Numbers as they are written on site: grouped, never without their unit. */

/** '1,245 mm', '36.5 mm'; tenths only where there are any. */
export function mmText(value: number): string {
  const tenths = Math.round(value * 10) / 10
  const text = Math.abs(tenths).toLocaleString('en-GB', { maximumFractionDigits: 1 })
  return `${tenths < 0 ? '\u2212' : ''}${text} mm`
}

/** '32.5\u00b0' */
export function degText(value: number): string {
  return `${Math.round(value * 10) / 10}\u00b0`
}

/** '40 \u00d7 2 mm', any number of them */
export function sizesText(values: readonly number[]): string {
  return `${values.map((value) => mmText(value).slice(0, -3)).join(' \u00d7 ')} mm`
}

/** Long ways in metres to the centimetre, short ones in millimetres. */
export function lengthText(valueMm: number): string {
  return Math.abs(valueMm) < 10_000 ? mmText(Math.round(valueMm)) : `${(valueMm / 1_000).toFixed(2)} m`
}

/** '1 bend', '3 bends' */
export function countText(count: number, one: string, many = `${one}s`): string {
  return `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`
}
