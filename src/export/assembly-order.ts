/**
 * The order of work of a layout, worked out from how each part is mounted: plates first, then deck by deck from the lowest what is
 * dropped in, screwed, strapped and, since it cannot be moved again, stuck down; then what is plugged in, the wires from the
 * shortest, and power last. The order itself is common practice, no source.
 */
import {
  type Item,
  layoutOf,
  type Mount,
  openingsOf,
  type Placement,
  type Problem,
  runOf,
  toMm,
  um,
} from '../../solver/index.ts'
import { madeBy } from './made.ts'
import { standingOn } from './template.ts'

/** A placed item with its number on the assembly sheet, which is the order in which it is mounted; none for `later` items. */
export interface Numbered {
  readonly placement: Placement
  readonly item: Item
  readonly number?: number
}

const MOUNTS: readonly Mount['kind'][] = ['drop-in', 'screw', 'strap', 'adhesive', 'plug-in']

/** Decks by height, the lowest first; indices into `problem.decks`. */
export const upwards = (problem: Problem): number[] =>
  [...problem.decks.keys()].sort((a, b) => problem.decks[a]!.z - problem.decks[b]!.z || a - b)

/** All placed items in the order of mounting; those to come later stand last, without a number. */
export function numberItems(problem: Problem, placements: readonly Placement[]): Numbered[] {
  const decks = upwards(problem)
  const rank = (n: { placement: Placement; item: Item }): number[] => [
    n.item.later ? 1 : 0,
    decks.indexOf(n.placement.deck),
    MOUNTS.indexOf(n.item.footprint.mount.kind),
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

/** Sentences in the order of work. `asMade`: the plates exist. */
export function orderOfWork(problem: Problem, placements: readonly Placement[], asMade = false): string[] {
  const items = numberItems(problem, placements).filter((n) => n.number !== undefined)
  const decks = upwards(problem)
  const wires = wiresInOrder(problem, placements)
  const steps = decks.map((deck) => plateStep(problem, placements, deck, asMade))
  steps.push(
    'Lay the parts, or their paper dummies, in their places before anything is fixed: every hole under its part, every plug with its room.',
  )
  decks.forEach((deck, k) => {
    const here = items.filter((n) => n.placement.deck === deck)
    const of = (kind: Mount['kind']): Numbered[] => here.filter((n) => n.item.footprint.mount.kind === kind)
    const name = `Deck ${problem.decks[deck]!.id}`
    const mounted: [Mount['kind'], string][] = [
      ['drop-in', 'drop into the cut-outs and screw down'],
      ['screw', 'screw down'],
      ['strap', 'strap down, not connected yet'],
      ['adhesive', 'stick down last of the mounted parts, on clean dry faces, since they cannot be moved again'],
    ]
    for (const [kind, words] of mounted) {
      if (of(kind).length > 0) steps.push(`${name}: ${words} ${of(kind).map(withScrews).join(', ')}.`)
    }
    const plugged = of('plug-in').map((n) => `${called(n)} into ${hostOf(n, items)}`)
    if (plugged.length > 0) {
      steps.push(`${name}: plug in ${plugged.join(', ')}; the first pin where the plan has its dot.`)
    }
    const own = wires.filter((w) => !w.power && w.decks.every((d) => d === deck)).map((w) => w.words)
    if (own.length > 0) steps.push(`${name}, wires, the shortest first, every supply disconnected: ${own.join(', ')}.`)
    const leads = wires.filter((w) => w.power && w.decks.every((d) => d === deck)).map((w) => w.words)
    if (leads.length > 0) steps.push(`${name}, supply leads: ${leads.join(', ')}; ${LEFT_OFF}.`)
    const above = decks[k + 1]
    if (above !== undefined) {
      steps.push(
        `Look deck ${problem.decks[deck]!.id} over, then set deck ${problem.decks[above]!.id} above it; what lies below is hard to reach afterwards.`,
      )
    }
  })
  const across = wires.filter((w) => !w.power && w.decks.some((d) => d !== w.decks[0])).map((w) => w.words)
  if (across.length > 0) {
    steps.push(`Wires from deck to deck, the shortest first, every supply still disconnected: ${across.join(', ')}.`)
  }
  const leads = wires.filter((w) => w.power && w.decks.some((d) => d !== w.decks[0])).map((w) => w.words)
  if (leads.length > 0) steps.push(`Supply leads from deck to deck: ${leads.join(', ')}; ${LEFT_OFF}.`)
  const power = wires.filter((w) => w.power).map((w) => w.id)
  steps.push(
    `Check with a meter, power off: no short between supply and ground, polarity right, no bare end, no screw loose.`,
    power.length > 0
      ? `Power last, fuse and switch in place and the switch off: connect ${power.join(', ')} at the pack.`
      : 'Power last, fuse and switch in place and the switch off.',
    'First power: tracks off the ground, fingers and hair clear, the switch in reach.',
  )
  return steps
}

function plateStep(problem: Problem, placements: readonly Placement[], index: number, asMade: boolean): string {
  const deck = problem.decks[index]!
  const { holes, cuts } = madeBy(problem, standingOn(placements, index), deck)
  const windows = asMade ? 0 : openingsOf(problem, index).length
  const cut = [
    ...(windows > 0 ? [count(windows, 'opening')] : []),
    ...(cuts.length > 0 ? [count(cuts.length, 'slot or cut-out', 'slots and cut-outs')] : []),
    ...(asMade ? [] : ['the outline last']),
  ]
  const work = [
    ...(holes.length > 0 ? [`centre-punch and drill ${count(holes.length, 'hole')} by the drill table`] : []),
    ...(cut.length > 0 ? [`cut ${cut.join(', ')}`] : []),
  ]
  if (work.length === 0) return `Deck ${deck.id} exists, and nothing new is made in it.`
  return `Deck ${deck.id}: ${work.join('; ')}; de-burr every hole and edge.`
}

const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

export const called = (n: Numbered): string => `${n.number === undefined ? '' : `${n.number} `}${n.item.id}`

function withScrews(n: Numbered): string {
  const { mount } = n.item.footprint
  if (mount.kind !== 'screw' && mount.kind !== 'drop-in') return called(n)
  const threads = mount.holes.map((h) => h.screw ?? `⌀${toMm(h.diameter)} hole`)
  const each = [...new Set(threads)].map((t) => `${threads.filter((o) => o === t).length} × ${t}`).join(', ')
  const stand = mount.kind === 'screw' && mount.standoff > 0 ? `, stand-offs ${toMm(mount.standoff)} mm` : ''
  return mount.holes.length === 0 ? called(n) : `${called(n)} (${each}${stand})`
}

function hostOf(n: Numbered, items: readonly Numbered[]): string {
  const { host } = n.placement
  const found = items.find((other) => other.placement.item === host)
  return found ? called(found) : 'its breadboard'
}

const LEFT_OFF = 'leave them disconnected at the pack, their ends covered'

interface OrderedWire {
  readonly id: string
  readonly words: string
  readonly decks: readonly number[]
  /** An end is on a pack. */
  readonly power: boolean
}

/** The wires that are there, the shortest first. */
function wiresInOrder(problem: Problem, placements: readonly Placement[]): OrderedWire[] {
  const layout = layoutOf(problem, placements)
  return problem.wires
    .flatMap((wire) => {
      const run = runOf(layout, wire)
      if (!run || !Number.isFinite(run.length)) return []
      const ends = [run.from, run.to]
      const power = ends.some((e) => e.item !== undefined && problem.items[e.item]!.footprint.kind === 'pack')
      const cut = um(run.length + wire.loop)
      return [{ id: wire.id, words: `${wire.id} (${toMm(cut)} mm)`, decks: ends.map((e) => e.deck), power, cut }]
    })
    .sort((a, b) => a.cut - b.cut)
}
