/** How far a solve has come, what a hold costs, and what was asked beside the layout. Lengths come in as mm, ready to be read. */
import { listed } from './listed.ts'

/** What is counted or measured of a layout. */
export type Goal = 'free-tie-points' | 'optional-value' | 'new-holes' | 'wire-length' | 'balance'

const counted = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`

const amount: Record<Goal, (value: number) => string> = {
  'free-tie-points': (n) => counted(n, 'contact', 'contacts'),
  'optional-value': (n) => `${n} of optional value`,
  'new-holes': (n) => toMake(n),
  'wire-length': (mm) => `${mm} mm of conductor`,
  balance: (mm) => `${mm} mm off balance`,
}

/** What is counted as a new hole: slots and cut-outs are too. */
const toMake = (n: number | string, one = n === 1): string =>
  one ? `${n} new hole, slot or cut-out` : `${n} new holes, slots and cut-outs`

const be = (n: number): string => (n === 1 ? 'is' : 'are')

/** By how much it may still be better. */
const possible: Record<Goal, (gap: number) => string> = {
  'free-tie-points': (n) => `at most ${n} more ${be(n)} possible`,
  'optional-value': (n) => `at most ${n} more ${be(n)} possible`,
  'new-holes': (n) => `at most ${n} fewer ${be(n)} possible`,
  'wire-length': (mm) => `at most ${mm} mm less is possible`,
  balance: (mm) => `at most ${mm} mm less is possible`,
}

const best: Record<Goal, string> = {
  'free-tie-points': 'and no more are possible',
  'optional-value': 'and no more is possible',
  'new-holes': 'and no fewer are possible',
  'wire-length': 'and no less is possible',
  balance: 'and no less is possible',
}

const worse: Record<Goal, (n: string, one: boolean) => string> = {
  'free-tie-points': (n, one) => `${n} ${one ? 'contact' : 'contacts'} fewer`,
  'optional-value': (n) => `${n} less of optional value`,
  'new-holes': (n, one) => `${toMake(n, one)} more`,
  'wire-length': (n) => `${n} mm more conductor`,
  balance: (n) => `${n} mm farther off balance`,
}

/** `n` ready to be read: mm of lengths; `one`: it is exactly one. */
const shortfall: Record<Goal, (n: string, one: boolean) => string> = {
  'free-tie-points': (n, one) => `at most ${n} ${one ? 'contact' : 'contacts'} short of the best`,
  'optional-value': (n, one) => `at most ${n} ${one ? 'point' : 'points'} of value short of the best`,
  'new-holes': (n, one) =>
    `at most ${n} ${one ? 'hole, slot or cut-out' : 'holes, slots and cut-outs'} more to make than need be`,
  'wire-length': (mm) => `wires at most ${mm} mm over the shortest`,
  balance: (mm) => `balance at most ${mm} mm off the best`,
}

/** Where nothing bounds how far it is from its best. */
const open: Record<Goal, string> = {
  'free-tie-points': 'how many more contacts there could be is not known yet',
  'optional-value': 'how much more optional value there could be is not known yet',
  'new-holes': 'how many fewer new holes, slots and cut-outs would do is not known yet',
  'wire-length': 'how much shorter the wires could be is not known yet',
  balance: 'how much better the balance could be is not known yet',
}

const settled: Record<Goal, string> = {
  'free-tie-points': 'most contacts',
  'optional-value': 'most optional items',
  'new-holes': 'fewest new holes',
  'wire-length': 'shortest wires',
  balance: 'best balance',
}

export const solves = {
  /** The verdict on a solve that has ended; `held`: as `heldThere` says it, or empty. */
  bestPossible: 'Best possible.',
  bestPossibleHeld: 'Best possible with what is held.',
  fitsAll: 'Fits.',
  /** A phrase: how far a goal may still be from its best. */
  shortfall: (goal: Goal, n: string, one: boolean): string => shortfall[goal](n, one),
  shortfallUnknown: (goal: Goal): string => open[goal],
  /** Goals that are at their best, and what is open of the next. */
  settled: (goals: readonly Goal[], open: string): string =>
    `${goals.map((g) => settled[g]).join(' and ')} possible; ${open}`,
  heldThere: (names: string): string => ` with ${names} held there`,
  cannotFit: (held: string, because: string): string => `Cannot fit${held}, because ${because}`,
  noLayoutYet: 'No layout yet: the time ran out before one was found.',
  /** What is shown breaks rules; the best of the whole is at hand. */
  noneNear: 'This layout breaks rules, and none was found near it in the time there was. The best is known.',
  noLayout: (held: string): string => `No layout${held} was found in the time there was.`,
  nothingFits: (held: string): string => `Nothing fits${held}. These cannot hold together:`,
  brokeOff: (error: string): string => `The search broke off: ${error}`,
  stopped: (nothing: boolean): string => (nothing ? 'Stopped before a layout was found.' : 'Stopped: the best so far.'),

  /** What moved of itself after a hand had moved something. */
  stayed: 'Everything else stayed where it was.',
  holdsLost: (items: string, one: boolean): string =>
    one ? `${items} was held, and its place is gone.` : `${items} were held, and their places are gone.`,
  leftOut: (item: string): string => `${item} was left out`,
  otherDeck: (item: string): string => `${item} went to another deck`,
  moved: (item: string, mm: string): string => `${item} moved ${mm} mm`,
  turned: (item: string): string => `${item} turned`,
  madeRoom: (moves: readonly string[]): string => `To make room, ${moves.join(', ')}.`,
  /** Lengths in mm, of the lead as it has to be laid. */
  tight: (number: number, wire: string, cut: string, limit: string, left: string): string =>
    `Wire ${number}, ${wire}, needs ${cut} mm of the ${limit} mm that there are: ${left} mm to spare.`,

  empty: 'Nothing stands on it yet.',
  /** `gap` undefined: nothing is known of it yet; it is known of layouts with what is `held`, or only of those where that is `freed`. */
  reached: (goal: Goal, value: number, gap: number | undefined, running: boolean, holds?: 'held' | 'freed'): string => {
    if (goal === 'new-holes' && value === 0) return 'No new hole, slot or cut-out.'
    const now = `${amount[goal](value)}${running ? ' so far' : ''}`
    if (gap === undefined) return `${now}; how much better it could be is not known yet.`
    const where = holds === 'held' ? ' with what is held' : holds === 'freed' && gap > 0 ? ' with nothing held' : ''
    return `${now}, ${gap === 0 ? best[goal] : possible[goal](gap)}${where}.`
  },
  looking: 'Looking for a layout…',
  lookingFor: (reached: string): string => `Looking for better. ${reached}`,
  notTogether: (held: string, names: readonly string[], others: number): string =>
    others === 0
      ? `Cannot fit${held}: ${listed(names)} do not go together on this deck.`
      : `Cannot fit${held}: ${names.join(', ')} and ${others} more do not go together on this deck.`,
  fits: 'Fits like this.',
  fitsNot: 'Does not fit like this.',
  wouldMakeRoom: (moved: number, leftOut: number): string => {
    const others = moved === 1 ? 'One other would make room' : `${moved} others would make room`
    if (leftOut === 0) return `Does not fit like this. ${others}.`
    const out = leftOut === 1 ? 'one would be left out' : `${leftOut} would be left out`
    return moved === 0
      ? `Does not fit like this. To make room, ${out}.`
      : `Does not fit like this. ${others}, and ${out}.`
  },
  short:
    'No layout was found in which every lead is long enough round what stands in its way and finds a free contact:',
  costsNothing: 'Held here: costs nothing.',
  costsExactly: (goal: Goal, by: number): string => `Held here: ${worse[goal](`${by}`, by === 1)}.`,
  costsBetween: (goal: Goal, least: number, most: number): string =>
    `Held here: at least ${worse[goal](`${least}, at most ${most}`, false)}.`,
  costsAtMost: (goal: Goal, most: number): string => `Held here: at most ${worse[goal](`${most}`, most === 1)}.`,
  costsEverything: 'Held here: nothing fits.',
  costsNeither: 'Held here: nothing fits, with this hold or without it.',
  costUnknown: 'Held here: what it costs was not found in time.',
  costAsking: 'Held here: finding out what it costs…',
  costFailed: (error: string): string => `Held here: the search for what it costs broke off: ${error}`,
}
