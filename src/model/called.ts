/** What copies are called where people read of them, on the page and on paper alike. Files that are data, and commands, keep the sign. */
import type { Problem } from '../../solver/index.ts'

/** A name: `board#2` → `board 2`. */
export const called = (id: string): string => id.replace('#', ' ')

/** The same for every name in a text. No name of an item has the sign otherwise. */
export const plain = (text: string): string => text.replace(/([^\s#])#(\d+)/g, '$1 $2')

/** The same for the copies of these problems' items alone, in a text that may speak of a project or a deck whose own name has the sign. */
export function plainIn(problems: readonly Problem[]): (text: string) => string {
  const bases = [...new Set(problems.flatMap(({ items }) => items.map((i) => i.base)))]
  const ends = (text: string, at: number): boolean =>
    bases.some((base) => text.endsWith(base, at) && !/[\p{L}\p{N}]/u.test(text.charAt(at - base.length - 1)))
  return (text) => text.replace(/#(?=\d)/g, (sign, at: number) => (ends(text, at) ? ' ' : sign))
}
