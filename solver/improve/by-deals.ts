/** Wires far from their bound: bodies are dealt out to the decks anew, half of the steps for better layouts, half for the bound. */
import { figures } from '../check/figures.ts'
import { deckByDeck } from '../decks.ts'
import { Redeal } from '../search/redeal.ts'
import type { Stage } from '../search/search.ts'
import type { WireEnds } from '../search/wire-ends.ts'
import type { Around } from './around.ts'
import { PATIENCE, type Pursuit } from './pursuit.ts'

/** Conflicts in a round in which some bodies may change decks: most that find anything find it sooner. */
const ROUND = 250

/** In one where none has found anything for long: from some layouts only much at once leads on. */
const MOST = 2000

/** Such a round aims at so small a part of the gap. */
const LEAPS = 32

export class ByDeals {
  private readonly p: Pursuit
  private readonly around: Around
  private readonly wires: readonly WireEnds[]
  private readonly redeal: Redeal
  /** For better layouts, and for the bound. */
  private readonly better: Stage
  private readonly bound: Stage

  private constructor(p: Pursuit, around: Around, wires: readonly WireEnds[], better: Stage, bound: Stage) {
    this.p = p
    this.around = around
    this.wires = wires
    this.redeal = new Redeal(p.by.model, wires, p.dice)
    this.better = better
    this.bound = bound
  }

  /** None where there is one deck, nothing of wires in the goal, or no time to look at each deck. */
  static *of(p: Pursuit, around: Around): Generator<undefined, ByDeals | undefined> {
    const { model, goal, clock } = p.by
    const { wires } = goal
    const better = wires && deckByDeck(model, clock.over, wires)
    const bound = better && deckByDeck(model, clock.over, wires, true)
    if (!bound) return undefined
    const sharing = goal.share?.(p.value)
    while (sharing?.next().done === false && !clock.over()) {
      if (!clock.slice()) continue
      yield undefined
      clock.next()
    }
    return new ByDeals(p, around, wires, better, bound)
  }

  /** Until the value is near its bound. */
  *untilNear(): Generator<undefined, void> {
    const { p } = this
    const { search, best, clock } = p.by
    const since = search.steps
    let spent = 0
    let most = ROUND
    while (p.isFar && !clock.over()) {
      const before = search.steps
      if (spent <= (before - since) / 2) {
        const more = Math.floor(Math.min(p.rise, p.gap / 6))
        search.follow([])
        // stopped, it goes on next time from what was learned
        if ((yield* p.attempt(p.beyond(p.bound, -more), PATIENCE, this.bound)) === 'none') p.rise = more * 2
        search.follow(best.placements)
        spent += search.steps - before
        continue
      }
      const was = p.value
      yield* this.rounds(Math.max(10, (40 * ROUND) / most), most)
      if (p.value === was && p.isFar) {
        yield* p.attempt(this.aim(), PATIENCE, this.better)
        yield* this.around.rounds(6)
      }
      most = p.value === was ? Math.min(2 * most, MOST) : ROUND
    }
  }

  /** Rounds of so many conflicts in which a few wires' ends may change decks, until `stale` of them in a row gain nothing. */
  *rounds(stale: number, conflicts = ROUND): Generator<undefined, void> {
    const { p } = this
    const { best, clock } = p.by
    let dear = this.costs()
    for (let idle = 0; idle < stale && !p.isDone && !clock.over(); ) {
      const guard = p.ask(this.aim())
      if ((yield* p.look(guard, this.redeal.hold(best.placements, dear), conflicts, this.better)) !== 'found') idle++
      else {
        idle = 0
        yield* this.around.rounds(4)
        dear = this.costs()
      }
    }
  }

  private aim(): number {
    const { p } = this
    return p.beyond(p.value, Math.max(p.by.goal.step, Math.floor(p.gap / LEAPS)))
  }

  /** Of each wire in the best layout; of what only stands for wires, all the same. */
  private costs(): number[] {
    const { model, goal, best } = this.p.by
    if (goal.name !== 'wire-length') return this.wires.map(() => 1)
    const lengths = new Map(figures(model.problem, best.placements).wires.map((w) => [w.wire, w.length]))
    return this.wires.map((w) => w.wire.conductors * (lengths.get(w.index) ?? 0))
  }
}
