/**
 * Neighbourhoods for wires (large neighbourhood search, Shaw 1998): the ends of a few wires, dear ones more often, may go to any deck; all
 * others stay on theirs, wherever on them. What would be short elsewhere seldom has room there alone: it changes places with something.
 */
import type { Placement } from '../problem.ts'
import { alike } from './alike.ts'
import type { Model } from './model.ts'
import { type Dice, leftOut, orders } from './neighbourhood.ts'
import type { WireEnds } from './wire-ends.ts'

/** So many bodies at least may change decks; and fewer than so many more, by chance. */
const LEAST = 3
const MORE = 8

export class Redeal {
  private readonly model: Model
  private readonly wires: readonly WireEnds[]
  private readonly dice: Dice
  /** They are told apart by their order from deck to deck: one that moves changes the names of all, so none is held. */
  private readonly copies: ReadonlySet<number>

  constructor(model: Model, wires: readonly WireEnds[], dice: Dice) {
    this.model = model
    this.wires = wires
    this.dice = dice
    this.copies = new Set(alike(model.problem).flat())
  }

  /** Literals for one round: most of a layout's decks. `costs`: of each wire in it, ≥ 0. */
  hold(placements: readonly Placement[], costs: readonly number[]): number[] {
    const { model, copies, dice } = this
    const { bodies } = model
    const single = placements.filter((p) => !copies.has(p.item) && !bodies[p.item]!.seating)
    const loose = this.ends(costs)
    // and some of what stands on their decks, wired or not, in whose place they may go
    const decks = new Set(placements.filter((p) => loose.has(p.item)).map((p) => p.deck))
    const there = single.filter((p) => decks.has(p.deck))
    for (let k = dice.roll(5); k > 0 && there.length > 0; k--) loose.add(there[dice.roll(there.length)]!.item)
    const on = single.filter((p) => !loose.has(p.item)).map((p) => model.onDeck(bodies[p.item]!, p.deck))
    const out = leftOut(model, [...placements, ...[...copies].map((item) => ({ item }))])
    // every other time also their order on the decks, which is sooner settled
    const order = dice.roll(2) === 0 ? orders(model, placements, new Set([...loose, ...copies])) : []
    return [...on, ...out, ...order]
  }

  /** The ends of a few wires. */
  private ends(costs: readonly number[]): Set<number> {
    const { wires, dice } = this
    const ends = new Set<number>()
    const most = LEAST + dice.roll(MORE)
    const weights = [...costs]
    for (let w = drawn(weights, dice); w >= 0 && ends.size < most; w = drawn(weights, dice)) {
      weights[w] = 0
      for (const { body } of [...wires[w]!.from, ...wires[w]!.to]) if (body) ends.add(body.index)
    }
    return ends
  }
}

/** One of them, with chances as they weigh; −1 where none weighs anything. */
function drawn(weights: readonly number[], dice: Dice): number {
  let left = (weights.reduce((a, b) => a + b, 0) * dice.roll(1 << 20)) / (1 << 20)
  return weights.findIndex((w) => {
    left -= w
    return w > 0 && left < 0
  })
}
