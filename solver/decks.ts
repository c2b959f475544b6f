/**
 * What fits on each deck, whatever stands on the others: every deck is a problem of its own, all of whose items may be left out, and is
 * asked for the bodies that a search would put there. What is refuted there is ruled out for the whole, under every goal, for these
 * bodies and for all that nothing tells apart from them on that deck: a combinatorial cut (logic-based Benders decomposition, Hooker &
 * Ottosson 2003).
 */
import { compile } from './compile.ts'
import type { Item, Problem } from './problem.ts'
import { alike } from './search/alike.ts'
import { atLeast } from './search/combinations.ts'
import { type Engine, TRUE } from './search/engine.ts'
import { Linear } from './search/linear.ts'
import { type Body, type Model, OutOfTime } from './search/model.ts'
import { area, Search, type Stage } from './search/search.ts'
import type { Candidate, WireEnds } from './search/wire-ends.ts'

/** Conflicts in one deck before another is asked: one that is refuted is enough. Each time round there are four times as many. */
const FIRST = 1000

/** What is asked in passing may take so many conflicts. */
const GLANCE = 100

/** By kind, bodies that nothing tells apart on a deck by itself, and of each kind: the literal for "more than k of them". */
type Kinds = readonly (readonly number[])[]

/** How many of each kind. */
type Counts = readonly number[]

const within = (a: Counts, b: Counts): boolean => a.every((n, k) => n <= b[k]!)
const countsOf = (kinds: Kinds, holds: (lit: number) => boolean): Counts => kinds.map((k) => k.findLastIndex(holds) + 1)

/** One deck, and some items that may stand there or be left out. It asks no more of them than the whole does. */
function alone(problem: Problem, deck: number, items: readonly number[]): Problem {
  const free = (i: number): Item => {
    const item = problem.items[i]!
    return { ...item, decks: [deck], required: false, place: item.place.filter((p) => !('item' in p)) }
  }
  return { ...problem, items: items.map(free), wires: [] }
}

class Deck {
  /** In the deck's own problem. */
  private readonly there: Kinds
  /** On this deck, in the whole. */
  private readonly here: Kinds
  private readonly search: Search
  /** What fits, none of it within another. */
  private fits: Counts[] = []
  /** What is being asked, and the conflicts that this has taken. */
  private asked: Counts = []
  private spent = 0
  /** How often something has been put here. */
  private readonly met = new Map<string, number>()

  constructor(model: Model, deck: number, over: () => boolean) {
    const { e } = model
    const bodies = model.bodies.filter((b) => !b.seating && b.modes.some((m) => m.deck === deck && !e.isFalse(m.lit)))
    const indices = bodies.map((b) => b.index)
    const own = alone(model.problem, deck, indices)
    const there = compile(own, { over })
    this.search = new Search(there)
    this.search.sparse = true
    const groups = alike(own)
    const single = bodies.flatMap((_, i) => (groups.some((g) => g.includes(i)) ? [] : [[i]]))
    const kinds = [...groups, ...single]
    this.there = kinds.map((group) => group.map((i) => there.bodies[i]!.present))
    this.here = kinds.map((group) =>
      moreThan(
        model,
        group.map((i) => model.onDeck(bodies[i]!, deck)),
      ),
    )
  }

  /** What the whole has put here. */
  counts(e: Engine): Counts {
    return countsOf(this.here, (l) => e.isTrue(l))
  }

  fit(counts: Counts): boolean {
    return this.fits.some((f) => within(counts, f))
  }

  /** Does it fit? If not, counts within these that do not either. Asked again after a stop, it goes on from there. */
  ask(counts: Counts, pause: () => boolean, conflicts: number, steps: number): true | 'stopped' | Counts {
    const { search, there } = this
    const { e } = search.model
    if (!this.isAsked(counts)) {
      e.backTo(0)
      this.asked = counts
      this.spent = 0
    }
    const before = e.conflicts
    // the rest is left out at once, instead of when its turn comes: what has no room without it has none with it
    const out = there.flatMap((lits, k) => lits.slice(counts[k]!).map((l) => e.not(l)))
    const verdict = search.run([...atLeast(there, counts), ...out], pause, before + conflicts, search.steps + steps)
    this.spent += e.conflicts - before
    if (verdict === 'stopped') return verdict
    this.asked = []
    if (verdict === 'found') {
      const fit = countsOf(there, (l) => e.isTrue(l))
      this.fits = [...this.fits.filter((f) => !within(f, fit)), fit]
      return true
    }
    const core = countsOf(there, (l) => search.core.includes(l))
    e.backTo(0)
    e.keep(atLeast(there, core).map((l) => e.not(l)))
    return core
  }

