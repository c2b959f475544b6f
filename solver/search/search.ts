/** Decisions, restarts and assumptions around the engine: from a model to a standing layout, or to "none". */
import type { Placement } from '../problem.ts'
import { FALSE } from './engine.ts'
import { Learner } from './learn.ts'
import type { Body, Model, Relations } from './model.ts'
import { modeAt, standingLayout } from './placed.ts'
import { type Axis, firstAtLeast } from './relation.ts'

export type Verdict = 'found' | 'none' | 'stopped'

/** What is decided before anything else. */
export interface Stage {
  /** The literal to decide next; −1: nothing is left to decide. */
  next(): number
  /**
   * Asked once nothing is left: a clause that holds and that these decisions break, or that one of the limits came first; none = go on.
   * Adds the steps that it takes to those of the search.
   */
  refute(pause: () => boolean, conflicts: number, steps: number): readonly number[] | 'stopped' | undefined
}

export class Search {
  readonly model: Model
  readonly learner: Learner
  /** Asked of every layout before it counts as found: literals, all true in it, that must not be together; none = fine. */
  veto: (() => readonly number[] | undefined) | undefined
  /** Stand where the followed layout stands before anything else is decided, and leave out what it leaves out. */
  lean = false
  /** Leave out what may be left out: the quickest way to a first layout. */
  sparse = false
  /** Where a body would best stand, asked before one is stood anywhere. */
  wanted: ((b: Body, axis: 'x' | 'y') => number | undefined) | undefined
  /** By variable: what to decide on instead; −1 = nothing yet. */
  choices: ReadonlyMap<number, () => number> | undefined
  /** Leave out what the followed layout leaves out. */
  followOut = false
  stage: Stage | undefined
  /** Assumptions that the last "none" goes back to. */
  core: number[] = []
  private readonly order: readonly Body[]
  private best: ReadonlyMap<number, Placement> = new Map()
  private readonly modeBody = new Map<number, Body>()
  /** By the variable of their presence. */
  private readonly optional = new Map<number, Body>()
  private restarts = 0
  private readonly classOf = new Map<number, Model['classes'][number]>()
  private untilRestart = 0
  private maxLearnts = 4000

  constructor(model: Model) {
    this.model = model
    this.learner = new Learner(model.e)
    this.order = [...model.bodies].sort((a, b) => Number(!!a.seating) - Number(!!b.seating))
    const { e } = model
    const heap = e.order
    for (const b of model.bodies) {
      heap.allow(e.varOf(b.present), 1000 + area(b) / 1e10)
      if (!b.item.required) this.optional.set(e.varOf(b.present), b)
      for (const m of b.modes) {
        this.modeBody.set(e.varOf(m.lit), b)
        heap.allow(e.varOf(m.lit), 500 + area(b) / 1e10)
      }
    }
    for (const c of model.classes) {
      this.classOf.set(e.varOf(c.lit), c)
      // decided on once conflicts show that it matters: until then a mode says all at once
      heap.allow(e.varOf(c.lit), area(c.body) / 1e10)
    }
    for (const g of [...model.relations, ...model.onBoards]) {
      const weight = (area(g.a) + area(g.b)) / 1e11
      for (const r of g.four) heap.allow(e.varOf(r.lit), weight)
    }
  }

  get steps(): number {
    return this.model.e.conflicts + this.model.e.decisions
  }

  /** A layout to lean on: where a choice is free, it is followed. */
  follow(placements: readonly Placement[]): void {
    this.best = new Map(placements.map((p) => [p.item, p]))
  }

