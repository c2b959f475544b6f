/** Σ length × conductors at most so much: each wire at least as long as its ends' boxes are apart. */
import { WireBound } from '../bounds/wire-bound.ts'
import { whyBoxes } from './chain-limit.ts'
import type { Propagator } from './engine.ts'
import type { Goal } from './goals.ts'
import { type Limit, tightest } from './limits.ts'
import type { Body, Model } from './model.ts'
import { extreme, firstAtLeast, whyExtreme } from './relation.ts'
import { type Candidate, isSure, leastLength, type WireEnds, wakeByEnds, whyDecks, wireEnds } from './wire-ends.ts'
import type { WireLength } from './wire-length.ts'
import { WireShares } from './wire-shares.ts'
import { span, type Tip, whyHigh, whyLeast, whyLow } from './within.ts'

export class WireGoal implements Goal, Propagator {
  readonly name: Goal['name']
  readonly sign = -1
  readonly step = 1
  readonly scale = 1
  readonly grain: number
  readonly cost = 2
  readonly model: Model
  readonly wires: readonly WireEnds[]
  private readonly limits: Limit[] = []
  private readonly least: Float64Array
  private begun: WireBound | undefined
  private fresh = false
  private shares: WireShares | undefined

  constructor(model: Model, wires: readonly WireEnds[] = wireEnds(model), name: Goal['name'] = 'wire-length') {
    this.model = model
    this.wires = wires
    this.name = name
    this.grain = model.problem.grid
    this.least = new Float64Array(wires.length)
  }

  /** As long as another goal comes first nothing here is woken, and no way of a wire is decided. */
  begin(): WireBound {
    if (this.begun) return this.begun
    const { model, wires } = this
    this.begun = new WireBound(model, wires)
    const { e } = model
    for (const w of wires) wakeByEnds(e, this, w)
    for (const g of model.relations) for (const r of g.four) e.wakeOnTrue(this, r.lit)
    return this.begun
  }

  get flow(): WireBound {
    return this.begin()
  }

  get choices(): ReadonlyMap<number, () => number> {
    return this.flow.choices
  }

  require(value: number, guard: number): void {
    this.limits.push({ most: value, guard })
    this.shares?.require(value, guard)
    this.begin()
    this.model.e.wakeOnTrue(this, guard)
    this.model.e.schedule(this)
  }

  /** From now on every wire has its length as a variable, and hubs are bounded as one: where many decks are left to many bodies, it pays. */
  *share(most: number): Generator<undefined, void> {
    // stand-ins for wires have neither
    if (this.name === 'wire-length') this.shares ??= yield* WireShares.of(this.model, this.wires, most)
  }

  /** The lengths as variables, once they are. */
  get lengths(): readonly WireLength[] {
    return this.shares?.lengths ?? []
  }

  wanted(body: Body, axis: 'x' | 'y'): number | undefined {
    return this.fresh ? this.flow.wanted(body, axis) : undefined
  }

  value(): number {
    return this.bound()
  }

  bound(): number {
    let sum = 0
    for (let i = 0; i < this.wires.length; i++) sum += this.lengthOf(i)
    return sum
  }

  /** Least length × conductors of one wire. */
  private lengthOf(i: number): number {
    const w = this.wires[i]!
    this.least[i] = this.isSure(i) ? leastLength(this.model, w) * w.wire.conductors : 0
    return this.least[i]!
  }

  private isSure(i: number): boolean {
    return isSure(this.model.e, this.wires[i]!)
  }

  /** What was read to find the wire at least so long. */
  private whyMeasure(i: number): void {
    const w = this.wires[i]!
    const { e } = this.model
    const sureOf = (list: readonly Candidate[]) => e.why(list.find((c) => e.isTrue(c.lit))!.lit)
    sureOf(w.from)
    sureOf(w.to)
    if (this.simple(w)) {
      const p = w.from[0]!
      const q = w.to[0]!
      whyLeast(e, p.tip.x, q.tip.x, span(e, p.tip.x, q.tip.x, 1))
      whyLeast(e, p.tip.y, q.tip.y, span(e, p.tip.y, q.tip.y, 1))
      return
    }
    for (const list of [w.from, w.to])
      for (const c of list) {
        if (e.isFalse(c.lit)) {
          e.why(e.not(c.lit))
          continue
        }
        whyBoxes(e, c.tip, c.tip)
        whyDecks(e, c)
      }
  }

