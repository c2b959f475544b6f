/** One goal on its way: the best value so far, the bound, and tries at what lies between them. */
import { type Clock, inSlices } from '../clock.ts'
import type { Placement } from '../problem.ts'
import type { Progress } from '../result.ts'
import type { Goal } from '../search/goals.ts'
import type { Model } from '../search/model.ts'
import { Dice } from '../search/neighbourhood.ts'
import type { Search, Stage, Verdict } from '../search/search.ts'

/** Conflicts in a patient try. */
export const PATIENCE = 3000

/** What the gap must be of the value to be far. */
const FAR = 0.1

/** What stays while a goal is improved. */
export interface Setting {
  readonly model: Model
  readonly search: Search
  readonly goal: Goal
  /** Literals of earlier goals. */
  readonly held: readonly number[]
  /** The best layout so far; every better one is left here. */
  readonly best: { placements: readonly Placement[] }
  readonly clock: Clock
  readonly tell: (p: Progress) => void
  /** Asked after every improvement: a polished layout and its value, where there is one. */
  readonly polished: (value: number) => { placements: readonly Placement[]; value: number } | undefined
}

/** A threshold, and the literal that asks for it. */
interface Asked {
  readonly aim: number
  readonly guard: number
}

export class Pursuit {
  readonly by: Setting
  readonly dice = new Dice()
  /** In the goal's whole numbers, as the bound is. */
  value: number
  bound: number
  /** A sum of whole items: it mostly grows by a rebuilt deck, which a search of its own finds sooner than small changes. */
  readonly coarse: boolean
  /** Less is not worth a try of its own while the gap is wide. */
  readonly grain: number
  /** What may be left between value and bound of a proven goal. */
  readonly slack: number
  /** How far beyond the bound it is tried to raise it. */
  rise: number
  private readonly asked: Asked[] = []
  /** Thresholds for which something was ruled out: who asks for more asks for them as well. */
  private readonly lasting: Asked[] = []

  /** `start`: the value of the best layout. `known`: a bound that holds already. At level 0, the goal begun. */
  constructor(by: Setting, start: number, known?: number) {
    const { goal } = by
    this.by = by
    this.value = start
    this.bound = goal.bound()
    if (known !== undefined && (this.bound - known) * goal.sign > 0) this.bound = known
    this.slack = goal.step === 1 ? 0 : goal.step * 1.001
    this.coarse = goal.grain === undefined
    this.grain = goal.grain ?? goal.step
    this.rise = this.gap / 8
  }

  get gap(): number {
    return (this.bound - this.value) * this.by.goal.sign
  }

  get isDone(): boolean {
    return this.gap <= this.slack
  }

  get isFar(): boolean {
    return this.gap > this.value * FAR
  }

  /** As many more as that, or fewer where fewer are better. */
  beyond(value: number, by: number): number {
    return value + this.by.goal.sign * by
  }

  tell(placements?: readonly Placement[]): void {
    const { goal, search, tell } = this.by
    const { name, scale } = goal
    const phase: Progress['phase'] = name === 'moves' || name === 'distance' ? 'moves' : name
    const so = { phase, value: this.value * scale, bound: this.bound * scale, steps: search.steps }
    tell(placements ? { ...so, placements } : so)
  }

  /**
   * A literal that asks for a value. Who asks for more asks for less as well, so that what was learned there holds here; for sums of
   * items it does not pay (2 × the steps on some decks), as each threshold has a propagator of its own.
   */
  ask(aim: number): number {
    const { model, goal } = this.by
    const { e } = model
    e.backTo(0)
    const guard = e.newBool()
    goal.require(aim, guard)
    e.log?.asked(goal.name, aim, guard)
    let next: Asked | undefined
    for (const a of this.asked)
      if ((aim - a.aim) * goal.sign >= 0 && !e.isFalse(a.guard) && (!next || (a.aim - next.aim) * goal.sign > 0))
        next = a
    if (next && !this.coarse) e.addClause([e.not(guard), next.guard])
    this.asked.push({ aim, guard })
    for (const l of this.lasting) if ((aim - l.aim) * goal.sign >= 0) e.addClause([e.not(guard), l.guard])
    return guard
  }

  /** Something was ruled out of what has this value: it is so for more, too. */
  keepAsking(aim: number, guard: number): void {
    this.lasting.push({ aim, guard })
  }

  /** Looks for a layout behind `guard`, with `more` in it; `stage` is decided first. */
  *look(guard: number, more: readonly number[], conflicts: number, stage?: Stage): Generator<undefined, Verdict> {
    const { model, search, goal, held, clock } = this.by
    search.stage = stage
    const verdict = yield* inSlices(search, [...held, guard, ...more], clock, conflicts)
    search.stage = undefined
    if (verdict === 'found') {
      const value = goal.value()
      const placements = search.placements()
      model.e.backTo(0)
      this.improved(value, placements)
      this.polish()
    }
    return verdict
  }

  /** Asks for a value: a layout that has it, a bound that it is beyond, or neither in so many conflicts. */
  *attempt(aim: number, conflicts: number, stage?: Stage): Generator<undefined, Verdict> {
    const guard = this.ask(aim)
    const verdict = yield* this.look(guard, [], conflicts, stage)
    if (verdict === 'none') {
      const { model, goal, held } = this.by
      model.e.log?.bound(goal.name, aim, [...held, guard])
      this.bound = goal.step === 1 ? aim - goal.sign : aim
      if (this.gap < 0) this.bound = this.value
      this.tell()
    }
    return verdict
  }

  polish(): void {
    const p = this.by.polished(this.value)
    if (p && (p.value - this.value) * this.by.goal.sign > 0) this.improved(p.value, p.placements)
  }

  private improved(value: number, placements: readonly Placement[]): void {
    this.value = value
    this.by.best.placements = placements
    this.by.search.follow(placements)
    this.tell(placements)
  }
}
