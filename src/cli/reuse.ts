/** How much of a layout is in the decks already, in lines for people. */
import { deckCalled, type Problem } from '../../solver/index.ts'
import type { NewHoles } from '../model/index.ts'

const count = (n: number, one: string, more: string): string => `${n} ${n === 1 ? one : more}`
const holes = (n: number): string => count(n, 'hole', 'holes')
const cuts = (n: number): string => count(n, 'slot or cut-out', 'slots and cut-outs')

/** `deck main: reuses 12 holes, needs 2 new`, and for slots and cut-outs likewise; no line for a deck in which nothing is made. */
export function countLines({ decks }: Problem, counts: readonly NewHoles[]): string[] {
  const name = (id: string): string => deckCalled(decks.find((d) => d.id === id) ?? { id })
  return counts.flatMap((c) => [
    ...(c.reused + c.new > 0 ? [`${name(c.deck)}: reuses ${holes(c.reused)}, needs ${c.new} new`] : []),
    ...(c.reusedCuts + c.newCuts > 0 ? [`${name(c.deck)}: reuses ${cuts(c.reusedCuts)}, needs ${c.newCuts} new`] : []),
  ])
}
