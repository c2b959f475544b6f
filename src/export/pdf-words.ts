/** Words that keep to their room: broken into lines, or cut short with an ellipsis that shows it. */
import type { Press } from './pdf-press.ts'

/** Lines no wider than `width` mm; a word wider than that is broken. At least one line, and no more than `most`. */
export function wrapTo(press: Press, text: string, size: number, width: number, most = 200): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of press.clean(text).split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`
    if (isIn(press, longer, size, width)) {
      line = longer
      continue
    }
    if (line !== '') lines.push(line)
    let rest = word
    while (lines.length <= most && !isIn(press, rest, size, width)) {
      const fits = fitting(press, rest, size, width)
      if (fits.length === rest.length) break
      lines.push(fits)
      rest = rest.slice(fits.length)
    }
    line = rest
    if (lines.length > most) break
  }
  lines.push(line)
  if (lines.length <= most) return lines
  return [...lines.slice(0, most - 1), shortened(press, lines[most - 1]!, size, width)]
}

/** The text, or as much of its beginning as fits with an ellipsis. */
export function shorten(press: Press, text: string, size: number, width: number): string {
  const all = press.clean(text)
  return isIn(press, all, size, width) ? all : shortened(press, all, size, width)
}

const shortened = (press: Press, text: string, size: number, width: number): string =>
  `${fitting(press, text, size, width - press.width('…', size)).trimEnd()}…`

/** No letter is narrower than a fifth of the font's height, so of more than these not all can fit. */
const ceiling = (size: number, width: number): number => Math.max(1, Math.ceil((width / size) * 5))

const isIn = (press: Press, text: string, size: number, width: number): boolean =>
  text.length <= ceiling(size, width) && press.width(text, size) <= width

/** As many letters as fit, one at least; cleaned text has no letter of two code units. Found by halving. */
function fitting(press: Press, text: string, size: number, width: number): string {
  let [low, high] = [1, Math.min(text.length, ceiling(size, width))]
  while (low < high) {
    const middle = Math.ceil((low + high) / 2)
    if (press.width(text.slice(0, middle), size) <= width) low = middle
    else high = middle - 1
  }
  return text.slice(0, low)
}