  /** Is it time to ask again in passing? The first time, and then each time that it has come up four times as often. */
  due(counts: Counts): boolean {
    const key = counts.join()
    const times = (this.met.get(key) ?? 0) + 1
    this.met.set(key, times)
    return 4 ** Math.round(Math.log2(times) / 2) === times
  }

  private isAsked(counts: Counts): boolean {
    return this.asked.length > 0 && counts.every((n, k) => n === this.asked[k])
  }

  /** Conflicts that an ask has taken so far. */
  spentOn(counts: Counts): number {
    return this.isAsked(counts) ? this.spent : 0
  }

  /** In the whole: not so many of each kind here. */
  not(e: Engine, counts: Counts): number[] {
    return atLeast(this.here, counts).map((l) => e.not(l))
  }

  get steps(): { readonly conflicts: number; readonly decisions: number } {
    const { conflicts, decisions } = this.search.model.e
    return { conflicts, decisions }
  }
}

/** For each k: a literal that any k + 1 of these make true. At level 0. */
function moreThan(model: Model, lits: readonly number[]): number[] {
  if (lits.length === 1) return [...lits]
  const { e } = model
  // how many are not true: as a bound, no more than are false or open
  const others = e.newVar(lits.length + 1)
  const values = Int32Array.from({ length: lits.length + 1 }, (_, k) => k)
  const terms = lits.map((l) => ({ lit: e.not(l), coef: 1 }))
  new Linear(e, terms, [{ v: others, values }], 0, TRUE)
  return lits.map((_, k) => e.lt(others, lits.length - k))
}

/** All decks of a model. */
class Decks {
  private readonly e: Engine
  private readonly all: readonly Deck[]
  /** Where a pause came in passing: what is left to ask, the first of it for so many conflicts, and the steps at which it was. */
  private paused: { readonly open: readonly Dealt[]; readonly most: number; readonly at: number } | undefined

  constructor(model: Model, over: () => boolean) {
    this.e = model.e
    this.all = model.problem.decks.map((_, d) => new Deck(model, d, over))
  }

  refute(pause: () => boolean, conflicts: number, steps: number): Refutation {
    const open = this.open()
    const left = { conflicts, steps }
    for (let most = FIRST; open.length > 0; most *= 4)
      for (const one of [...open]) {
        const { deck, counts } = one
        const spent = deck.spentOn(counts)
        if (spent >= most) continue
        const answer = this.ask(one, pause, most - spent, left)
        if (answer === true) open.splice(open.indexOf(one), 1)
        else if (answer !== 'stopped') return answer
        else if (deck.spentOn(counts) < most || left.conflicts <= 0 || left.steps <= 0) return answer
      }
    return undefined
  }

  /** The same, but whatever takes long is let pass: it may be refuted sooner by something else, and comes up again. */
  glance(pause: () => boolean, conflicts: number, steps: number): Refutation {
    const { e } = this
    const left = { conflicts, steps }
    // after a pause it goes on with what it was at
    let again = this.paused?.at === e.conflicts + e.decisions ? this.paused : undefined
    this.paused = undefined
    const open = again?.open ?? this.open()
    for (const [k, one] of open.entries()) {
      if (!again && !one.deck.due(one.counts)) continue
      const most = again?.most ?? GLANCE
      again = undefined
      const before = e.conflicts
      const answer = this.ask(one, pause, most, left)
      if (answer !== true && answer !== 'stopped') return answer
      const rest = most - (e.conflicts - before)
      const over = left.conflicts <= 0 || left.steps <= 0
      if (answer === 'stopped' && rest > 0 && !over)
        this.paused = { open: open.slice(k), most: rest, at: e.conflicts + e.decisions }
      if (this.paused || over) return 'stopped'
    }
    return undefined
  }

  /** What is put on each deck, where it is not known to fit. */
  private open(): Dealt[] {
    return this.all
      .map((deck) => ({ deck, counts: deck.counts(this.e) }))
      .filter(({ deck, counts }) => !deck.fit(counts))
  }

  private ask(
    { deck, counts }: Dealt,
    pause: () => boolean,
    conflicts: number,
    left: { conflicts: number; steps: number },
  ): true | Refutation {
    const { e } = this
    const before = deck.steps
    const answer = deck.ask(counts, pause, Math.min(left.conflicts, conflicts), left.steps)
    const used = {
      conflicts: deck.steps.conflicts - before.conflicts,
      decisions: deck.steps.decisions - before.decisions,
    }
    e.conflicts += used.conflicts
    e.decisions += used.decisions
    left.conflicts -= used.conflicts
    left.steps -= used.conflicts + used.decisions
    return answer === true || answer === 'stopped' ? answer : deck.not(e, answer)
  }
}

