/** Words that keep to their room: broken into lines, or cut short with an ellipsis that shows it. */
import type { Press } from './pdf-press.ts'

/** Lines no wider than `width` mm; a word wider than that is broken. At least one line, and no more than `most`. */
export function wrapTo(press: Press, text: string, size: number, width: number, most = 200): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of press.clean(text).split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`
    if (press.width(longer, size) <= width) {
      line = longer
      continue
    }
    if (line !== '') lines.push(line)
    let rest = [...word]
    while (rest.length > 1 && press.width(rest.join(''), size) > width) {
      const fits = howMany(press, rest, size, width)
      lines.push(rest.slice(0, fits).join(''))
      rest = rest.slice(fits)
      if (lines.length > most) break
    }
    line = rest.join('')
    if (lines.length > most) break
  }
  lines.push(line)
  if (lines.length <= most) return lines
  return [...lines.slice(0, most - 1), shorten(press, `${lines[most - 1]}…`, size, width, true)]
}

/** The text, or as much of its beginning as fits with an ellipsis. */
export function shorten(press: Press, text: string, size: number, width: number, short = false): string {
  const all = [...press.clean(text)]
  if (press.width(all.join(''), size) <= width) return all.join('')
  const room = width - press.width('…', size)
  const kept = all.slice(0, short ? -1 : all.length)
  return `${kept
    .slice(0, howMany(press, kept, size, room))
    .join('')
    .trimEnd()}…`
}

/** How many letters fit, one at least; by halving, so that a text of a megabyte is no trouble. */
function howMany(press: Press, letters: readonly string[], size: number, width: number): number {
  // No letter is narrower than a fifth of the font's height, so more than this many are never looked at.
  let [low, high] = [1, Math.min(letters.length, Math.max(1, Math.ceil((width / size) * 5)))]
  while (low < high) {
    const middle = Math.ceil((low + high) / 2)
    if (press.width(letters.slice(0, middle).join(''), size) <= width) low = middle
    else high = middle - 1
  }
  return low
}
