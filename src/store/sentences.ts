/** What the page says: sentences with millimetres, and neither rule numbers nor status words. */
import type { ConflictMember, Item, ObjectiveValue, Placement, Problem, SolveResult } from '../../solver/index.ts'
import { asksPlaced } from '../../solver/words-asked.ts'
import { called, plainIn } from '../model/called.ts'
import { words } from '../words/index.ts'
import { gapOf } from './ask-words.ts'
import { sizeOf } from './moves.ts'
import { boxOf } from './outline.ts'

export { called, plainIn }

/** Micrometres as millimetres for people: at most two decimals, none where there is nothing behind the point. */
export const inMm = (um: number): string => String(Math.round(um / 10) / 100)

/** How far one goal may still be from its best. */
function shortfall(o: ObjectiveValue): string {
  const known = gapOf(o)
  return known
    ? words.solves.shortfall(o.name, String(known.told), known.told === 1)
    : words.solves.shortfallUnknown(o.name)
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

const sentence = (text: string): string => (/[.!?]$/.test(text) ? capital(text) : `${capital(text)}.`)

/** The card's one sentence about a finished solve. */
export function verdict(problem: Problem, result: SolveResult): string {
  switch (result.status) {
    case 'optimal':
      return words.solves.bestPossible
    case 'feasible': {
      const open = result.objectives.find((o) => !o.proven)
      if (!open) return words.solves.fitsAll
      const before = result.objectives.slice(0, result.objectives.indexOf(open))
      // A goal of which there is nothing to count needs no praise.
      const settled = before.filter((o) => o.value !== 0).map((o) => o.name)
      return sentence(settled.length > 0 ? words.solves.settled(settled, shortfall(open)) : shortfall(open))
    }
    case 'infeasible':
      return words.solves.cannotFit('', because(telling(result.conflict).map((m) => within(problem, m.text))))
    case 'unknown':
      return words.solves.noLayoutYet
  }
}

/** What says most first: that something must be there at all is mostly known. */
export function telling(conflict: readonly ConflictMember[]): ConflictMember[] {
  return [...conflict.filter((m) => !asksPlaced(m)), ...conflict.filter(asksPlaced)]
}

/** Texts that begin as sentences, joined to one reason. */
export function because(texts: readonly string[]): string {
  return words.sentences.reasons(texts.map((t) => t.replace(/[.\s]+$/, '')))
}

/** One thing, or several: `a, b and c`. */
export const listed = (names: readonly string[]): string => words.sentences.listed(names)

/** Where an item stands, in words: measured from the left and the back of its deck's outline. */
export function whereabouts(problem: Problem, placement: Placement | undefined): string {
  const { notPlaced, onDeck, place, pluggedInto } = words.sentences
  const deck = placement && problem.decks[placement.deck]
  if (!deck) return notPlaced
  const box = boxOf(deck.outline)
  const host = placement.host === undefined ? undefined : problem.items[placement.host]
  const there = place(inMm(placement.at.x - box.x), inMm(placement.at.y - box.y), placement.turn)
  if (host) return pluggedInto(called(host.id), there)
  return problem.decks.length > 1 ? onDeck(deck.name, there) : there
}

/** What stands at a deck's front edge on the plan. */
export const captionOf = ({ decks }: Problem, deck: number): string =>
  decks.length > 1 ? words.plan.deckFront(decks[deck]?.name ?? '') : words.plan.front

/** Size of an item's body, turned as it stands. */
export function sizeInWords(item: Item, placement: Placement | undefined): string {
  const size = sizeOf(item, placement?.turn ?? 0)
  return words.sentences.size(inMm(size.w), inMm(size.h), inMm(item.footprint.height))
}

/** Rule numbers and status words are for files and programs; what a text of the checker brings along of them is taken out. (A part may be called R1.) */
const bare = (problem: Problem, text: string): string =>
  words.sentences.ofThePage(plainIn([problem])(text).replace(/^R(?:10|[1-9]): /, ''))

export const plainly = (problem: Problem, text: string): string => sentence(bare(problem, text))

/** The same with an item's name at its start as the file spells it. */
export function asSpelt(problem: Problem, text: string): string {
  const said = bare(problem, text)
  const plain = sentence(said)
  const names = problem.items.map((i) => called(i.id))
  const name = names.find((n) => said.startsWith(`${n} `)) ?? names.find((n) => plain.startsWith(`${capital(n)} `))
  return name === undefined ? plain : name + plain.slice(name.length)
}

/** The same in the middle of a sentence: its first word small again, or an item's name as the file spells it. */
export function within(problem: Problem, text: string): string {
  const plain = plainly(problem, text)
  const same = problem.items.some((item) => item.id.charAt(0) === plain.charAt(0) && plain.startsWith(called(item.id)))
  return same ? plain : plain.charAt(0).toLowerCase() + plain.slice(1)
}