  /** One thing at each end, and one deck. */
  private simple(w: WireEnds): boolean {
    const p = w.from[0]!
    const q = w.to[0]!
    return (
      w.from.length === 1 &&
      w.to.length === 1 &&
      p.decks.length === 1 &&
      q.decks.length === 1 &&
      p.decks[0]!.deck === q.decks[0]!.deck
    )
  }

  propagate(): boolean {
    const { e } = this.model
    const limit = tightest(e, this.limits)
    this.fresh = false
    if (!limit) return true
    const { most, guard } = limit
    const { shares } = this
    // lengths as variables are rounded down: near the limit only measuring tells
    let sum = shares ? shares.measure(this.least) : Number.POSITIVE_INFINITY
    const measured = !shares || sum > most - shares.rounding
    if (measured) sum = this.bound()
    const why = (i: number) => (measured ? this.whyMeasure(i) : shares!.whyLeast(i))
    if (sum > most) {
      let spare = sum - most - 1
      e.begin()
      e.why(guard)
      for (let i = 0; i < this.wires.length; i++) {
        const l = this.least[i]!
        if (l === 0) continue
        if (l <= spare) spare -= l
        else why(i)
      }
      return e.fail()
    }
    if (shares ? !shares.allow(most, guard) : !this.tighten(most - sum, guard)) return false
    const sure = (i: number) => this.isSure(i)
    if (this.flow.least((i) => this.least[i]!, sure) <= most) {
      this.fresh = true
      return true
    }
    e.begin()
    e.why(guard)
    this.flow.why((i) => this.least[i]!, why, most)
    return e.fail()
  }

  /** No wire may grow by more than the room that is left. */
  private tighten(room: number, guard: number): boolean {
    const { e } = this.model
    for (let i = 0; i < this.wires.length; i++) {
      const w = this.wires[i]!
      if (!this.simple(w) || w.wire.conductors === 0) continue
      const p = w.from[0]!
      const q = w.to[0]!
      if (!e.isTrue(p.lit) || !e.isTrue(q.lit)) continue
      const grow = Math.floor(room / w.wire.conductors)
      for (const axis of ['x', 'y'] as const)
        for (const [a, b] of [
          [p.tip, q.tip],
          [q.tip, p.tip],
        ] as const) {
          if (!this.follow(a, b, axis, grow, guard, i)) return false
        }
    }
    return true
  }

  /** `b` stays within (least + grow) of `a` along an axis. */
  private follow(a: Tip, b: Tip, axis: 'x' | 'y', grow: number, guard: number, skip: number): boolean {
    const { e } = this.model
    const s = span(e, a[axis], b[axis], 1)
    if (Number.isNaN(s.least)) return true
    const reach = s.least + grow
    const end = b[axis]
    const most = s.aHi + reach
    const least = s.aLo - reach
    const lowOffset = extreme(e, end, 1)
    const kHigh = firstAtLeast(end.axis.values, Math.floor(most - lowOffset) + 1)
    if (kHigh <= e.ub[end.axis.v]!) {
      this.whyRest(guard, skip)
      whyHigh(e, a[axis])
      whyLow(e, b[axis])
      whyHigh(e, b[axis])
      whyLow(e, a[axis])
      whyExtreme(e, end, 1, lowOffset)
      if (!e.imply(e.lt(end.axis.v, kHigh))) return false
    }
    const highOffset = extreme(e, end, -1)
    const kLow = firstAtLeast(end.axis.values, Math.ceil(least - highOffset))
    if (kLow > e.lb[end.axis.v]!) {
      this.whyRest(guard, skip)
      whyHigh(e, a[axis])
      whyLow(e, b[axis])
      whyHigh(e, b[axis])
      whyLow(e, a[axis])
      whyExtreme(e, end, -1, highOffset)
      if (!e.imply(e.ge(end.axis.v, kLow))) return false
    }
    return true
  }

  private whyRest(guard: number, own: number): void {
    const { e } = this.model
    e.begin()
    e.why(guard)
    for (let i = 0; i < this.wires.length; i++) if (i === own || this.least[i]! > 0) this.whyMeasure(i)
  }
}
