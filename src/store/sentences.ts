/** What the page says: sentences with millimetres, and neither rule numbers nor status words. */
import type { Item, ObjectiveValue, Placement, Problem, SolveResult } from '../../solver/index.ts'
import { sizeOf } from './moves.ts'
import { boxOf } from './outline.ts'

/** Micrometres as millimetres for people: at most two decimals, none where there is nothing behind the point. */
export const inMm = (um: number): string => String(Math.round(um / 10) / 100)

const plural = (n: number, one: string, many = `${one}s`): string =>
  `${Math.round(n * 100) / 100} ${n === 1 ? one : many}`

/** How far one goal may still be from its best. */
function shortfall(o: ObjectiveValue): string {
  const gap = Math.abs(o.value - o.bound)
  switch (o.name) {
    case 'free-tie-points':
      return `at most ${plural(gap, 'contact')} short of the best`
    case 'optional-value':
      return `at most ${plural(gap, 'point')} of value short of the best`
    case 'new-holes':
      return `at most ${plural(gap, 'hole')} more to make than need be`
    case 'wire-length':
      return `wires at most ${inMm(gap)} mm over the shortest`
    case 'balance':
      return `balance at most ${inMm(gap)} mm off the best`
  }
}

const GOAL: Record<ObjectiveValue['name'], string> = {
  'free-tie-points': 'most contacts',
  'optional-value': 'most optional items',
  'new-holes': 'fewest new holes',
  'wire-length': 'shortest wires',
  balance: 'best balance',
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

const sentence = (text: string): string => (/[.!?]$/.test(text) ? capital(text) : `${capital(text)}.`)

/** The card's one sentence about a finished solve. */
export function verdict(problem: Problem, result: SolveResult): string {
  switch (result.status) {
    case 'optimal':
      return 'Best possible.'
    case 'feasible': {
      const open = result.objectives.find((o) => !o.proven)
      if (!open) return 'Fits.'
      const before = result.objectives.slice(0, result.objectives.indexOf(open))
      // A goal of which there is nothing to count needs no praise.
      const settled = before.filter((o) => o.value !== 0).map((o) => GOAL[o.name])
      return sentence(settled.length > 0 ? `${settled.join(' and ')} possible; ${shortfall(open)}` : shortfall(open))
    }
    case 'infeasible':
      return `Cannot fit, because ${because(result.conflict.map((m) => within(problem, m.text)))}`
    case 'unknown':
      return 'No layout yet: the time ran out before one was found.'
  }
}

/** Texts that begin as sentences, joined to one reason. */
export function because(texts: readonly string[]): string {
  const plain = texts.map((t) => t.replace(/[.\s]+$/, ''))
  if (plain.length === 0) return 'the rules leave no place.'
  return `${plain.join('; and ')}.`
}

/** One thing, or several: `a, b and c`. */
export const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`

/** A name as people see it: `board#2` → `board 2`. Files and commands keep the sign. */
export const called = (id: string): string => id.replace('#', ' ')

/** The same for every name in a text. No name of an item has the sign otherwise. */
export const plain = (text: string): string => text.replace(/([^\s#])#(\d+)/g, '$1 $2')

const TURNS = ['', ', turned a quarter', ', turned half round', ', turned three quarters']

/** Where an item stands, in words: measured from the left and the back of its deck's outline. */
export function whereabouts(problem: Problem, placement: Placement | undefined): string {
  if (!placement) return 'not placed'
  const deck = problem.decks[placement.deck]
  if (!deck) return 'not placed'
  const box = boxOf(deck.outline)
  const host = placement.host === undefined ? undefined : problem.items[placement.host]
  const on = host ? `plugged into ${called(host.id)}, ` : problem.decks.length > 1 ? `${deck.name}, ` : ''
  return `${on}${inMm(placement.at.x - box.x)} mm from the left, ${inMm(placement.at.y - box.y)} mm from the back${TURNS[placement.turn]}`
}

/** Size of an item's body, turned as it stands. */
export function sizeInWords(item: Item, placement: Placement | undefined): string {
  const size = sizeOf(item, placement?.turn ?? 0)
  return `${inMm(size.w)} × ${inMm(size.h)} mm, ${inMm(item.footprint.height)} mm high`
}

/** Rule numbers and status words are for files and programs; what a text of the checker brings along of them is taken out. */
export const plainly = (text: string): string =>
  sentence(
    plain(text)
      .replace(/^\s*\(?R(?:10|[1-9])\)?\s*[:.–-]?\s*/, '')
      // “deck main deck”, but not “no deck to the outline of main deck”
      .replace(/\bdeck (?!(?:to|of|and|is|in|on|where|with|between)\b)(?=[\w -]*\bdeck\b)/g, '')
      // The plan and its rulers call where both are counted from the datum.
      .replace(/\bmust stand at (-?[\d.]+), (-?[\d.]+)/g, 'must stay at $1 mm, $2 mm from the datum'),
  )

/** The same with an item's name at its start as the file spells it. */
export function asSpelt(problem: Problem, text: string): string {
  const plain = plainly(text)
  const name = problem.items.map((i) => called(i.id)).find((n) => plain.startsWith(`${capital(n)} `))
  return name === undefined ? plain : name + plain.slice(name.length)
}

/** The same in the middle of a sentence: its first word small again, or an item's name as the file spells it. */
export function within(problem: Problem, text: string): string {
  const plain = plainly(text)
  const same = problem.items.some((item) => item.id.charAt(0) === plain.charAt(0) && plain.startsWith(called(item.id)))
  return same ? plain : plain.charAt(0).toLowerCase() + plain.slice(1)
}
