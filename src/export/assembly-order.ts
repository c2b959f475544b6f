/**
 * The order of work of a layout, worked out from how each part is mounted: plates first, then deck by deck from the lowest what is
 * dropped in, screwed, strapped and, since it cannot be moved again, stuck down; then what is plugged in, the wires from the
 * shortest, and power last. The order itself is common practice, no source.
 */
import {
  deckCalled,
  type Item,
  type Mount,
  openingsOf,
  type Placement,
  type Problem,
  toMm,
} from '../../solver/index.ts'
import type { LaidLead } from '../model/index.ts'
import { madeBy } from './made.ts'
import { wiresHere } from './tables-wires.ts'
import { order as words } from './words-sheets.ts'

/** A placed item with its number on the assembly sheet, which is the order in which it is mounted; none for `later` items. */
export interface Numbered {
  readonly placement: Placement
  readonly item: Item
  readonly number?: number
}

/** What is done to fix a part: screws are named only where its footprint has holes for them. */
type Fixing = Exclude<Mount['kind'], 'drop-in' | 'screw'> | 'drop-in-screwed' | 'drop-in' | 'screw' | 'screw-unstated'

const FIXINGS: readonly Fixing[] = [
  'drop-in-screwed',
  'drop-in',
  'screw',
  'screw-unstated',
  'strap',
  'adhesive',
  'plug-in',
]

function fixingOf({ footprint: { mount } }: Item): Fixing {
  if (mount.kind === 'drop-in') return mount.holes.length > 0 ? 'drop-in-screwed' : 'drop-in'
  if (mount.kind === 'screw') return mount.holes.length > 0 ? 'screw' : 'screw-unstated'
  return mount.kind
}

/** Decks by height, the lowest first; indices into `problem.decks`. */
export const upwards = (problem: Problem): number[] =>
  [...problem.decks.keys()].sort((a, b) => problem.decks[a]!.z - problem.decks[b]!.z || a - b)

/** All placed items in the order of mounting; those to come later stand last, without a number. */
export function numberItems(problem: Problem, placements: readonly Placement[]): Numbered[] {
  const decks = upwards(problem)
  const rank = (n: { placement: Placement; item: Item }): number[] => [
    n.item.later ? 1 : 0,
    decks.indexOf(n.placement.deck),
    FIXINGS.indexOf(fixingOf(n.item)),
    n.placement.item,
  ]
  return placements
    .map((placement) => ({ placement, item: problem.items[placement.item]! }))
    .sort((a, b) => {
      const [ra, rb] = [rank(a), rank(b)]
      const k = ra.findIndex((v, i) => v !== rb[i])
      return k < 0 ? 0 : ra[k]! - rb[k]!
    })
    .map((n, i) => (n.item.later ? n : { ...n, number: i + 1 }))
}

/** Sentences in the order of work. `asMade`: the plates exist; `laid`: how leads lie, else they are taken to run straight. */
export function orderOfWork(
  problem: Problem,
  placements: readonly Placement[],
  asMade = false,
  laid?: readonly LaidLead[],
): string[] {
  const items = numberItems(problem, placements).filter((n) => n.number !== undefined)
  const decks = upwards(problem)
  const wires = wiresInOrder(problem, placements, laid)
  const keep = laid ? words.keep : ''
  const steps = decks.map((deck) => plateStep(problem, placements, deck, asMade))
  steps.push(words.layOut)
  decks.forEach((deck, k) => {
    const here = items.filter((n) => n.placement.deck === deck)
    const of = (fixing: Fixing): Numbered[] => here.filter((n) => fixingOf(n.item) === fixing)
    const name = deckCalled(problem.decks[deck]!)
    for (const fixing of FIXINGS) {
      const now = of(fixing)
      if (fixing === 'plug-in' || now.length === 0) continue
      const packs = now.filter((n) => n.item.footprint.kind === 'pack').map(called)
      steps.push(words.mount(name, fixing, now.map(withScrews), packs))
    }
    const plugged = of('plug-in').map((n) => words.into(called(n), hostOf(n, items)))
    if (plugged.length > 0) steps.push(words.plug(name, plugged))
    const own = wires.filter((w) => !w.power && w.decks.every((d) => d === deck)).map((w) => w.words)
    if (own.length > 0) steps.push(words.wires(name, own) + keep)
    const leads = wires.filter((w) => w.power && w.decks.every((d) => d === deck)).map((w) => w.words)
    if (leads.length > 0) steps.push(words.supplies(name, leads) + keep)
    const above = decks[k + 1]
    if (above !== undefined) steps.push(words.nextDeck(name, deckCalled(problem.decks[above]!)))
  })
  const across = wires.filter((w) => !w.power && w.decks.some((d) => d !== w.decks[0])).map((w) => w.words)
  if (across.length > 0) steps.push(words.wiresAcross(across) + keep)
  const leads = wires.filter((w) => w.power && w.decks.some((d) => d !== w.decks[0])).map((w) => w.words)
  if (leads.length > 0) steps.push(words.suppliesAcross(leads) + keep)
  steps.push(words.meter, words.power(wires.filter((w) => w.power).map((w) => w.id)), words.firstPower)
  return steps
}

function plateStep(problem: Problem, placements: readonly Placement[], index: number, asMade: boolean): string {
  const deck = problem.decks[index]!
  const { holes, cuts } = madeBy(problem, placements, index)
  const openings = asMade ? 0 : openingsOf(problem, index).length
  return words.plate(deckCalled(deck), { holes: holes.length, openings, cuts: cuts.length, outline: !asMade })
}

export const called = (n: Numbered): string => words.item(n.number, n.item.id)

function withScrews(n: Numbered): string {
  const { mount } = n.item.footprint
  if (mount.kind !== 'screw' && mount.kind !== 'drop-in') return called(n)
  if (mount.holes.length === 0) return called(n)
  const threads = mount.holes.map((h) => h.screw ?? words.hole(toMm(h.diameter)))
  const screws = [...new Set(threads)].map((thread) => ({ thread, count: threads.filter((o) => o === thread).length }))
  return words.screws(called(n), screws, mount.kind === 'screw' ? toMm(mount.standoff) : 0)
}

function hostOf(n: Numbered, items: readonly Numbered[]): string {
  const { host } = n.placement
  const found = items.find((other) => other.placement.item === host)
  return found ? called(found) : words.itsBreadboard
}

interface OrderedWire {
  readonly id: string
  readonly words: string
  readonly decks: readonly number[]
  /** An end is on a pack. */
  readonly power: boolean
}

/** The wires that are there, the shortest first, by what the table of wires says to cut; last those that it says not to cut yet. */
function wiresInOrder(
  problem: Problem,
  placements: readonly Placement[],
  laid: readonly LaidLead[] | undefined,
): OrderedWire[] {
  return wiresHere(problem, placements, laid)
    .map(({ wire, run, way, lead }) => {
      const { from, to } = way ?? run
      const power = [from, to].some((e) => e.item !== undefined && problem.items[e.item]!.footprint.kind === 'pack')
      const cut = way && lead?.there === undefined ? way.cut : undefined
      const said = cut === undefined ? words.notYet(wire.id) : words.wire(wire.id, toMm(cut))
      return { id: wire.id, words: said, decks: [from.deck, to.deck], power, cut: cut ?? Number.POSITIVE_INFINITY }
    })
    .sort((a, b) => (a.cut === b.cut ? 0 : a.cut - b.cut))
}
