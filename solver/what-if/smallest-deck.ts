/** The smallest deck on which everything fits: found by bisection, with a layout at that size and a proof one step below. */
import type { Placement, Problem, Shape } from '../problem.ts'
import type { Hold } from '../result.ts'
import { type Um, um } from '../units.ts'
import { grows } from './candidates.ts'
import type { Change } from './change.ts'
import { LONGEST, newlyLost, resized, resizedDeck, sizeOf, type Way, withOutline } from './outline.ts'
import { Budget, type Case, finish, fits, isLegal, type Slices, type WhatIfOptions } from './trial.ts'

export interface DeckSize {
  readonly length: Um
  readonly width: Um
}

export interface SmallestDeckOptions extends WhatIfOptions {
  /** Which deck; default the first. The others stay as they are. */
  readonly deck?: string
  /** Optional items must be placed too. */
  readonly all?: boolean
  readonly pins?: readonly Hold[]
}

export type SmallestDeck =
  | {
      readonly status: 'found'
      readonly deck: string
      readonly from: DeckSize
      readonly to: DeckSize
      /** None where the deck is as small as it can be already. */
      readonly changes: readonly Change[]
      readonly placements: readonly Placement[]
      /**
       * One step less: `proven` not to fit; `stopped` by what lies on the deck (`stops`) or by its own shape; `open` where
       * time ran out.
       */
      readonly below: 'proven' | 'stopped' | 'open'
      /** No smaller step fits: each was refuted, or follows from one that was. */
      readonly smallest: boolean
      /** Openings, holes, exits and passes that one step less would no longer hold. */
      readonly stops: readonly string[]
    }
  /** Proven for every size up to `upTo`, smaller ones among them. */
  | { readonly status: 'none'; readonly deck: string; readonly from: DeckSize; readonly upTo: DeckSize }
  /** The outline is a circle or a sector, whose far edge cannot be moved. */
  | { readonly status: 'no such size'; readonly deck: string; readonly from: DeckSize }
  | { readonly status: 'unknown'; readonly deck: string; readonly from: DeckSize }

const STEP = 1000
/** Of the shorter side, where both change in proportion. */
const ROUND = 100
const SHARE = 1 / 6

/** Runs `sizing` to its end. Throws a RangeError where there is no such deck. */
export function smallestDeck(problem: Problem, way: Way | 'both', options: SmallestDeckOptions = {}): SmallestDeck {
  return finish(sizing(problem, way, options))
}

/**
 * Moves the deck's far edge by steps of 1 mm (`both`: of the longer side, the shorter in proportion, rounded to 0.1 mm), up to
 * twice its size and down to where the outline or what is cut through it ends.
 */
export function* sizing(problem: Problem, way: Way | 'both', options: SmallestDeckOptions = {}): Slices<SmallestDeck> {
  const deck = options.deck === undefined ? 0 : problem.decks.findIndex((d) => d.id === options.deck)
  const d = problem.decks[deck]
  if (!d) throw new RangeError(`There is no deck ${JSON.stringify(options.deck)}.`)
  const whole = options.all ? { ...problem, items: problem.items.map((i) => ({ ...i, required: true })) } : problem
  const run = new Sizing(whole, deck, way, options)
  return yield* run.search()
}

class Sizing {
  private readonly problem: Problem
  private readonly deck: number
  private readonly way: Way | 'both'
  private readonly pins: readonly Hold[]
  private readonly budget: Budget
  private readonly outline: Shape
  private readonly from: DeckSize
  /** Steps that are refuted, and steps that time did not decide. */
  private readonly refuted = new Set<number>()
  private best: { step: number; placements: readonly Placement[] } | undefined

  constructor(problem: Problem, deck: number, way: Way | 'both', options: SmallestDeckOptions) {
    this.problem = problem
    this.deck = deck
    this.way = way
    this.pins = options.pins ?? []
    this.budget = new Budget(options)
    this.outline = problem.decks[deck]!.outline
    this.from = sizeOf(this.outline)
  }

  *search(): Slices<SmallestDeck> {
    const { id } = this.problem.decks[this.deck]!
    const { from } = this
    if (this.outline.kind !== 'rect' && this.outline.kind !== 'polygon')
      return { status: 'no such size', deck: id, from }
    const most = Math.floor(Math.min(this.longest(), LONGEST - this.longest()) / STEP)
    const least = this.leastStep()
    yield* this.grow(most)
    if (!this.best && this.sure()) {
      if (this.refuted.has(most)) return { status: 'none', deck: id, from, upTo: this.sizeAt(most) }
    } else if (!this.best) {
      // what looks at the far edge may fit at a size in between, or at a smaller one
      for (let k = 1; k <= most && !this.best && !this.budget.over(); k++) yield* this.ask(k)
      for (let k = -1; k >= least && !this.best && !this.budget.over(); k--) yield* this.ask(k)
      if (!this.best && this.isSettled(least, most)) return { status: 'none', deck: id, from, upTo: this.sizeAt(most) }
    }
    if (!this.best) return { status: 'unknown', deck: id, from }
    yield* this.shrink(least)
    return this.answer(id, least)
  }