/** What is put on a deck. */
interface Dealt {
  readonly deck: Deck
  readonly counts: Counts
}

type Refutation = ReturnType<Stage['refute']>

/** A body to be dealt out. */
interface Card {
  readonly body: Body
  /** By deck: the literal that says so; −1 where it never is. */
  readonly on: readonly number[]
  readonly area: number
  /** What it is wired to, itself or what is plugged into it for sure, and by how many conductors. */
  readonly wires: readonly { readonly to: Candidate; readonly conductors: number }[]
}

/**
 * Deals the bodies out to the decks before anything else is decided, each to where its wires go, else to where there is most room; and goes
 * on only where every deck by itself has room for its own.
 */
class DeckByDeck implements Stage {
  private readonly e: Engine
  private readonly decks: Decks
  /** Decks are asked in passing, and whatever may be left out is, before the rest is dealt. */
  private readonly brief: boolean
  /** In the order in which they are dealt: by what is wired to them and to what they carry, then by size. */
  private readonly cards: readonly Card[]
  private readonly used: Float64Array
  private readonly far: Float64Array

  constructor(model: Model, decks: Decks, wires: readonly WireEnds[], brief: boolean) {
    const { e, problem } = model
    this.e = e
    this.decks = decks
    this.brief = brief
    this.used = new Float64Array(problem.decks.length)
    this.far = new Float64Array(problem.decks.length)
    const on = (b: Body, d: number) => (b.modes.some((m) => m.deck === d) ? model.onDeck(b, d) : -1)
    // of copies the first one stands for all; what is plugged in is dealt with its host
    const dealt = (c?: Candidate) => (c?.body?.seating ? model.hostOf(c.body) : c?.body)
    const ends = wires.flatMap(({ from: [p], to: [q], wire: { conductors } }) => [
      { at: dealt(p), to: q, conductors },
      { at: dealt(q), to: p, conductors },
    ])
    const cards = model.bodies
      .filter((b) => !b.seating)
      .map((body): Card & { readonly pull: number } => {
        const own = ends.flatMap(({ at, to, conductors }) => (at === body && to ? [{ to, conductors }] : []))
        const pull = own.reduce((sum, w) => sum + w.conductors, 0)
        return { body, on: problem.decks.map((_, d) => on(body, d)), area: area(body), wires: own, pull }
      })
    this.cards = cards.sort((a, b) => b.pull - a.pull || b.area - a.area)
  }

  next(): number {
    const { e, used, far } = this
    used.fill(0)
    let next: Card | undefined
    for (const card of this.cards) {
      const { present } = card.body
      if (!e.isTrue(present)) {
        if (this.brief && !e.isFalse(present)) return e.not(present)
        continue
      }
      const d = card.on.findIndex((l) => l >= 0 && e.isTrue(l))
      if (d >= 0) used[d]! += card.area
      else next ??= card
    }
    if (!next) return -1
    far.fill(0)
    for (const { to, conductors } of next.wires) {
      const there = to.decks.filter((d) => !e.isFalse(d.lit))
      // where it is does not show yet
      if (there.length !== 1) continue
      for (let d = 0; d < far.length; d++) far[d]! += conductors * Math.abs(d - there[0]!.deck)
    }
    let best = -1
    next.on.forEach((l, d) => {
      if (l < 0 || e.isFalse(l)) return
      if (best < 0 || far[d]! < far[best]! || (far[d] === far[best] && used[d]! < used[best]!)) best = d
    })
    return best < 0 ? -1 : next.on[best]!
  }

  refute(pause: () => boolean, conflicts: number, steps: number): Refutation {
    return this.brief ? this.decks.glance(pause, conflicts, steps) : this.decks.refute(pause, conflicts, steps)
  }
}

/** Made once a model: what was found out of its decks is asked for again. */
const known = new WeakMap<Model, Decks>()

/**
 * None where there is one deck, or no time to look at each. `wires`: those that should be short. `brief`: for bounds, where many deals are
 * refuted by what they cost. At level 0 afterwards.
 */
export function deckByDeck(
  model: Model,
  over: () => boolean,
  wires: readonly WireEnds[] = [],
  brief = false,
): Stage | undefined {
  // a proof is logged of one engine
  if (model.problem.decks.length < 2 || model.e.log) return undefined
  model.e.backTo(0)
  try {
    const decks = known.get(model) ?? new Decks(model, over)
    known.set(model, decks)
    return new DeckByDeck(model, decks, wires, brief)
  } catch (e) {
    if (e instanceof OutOfTime) return undefined
    throw e
  }
}
