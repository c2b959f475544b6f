/** The length of a wire as a variable: at least as long as its ends' boxes are apart, its ends no further apart than it is long. */
import type { Engine, Propagator } from './engine.ts'
import type { Model } from './model.ts'
import { type End, extreme } from './relation.ts'
import {
  type Candidate,
  chainsOf,
  isSure,
  leastBetween,
  leastLength,
  riseBetween,
  type WireEnds,
  wakeByEnds,
} from './wire-ends.ts'
import { pullTogether, span, whyHigh, whyLeast, whyLow } from './within.ts'

type OnDeck = Candidate['decks'][number]

/** Steps into which the longest length is cut. */
const STEPS = 4000

export class WireLength implements Propagator {
  readonly cost = 1
  private readonly model: Model
  private readonly e: Engine
  private readonly ends: WireEnds
  /** Length × conductors, rounded down: many conductors over many metres are more than 32 bits hold. */
  readonly axis: { readonly v: number; readonly values: Int32Array | Float64Array }
  /** Length of one step, µm. */
  private readonly unit: number

  constructor(model: Model, ends: WireEnds, most: number) {
    const { e } = model
    this.model = model
    this.e = e
    this.ends = ends
    const longest = Math.floor(most / ends.wire.conductors)
    this.unit = Math.max(1, Math.ceil(longest / STEPS))
    const { unit } = this
    const steps = Math.floor(longest / unit) + 2
    const step = unit * ends.wire.conductors
    const values = steps * step < 2 ** 31 ? new Int32Array(steps) : new Float64Array(steps)
    for (let k = 0; k < steps; k++) values[k] = k * step
    this.axis = { v: e.newVar(values.length), values }
    e.wakeOn(this, this.axis.v, false, true)
    wakeByEnds(e, this, ends)
    e.schedule(this)
  }

  get wire(): number {
    return this.ends.index
  }

  /** The variable's value for a length, µm. */
  stepOf(length: number): number {
    return Math.min(this.axis.values.length - 1, Math.floor(length / this.unit))
  }

  propagate(): boolean {
    const { e, model, ends, axis, unit } = this
    if (!isSure(e, ends)) return true
    const k = this.stepOf(leastLength(model, ends))
    if (k > e.lb[axis.v]!) {
      const ub = e.ub[axis.v]!
      e.begin()
      if (k > ub) {
        e.why(e.ubLit(axis.v))
        this.why((ub + 1) * unit)
        return e.fail()
      }
      this.why(k * unit)
      if (!e.imply(e.ge(axis.v, k))) return false
    }
    const ub = e.ub[axis.v]!
    if (ub === axis.values.length - 1) return true
    return this.near((ub + 1) * unit - 1)
  }

  /** Names what makes the wire at least `need` long. */
  private why(need: number): void {
    const { e, ends } = this
    for (const list of [ends.from, ends.to]) e.why(list.find((c) => e.isTrue(c.lit))!.lit)
    for (const p of ends.from)
      for (const q of ends.to) {
        const off = [p, q].find((c) => e.isFalse(c.lit))
        if (off) e.why(e.not(off.lit))
        else for (const dp of p.decks) for (const dq of q.decks) this.whyPair(p, q, dp, dq, need)
      }
  }

  /** Names what keeps two ends on these decks `need` apart, or off these decks. */
  private whyPair(p: Candidate, q: Candidate, dp: OnDeck, dq: OnDeck, need: number): void {
    const { e, model } = this
    const chains = dp.deck === dq.deck ? [] : chainsOf(model, dp.deck, dq.deck)
    const rise = riseBetween(model, dp.deck, dq.deck)
    const across = dp.deck !== dq.deck
    if (across && chains.every((c) => c.between + rise >= need)) return
    const closed = [dp, dq].find((d) => e.isFalse(d.lit))
    if (closed) {
      e.why(e.not(closed.lit))
      return
    }
    if (!across) {
      const [x, y] = [span(e, p.tip.x, q.tip.x, 1), span(e, p.tip.y, q.tip.y, 1)]
      // one of them may do
      if (x.least >= need || y.least < need) whyLeast(e, p.tip.x, q.tip.x, x)
      if (x.least < need) whyLeast(e, p.tip.y, q.tip.y, y)
      return
    }
    for (const c of chains) {
      if (c.between + rise >= need) continue
      let left = need - c.between - rise
      for (const [end, at] of [
        [p.tip.x, c.x0],
        [p.tip.y, c.y0],
        [q.tip.x, c.x1],
        [q.tip.y, c.y1],
      ] as const) {
        if (left <= 0) break
        left -= this.whyOff(end, at)
      }
    }
  }

  private whyOff(end: End, at: number): number {
    const { e } = this
    const low = end.axis.values[e.lb[end.axis.v]!]! + extreme(e, end, 1)
    if (low > at) {
      whyLow(e, end)
      return low - at
    }
    const high = end.axis.values[e.ub[end.axis.v]!]! + extreme(e, end, -1)
    if (high >= at) return 0
    whyHigh(e, end)
    return at - high
  }

  /** Neither end further from the other than `most`. */
  private near(most: number): boolean {
    const { e, ends } = this
    const [p, q] = [ends.from[0]!, ends.to[0]!]
    if (ends.from.length > 1 || ends.to.length > 1) return true
    if (!this.decks(p, q, most) || !this.decks(q, p, most)) return false
    const dp = p.decks.find((d) => e.isTrue(d.lit))
    const dq = q.decks.find((d) => e.isTrue(d.lit))
    if (!dp || !dq || dp.deck !== dq.deck) return true
    const [sx, sy] = [span(e, p.tip.x, q.tip.x, 1), span(e, p.tip.y, q.tip.y, 1)]
    if (Number.isNaN(sx.least + sy.least)) return true
    return pullTogether(e, p.tip, q.tip, 1, most, sx, sy, () => {
      e.why(e.ubLit(this.axis.v))
      for (const l of [p.lit, q.lit, dp.lit, dq.lit]) e.why(l)
    })
  }

  /** `p` is on no deck from which every way is too long. */
  private decks(p: Candidate, q: Candidate, most: number): boolean {
    const { e, model, axis } = this
    if (p.decks.length === 1) return true
    for (const dp of p.decks) {
      if (e.isFalse(dp.lit) || e.isTrue(dp.lit)) continue
      let far = true
      for (const dq of q.decks)
        if (!e.isFalse(dq.lit) && !(leastBetween(model, p.tip, q.tip, dp.deck, dq.deck) > most)) far = false
      if (!far) continue
      e.begin()
      e.why(e.ubLit(axis.v))
      e.why(p.lit)
      e.why(q.lit)
      for (const dq of q.decks) this.whyPair(p, q, dp, dq, most + 1)
      if (!e.imply(e.not(dp.lit))) return false
    }
    return true
  }
}