  /**
   * Searches under assumptions until found, refuted, or `pause` says so (asked every few steps). The two limits, counted from the
   * beginning of all, end it at the same step every time, wherever the pauses fall.
   */
  run(
    assumptions: readonly number[],
    pause: () => boolean,
    conflicts = Number.POSITIVE_INFINITY,
    steps = Number.POSITIVE_INFINITY,
  ): Verdict {
    const { e } = this.model
    this.core = []
    if (!e.ok) return 'none'
    let sinceAsked = 0
    let vetoed = false
    for (;;) {
      if (vetoed || !e.propagate()) {
        vetoed = false
        if (!this.afterConflict()) return 'none'
        continue
      }
      if (this.untilRestart <= 0 && e.level > assumptions.length) {
        this.restart()
        continue
      }
      if (e.conflicts >= conflicts || this.steps >= steps) return 'stopped'
      if (++sinceAsked >= 16) {
        sinceAsked = 0
        if (pause()) return 'stopped'
      }
      if (e.level < assumptions.length) {
        if (!this.assume(assumptions[e.level]!)) return 'none'
        continue
      }
      const early = this.stage?.next() ?? -1
      if (this.stage && early === -1) {
        const ruled = this.stage.refute(pause, conflicts - e.conflicts, steps - this.steps)
        if (ruled === 'stopped') return ruled
        if (ruled) {
          e.backTo(0)
          e.keep(ruled)
          if (!e.ok) return 'none'
          continue
        }
      }
      const lit = early === -1 ? this.choose() : early
      if (lit === -1) {
        const bad = this.veto?.()
        if (!bad) return 'found'
        e.conflict = [...bad]
        e.log?.deduced(FALSE, bad, this)
        vetoed = true
        continue
      }
      e.decisions++
      e.decide(lit)
    }
  }

  /** Learns from it, and goes back to where that says something; false: there is nothing, whatever is assumed. */
  private afterConflict(): boolean {
    const { e } = this.model
    e.conflicts++
    this.untilRestart--
    const learnt = e.level === 0 ? undefined : this.learner.analyse(e.conflict)
    if (!learnt) {
      e.backTo(0)
      e.ok = false
      return false
    }
    e.backTo(learnt.backTo)
    e.learn(learnt.lits, learnt.lbd)
    e.decay()
    return e.ok
  }

  private restart(): void {
    const { e } = this.model
    this.restarts++
    this.untilRestart = 256 * luby(this.restarts)
    e.backTo(0)
    if (e.learned > this.maxLearnts) {
      e.forget()
      this.maxLearnts *= 1.1
    }
  }

  /** On a level of its own; false where it cannot be, with `core` as the reason. */
  private assume(next: number): boolean {
    const { e } = this.model
    if (e.isTrue(next)) e.openLevel()
    else if (e.isFalse(next)) {
      this.core = this.learner.core([e.not(next)])
      if (!this.core.includes(next)) this.core.push(next)
      e.log?.learned(this.core.map((l) => l ^ 1))
      e.backTo(0)
      return false
    } else e.decide(next)
    return true
  }

  /** Only after 'found', before anything else. */
  placements(): Placement[] {
    return standingLayout(this.model)
  }

  private choose(): number {
    const { e } = this.model
    if (this.lean) {
      const lit = this.leanOn()
      if (lit !== -1) return lit
    }
    for (;;) {
      const v = e.order.pop()
      if (v === -1) break
      if (e.lb[v] !== e.ub[v]) {
        const lit = this.pick(v)
        if (lit !== -1) return lit
        // not worth deciding below this level; offered again above it
        e.skip(v)
      }
    }
    for (const b of this.order) {
      if (!e.isTrue(b.present)) continue
      const axes = b.seating
        ? this.wanted
          ? [b.x, b.y, b.seating.u, b.seating.v]
          : [b.seating.u, b.seating.v, b.x, b.y]
        : [b.x, b.y]
      for (const a of axes) if (e.lb[a.v] !== e.ub[a.v]) return this.stand(b, a)
    }
    return -1
  }

