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

/** Literals that hold a layout's decks. `costs`: of each wire in it, ≥ 0. */
export function holdDecks(
  model: Model,
  placements: readonly Placement[],
  wires: readonly WireEnds[],
  costs: readonly number[],
  dice: Dice,
): number[] {
  const { bodies } = model
  // copies are told apart by their order from deck to deck: one that moves changes the names of all
  const free = new Set(alike(model.problem).flat())
  const loose = new Set<number>()
  const most = LEAST + dice.roll(MORE)
  const weights = [...costs]
  for (let w = drawn(weights, dice); w >= 0 && loose.size < most; w = drawn(weights, dice)) {
    weights[w] = 0
    for (const { body } of [...wires[w]!.from, ...wires[w]!.to]) if (body) loose.add(body.index)
  }
  // and some of what stands on their decks, wired or not, in whose place they may go
  const decks = new Set(placements.filter((p) => loose.has(p.item)).map((p) => p.deck))
  const there = placements.filter((p) => decks.has(p.deck) && !free.has(p.item) && !bodies[p.item]!.seating)
  for (let k = dice.roll(5); k > 0 && there.length > 0; k--) loose.add(there[dice.roll(there.length)]!.item)
  const held = placements.filter((p) => !loose.has(p.item) && !free.has(p.item) && !bodies[p.item]!.seating)
  const out = leftOut(model, [...placements, ...[...free].map((item) => ({ item }))])
  // every other time also their order on the decks, which is sooner settled
  const order = dice.roll(2) === 0 ? orders(model, placements, new Set([...loose, ...free])) : []
  return [...held.map((p) => model.onDeck(bodies[p.item]!, p.deck)), ...out, ...order]
}

/** One of them, with chances as they weigh; −1 where none weighs anything. */
function drawn(weights: readonly number[], dice: Dice): number {
  let left = (weights.reduce((a, b) => a + b, 0) * dice.roll(1 << 20)) / (1 << 20)
  return weights.findIndex((w) => {
    left -= w
    return w > 0 && left < 0
  })
}
