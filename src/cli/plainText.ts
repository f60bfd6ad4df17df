/** What a terminal may be shown: no control characters but line ends and tabs, none that turn the writing round, none without width. */

// C0 but tab and line feed, DEL and C1; marks of direction and embedding; zero-width characters; line and paragraph separators
const NOT_SHOWN = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/g

/** Each such character as its code, '\u{1b}', so that nothing that stands in a file can move the cursor or hide what is written. */
export function plainText(text: string): string {
  return text.replace(/\r\n/g, '\n').replace(NOT_SHOWN, (c) => `\\u{${c.codePointAt(0)!.toString(16)}}`)
}
