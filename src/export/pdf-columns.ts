/** How wide a table's columns are: by their shares, but each as wide as its head's words and the figures in it, which must not be broken. */
import type { Press } from './pdf-press.ts'

export interface Column {
  readonly head: string
  /** Part of the width, in shares. */
  readonly share: number
}

/** A figure, with a sign, a bracket or one letter at it: `126.095`, `−5,5`, `w12`, `M3`. A longer one is a name and may be broken. */
const FIGURE = /^(?=.*\d)[^\p{L}]*\p{L}?[^\p{L}]*$/u
const LONGEST = 16
/** mm: what rounding may take from a width. */
const HAIR = 0.001

/**
 * Widths in mm of the columns, `room` in all. What heads and figures and their `beside` take over a column's share the others give by
 * theirs; where there is not room for all of them, the shares hold.
 */
export function columnWidths(
  press: Press,
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  { room, size, beside }: { readonly room: number; readonly size: number; readonly beside: number },
): number[] {
  const words = (text: string): string[] =>
    press
      .clean(text)
      .split(' ')
      .filter((word) => word.length <= LONGEST)
  const needs = columns.map(({ head }, i) => {
    const figures = rows.flatMap((cells) => words(cells[i] ?? '').filter((word) => FIGURE.test(word)))
    const whole = new Set([...words(head), ...figures])
    return beside + HAIR + [...whole].reduce((most, word) => Math.max(most, press.width(word, size)), 0)
  })
  const sumOf = (all: readonly Column[]): number => all.reduce((sum, c) => sum + c.share, 0)
  const fixed = new Set<number>()
  while (fixed.size < columns.length) {
    const left = [...fixed].reduce((rest, i) => rest - needs[i]!, room)
    const shares = sumOf(columns.filter((_, i) => !fixed.has(i)))
    const wide = columns.map(({ share }, i) => (fixed.has(i) ? needs[i]! : (left * share) / shares))
    const short = columns.flatMap((_, i) => (wide[i]! < needs[i]! ? [i] : []))
    if (short.length === 0) return wide
    for (const i of short) fixed.add(i)
  }
  const all = sumOf(columns)
  return columns.map(({ share }) => (room * share) / all)
}