  /** Until something fits: as it is, then 1, 2, 4 … steps larger. */
  private *grow(most: number): Slices<void> {
    yield* this.ask(0)
    for (let k = 1; !this.best && !this.budget.over(); k = Math.min(most, k * 2)) {
      yield* this.ask(k)
      if (k >= most) return
    }
  }

  /** Bisection between the last step known not to fit and the best; then, where sizes between may surprise, one by one. */
  private *shrink(least: number): Slices<void> {
    const known = [...this.refuted].filter((k) => k < this.best!.step)
    let low = Math.max(least - 1, ...known)
    while (this.best!.step - low > 1 && !this.budget.over()) {
      const mid = Math.floor((low + this.best!.step) / 2)
      if (!(yield* this.ask(mid))) low = mid
    }
    if (!this.refuted.has(this.best!.step - 1) && this.best!.step - 1 >= least)
      yield* this.ask(this.best!.step - 1, 1 / 2)
    if (this.sure()) return
    for (let k = this.best!.step - 1; k >= least && !this.budget.over(); k--)
      if (!this.refuted.has(k)) yield* this.ask(k)
  }

  /** True where it fits. The smallest step at which the same layout is still legal counts, too. */
  private *ask(step: number, share = SHARE): Slices<boolean> {
    const asked = this.at(step)
    if (!asked) return false
    const v = yield* fits(asked, this.budget, share, this.best?.placements)
    if (v.verdict === 'not') this.refuted.add(step)
    if (v.verdict !== 'fits') return false
    let k = step
    for (let next = this.at(k - 1); next && isLegal(next, v.placements, this.budget.lazy); next = this.at(k - 1)) k--
    if (!this.best || k < this.best.step) this.best = { step: k, placements: v.placements }
    return true
  }

  private answer(id: string, least: number): SmallestDeck {
    const { step, placements } = this.best!
    const below = !this.at(step - 1) ? 'stopped' : this.refuted.has(step - 1) ? 'proven' : 'open'
    const smallest = below !== 'open' && (this.sure() || this.isSettled(least, step - 1))
    const to = this.sizeAt(step)
    const change: Change = {
      kind: 'outline',
      deck: id,
      name: this.problem.decks[this.deck]!.name,
      longer: um(to.length - this.from.length),
      wider: um(to.width - this.from.width),
      outline: this.outlineAt(step)!,
      to,
    }
    const less = this.outlineAt(step - 1)
    const stops = below === 'stopped' && less ? newlyLost(this.problem, this.deck, less) : []
    const changes = step === 0 ? [] : [change]
    return { status: 'found', deck: id, from: this.from, to, changes, placements, below, smallest, stops }
  }

  private longest(): number {
    if (this.way === 'both') return Math.max(this.from.length, this.from.width)
    return this.from[this.way]
  }

  /** By how much front and right edge move at a step. */
  private moves(step: number): { longer: Um; wider: Um } {
    const by = step * STEP
    const { length, width } = this.from
    if (this.way !== 'both')
      return { longer: um(this.way === 'length' ? by : 0), wider: um(this.way === 'width' ? by : 0) }
    const part = (side: number) =>
      side === this.longest() ? by : Math.round((side * by) / this.longest() / ROUND) * ROUND
    return { longer: um(part(length)), wider: um(part(width)) }
  }

  private outlineAt(step: number): Shape | undefined {
    const { longer, wider } = this.moves(step)
    return resized(this.outline, longer, wider)
  }

  private sizeAt(step: number): DeckSize {
    const { longer, wider } = this.moves(step)
    return { length: um(this.from.length + longer), width: um(this.from.width + wider) }
  }

  private at(step: number): Case | undefined {
    const { longer, wider } = this.moves(step)
    const outline = resizedDeck(this.problem, this.deck, longer, wider)
    return outline && { problem: withOutline(this.problem, this.deck, outline), pins: this.pins }
  }

  /** Is none of these steps open? */
  private isSettled(from: number, to: number): boolean {
    for (let k = from; k <= to; k++) if (!this.refuted.has(k) && this.at(k)) return false
    return true
  }

  private leastStep(): number {
    if (this.outline.kind === 'rect') {
      let k = 0
      while (this.at(k - 1)) k--
      return k
    }
    // what moves with the edge of a polygon may pass over a hole, and be clear of it again
    let k = -Math.floor(this.longest() / STEP)
    while (k < 0 && !this.at(k)) k++
    return k
  }

  /** Whatever fits at one size fits at every larger one. */
  private sure(): boolean {
    const ways = this.way === 'both' ? [true, false] : [this.way === 'length']
    return ways.every((long) => grows(this.problem, this.deck, long))
  }
}