  /** The followed layout, item by item, wherever it is still possible. */
  private leanOn(): number {
    const { e, bodies } = this.model
    for (const b of bodies) {
      const old = this.best.get(b.index)
      if (!old) {
        if (!e.isTrue(b.present) && !e.isFalse(b.present)) return e.not(b.present)
        continue
      }
      if (e.isFalse(b.present)) continue
      const mode = modeAt(b.modes, old)
      if (!mode || e.isFalse(mode.lit)) continue
      if (!e.isTrue(mode.lit)) return mode.lit
      for (const [a, at] of [
        [b.x, old.at.x],
        [b.y, old.at.y],
      ] as const) {
        const k = firstAtLeast(a.values, at)
        if (a.values[k] !== at || k < e.lb[a.v]! || k > e.ub[a.v]! || e.lb[a.v] === e.ub[a.v]) continue
        return e.lb[a.v]! < k ? e.ge(a.v, k) : e.lt(a.v, k + 1)
      }
    }
    return -1
  }

  private pick(v: number): number {
    const { e, relationOf } = this.model
    const g = relationOf[v]
    if (g) return this.pickRelation(g, v)
    const c = this.classOf.get(v)
    if (c) {
      if (!e.isTrue(c.body.present)) return -1
      const old = this.best.get(c.body.index)
      return !old || modeAt(c.modes, old) ? e.ge(v, 1) : e.lt(v, 1)
    }
    const body = this.modeBody.get(v)
    if (!body) {
      const choice = this.choices?.get(v)
      if (choice) {
        const lit = choice()
        if (lit !== -1 && e.varOf(lit) !== v) e.order.insert(v)
        return lit
      }
      const may = this.optional.get(v)
      const out = may && (this.sparse || (this.followOut && !this.best.has(may.index)))
      return out ? e.lt(v, 1) : e.ge(v, 1)
    }
    // a mode: the one that the best layout has, else this one
    const old = this.best.get(body.index)
    if (old) {
      const m = modeAt(body.modes, old)
      if (m && !e.isFalse(m.lit)) {
        if (e.varOf(m.lit) !== v) e.order.insert(v)
        return e.isTrue(m.lit) ? -1 : m.lit
      }
    }
    return e.ge(v, 1)
  }

  private pickRelation(g: Relations, v: number): number {
    const { e } = this.model
    if (!e.isTrue(g.a.present) || !e.isTrue(g.b.present)) return -1
    const ma = this.model.modeOf(g.a)
    const mb = this.model.modeOf(g.b)
    if (ma && mb && !g.active(ma, mb)) return -1
    let choice = -1
    let most = Number.NEGATIVE_INFINITY
    const inBest = this.best.has(g.a.index) && this.best.has(g.b.index)
    for (const r of g.four) {
      if (e.isTrue(r.lit) || r.entailed()) return -1
      if (e.isFalse(r.lit)) continue
      let slack = r.slack()
      if (Number.isNaN(slack)) continue
      // what holds in the best layout goes first
      if (inBest && g.holds(r, this.best)) slack += 1e9
      if (slack > most) {
        most = slack
        choice = r.lit
      }
    }
    if (choice !== -1 && e.varOf(choice) !== v) e.order.insert(v)
    return choice
  }

  /** Fixes one coordinate: where the best layout has it, else as low as it goes. */
  private stand(b: Body, a: Axis): number {
    const { e } = this.model
    const wanted = a === b.x ? this.wanted?.(b, 'x') : a === b.y ? this.wanted?.(b, 'y') : undefined
    const old = this.best.get(b.index)
    const lo = e.lb[a.v]!
    const hi = e.ub[a.v]!
    let k = lo
    if (wanted !== undefined) k = Math.min(hi, Math.max(lo, firstAtLeast(a.values, wanted)))
    else if (old && (a === b.x || a === b.y)) {
      const want = a === b.x ? old.at.x : old.at.y
      k = Math.min(hi, Math.max(lo, firstAtLeast(a.values, want)))
    }
    if (k === hi) return e.ge(a.v, hi)
    return k === lo ? e.lt(a.v, lo + 1) : e.ge(a.v, k)
  }
}

/** Of its body, µm². */
export const area = (b: Body): number => b.footprint.width * b.footprint.depth

function luby(i: number): number {
  let k = 1
  while ((1 << k) - 1 < i) k++
  return (1 << k) - 1 === i ? 1 << (k - 1) : luby(i - (1 << (k - 1)) + 1)
}
