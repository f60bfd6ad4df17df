/** Bytes as base 64 (RFC 4648, section 4). */
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/'

export function base64(bytes: Uint8Array): string {
  const parts: string[] = []
  for (let i = 0; i < bytes.length; i += 3) {
    const a = bytes[i], b = bytes[i + 1] ?? 0, c = bytes[i + 2] ?? 0
    parts.push(LETTERS[a >> 2] + LETTERS[(a & 3) << 4 | b >> 4] + (i + 1 < bytes.length ? LETTERS[(b & 15) << 2 | c >> 6] : '=') + (i + 2 < bytes.length ? LETTERS[c & 63] : '='))
  }
  return parts.join('')
}
