/** What copies are called where people read of them, on the page and on paper alike. Files that are data, and commands, keep the sign. */
import type { Item, Problem } from '../../solver/index.ts'
import { baseOf } from './variants.ts'

/** A name: `board#2` → `board 2`. */
export const called = (id: string): string => id.replace('#', ' ')

/** The same in a text, for copies of these problems' items alone (those that are omitted too where a place names them): it may speak of a project or a deck whose own name has the sign. */
export function plainIn(problems: readonly Problem[]): (text: string) => string {
  const named = (i: Item) => [i.base, ...i.place.flatMap((p) => ('item' in p ? [baseOf(p.item.name)] : []))]
  const bases = [...new Set(problems.flatMap(({ items }) => items.flatMap(named)))]
  const ends = (text: string, at: number): boolean =>
    bases.some((base) => text.endsWith(base, at) && !/[\p{L}\p{N}]/u.test(text.charAt(at - base.length - 1)))
  return (text) => text.replace(/#(?=\d)/g, (sign, at: number) => (ends(text, at) ? ' ' : sign))
}
