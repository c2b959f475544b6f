/** The one font of the printed pages, in the bundle, so that ⌀ and Ω come out alike in the browser and in Node. */
import data from './font/deckwright-sans.ttf?inline'

/** The font file's bytes (TrueType; licence in font/LICENCE.txt). */
export function fontBytes(): Uint8Array {
  const text = atob(data.slice(data.indexOf(',') + 1))
  return Uint8Array.from(text, (c) => c.charCodeAt(0))
}

/** What stands for a character that the font lacks: a box that can be seen. */
export const MISSING = '□'

/** Text that can be printed: composed, white space as spaces, every character the font lacks a visible box. */
export function printable(text: string, has: ReadonlySet<number>): string {
  let out = ''
  for (const c of text.normalize('NFC')) {
    const code = c.codePointAt(0)!
    out += has.has(code) ? c : /\s/u.test(c) ? ' ' : MISSING
  }
  return out
}
