/**
 * Σ length × conductors at most so much, wire by wire: each has its length as a variable, so that what is learned speaks of how long a wire
 * is and not of why; and what the wires of one hub take together is known by decks (bounds/star.ts).
 */
import { bitOf, type Star, starsOf } from '../bounds/star.ts'
import type { Propagator } from './engine.ts'
import { type Limit, tightest } from './limits.ts'
import type { Model } from './model.ts'
import { firstAtLeast } from './relation.ts'
import type { Candidate, WireEnds } from './wire-ends.ts'
import { WireLength } from './wire-length.ts'

interface Hub {
  readonly star: Star
  readonly lengths: readonly WireLength[]
}

export class WireShares implements Propagator {
  readonly cost = 1
  private readonly model: Model
  readonly lengths: readonly WireLength[]
  private readonly hubs: readonly Hub[]
  /** Of no hub. */
  private readonly single: readonly WireLength[]
  private readonly limits: Limit[] = []
  private readonly byWire: ReadonlyMap<number, WireLength>
  /** By how much the sum may be too small, as each length is rounded down. */
  readonly rounding: number
  /** What a reason may leave out. */
  private spare = 0

  /** No threshold will be more than `most`. Pauses often; at level 0. */
  static *of(model: Model, wires: readonly WireEnds[], most: number): Generator<undefined, WireShares> {
    return new WireShares(model, wires, most, yield* starsOf(model, wires))
  }

  private constructor(model: Model, wires: readonly WireEnds[], most: number, stars: readonly Star[]) {
    this.model = model
    this.byWire = new Map(
      wires.filter((w) => w.wire.conductors > 0).map((w) => [w.index, new WireLength(model, w, most)]),
    )
    this.lengths = [...this.byWire.values()]
    this.rounding = this.lengths.reduce((sum, { axis }) => sum + axis.values[1]!, 0)
    this.hubs = stars.map((star) => ({ star, lengths: star.rays.map((r) => this.byWire.get(r.wire)!) }))
    const rays = new Set(this.hubs.flatMap((h) => h.lengths))
    this.single = this.lengths.filter((l) => !rays.has(l))
    for (const l of this.lengths) model.e.wakeOn(this, l.axis.v, true, false)
  }

  require(most: number, guard: number): void {
    this.limits.push({ most, guard })
    this.model.e.wakeOnTrue(this, guard)
    this.model.e.schedule(this)
  }

  private least({ axis }: WireLength): number {
    return axis.values[this.model.e.lb[axis.v]!]!
  }

  /** Into `out`, by wire: length × conductors, at least; their sum. */
  measure(out: Float64Array): number {
    let sum = 0
    for (const [i, l] of this.byWire) {
      out[i] = this.least(l)
      sum += out[i]!
    }
    return sum
  }

  whyLeast(wire: number): void {
    const { e } = this.model
    const l = this.byWire.get(wire)
    if (l) e.why(e.lbLit(l.axis.v))
  }

  /** Each wire no longer than the others leave. */
  propagate(): boolean {
    const { e } = this.model
    const limit = tightest(e, this.limits)
    if (!limit) return true
    const { most, guard } = limit
    let room = most
    for (const l of this.lengths) room -= this.least(l)
    if (room < 0) {
      e.begin()
      e.why(guard)
      this.spare = -room - 1
      for (const l of this.lengths) this.whyLength(l)
      return e.fail()
    }
    for (const l of this.lengths) {
      const { v, values } = l.axis
      const longest = this.least(l) + room
      if (values[e.ub[v]!]! <= longest) continue
      const k = firstAtLeast(values, longest + 1)
      e.begin()
      e.why(guard)
      this.spare = values[k]! - longest - 1
      for (const o of this.lengths) if (o !== l) this.whyLength(o)
      if (!e.imply(e.lt(v, k))) return false
    }
    return true
  }

  /** What hubs take at least, by decks: false = more than `most`, and said why. */
  allow(most: number, guard: number): boolean {
    const { e } = this.model
    let sum = 0
    for (const l of this.single) sum += this.least(l)
    const shares = this.hubs.map((hub) => {
      let apart = 0
      for (const l of hub.lengths) apart += this.least(l)
      const sure = e.isTrue(hub.star.hub.present)
      const decks = sure ? hub.star.rays.map((r) => this.decksOf(r.to)) : []
      const modes = sure ? this.modesOf(hub.star) : 0
      const together = sure ? hub.star.least(decks, modes) : 0
      sum += Math.max(apart, together)
      return { hub, apart, together, decks, modes }
    })
    if (sum <= most) return true
    e.begin()
    e.why(guard)
    this.spare = sum - most - 1
    for (const { hub, apart, together, decks, modes } of shares)
      if (apart >= together) for (const l of hub.lengths) this.whyLength(l)
      else this.whyHub(hub.star, decks, modes, together)
    for (const l of this.single) this.whyLength(l)
    return e.fail()
  }

  /** Bits of the decks on which the end may still be; 0 as long as it may be absent. */
  private decksOf(c: Candidate): number {
    const { e } = this.model
    if (!e.isTrue(c.lit)) return 0
    let bits = 0
    for (const d of c.decks) if (!e.isFalse(d.lit)) bits |= 1 << d.deck
    return bits
  }

  private modesOf({ hub }: Star): number {
    let bits = 0
    for (const m of hub.modes) if (!this.model.e.isFalse(m.lit)) bits |= bitOf(m)
    return bits
  }

  /** A wire's length as it is, or less as far as may be left out. */
  private whyLength({ axis: { v, values } }: WireLength): void {
    const { e } = this.model
    const now = values[e.lb[v]!]!
    const k = firstAtLeast(values, now - this.spare)
    this.spare -= now - values[k]!
    e.why(e.ge(v, k))
  }

  /** Names the decks and modes without which the hub would take too little. */
  private whyHub(star: Star, decks: number[], modes: number, together: number): void {
    const { e } = this.model
    let now = together
    const without = (fewer: number): boolean => {
      if (now - fewer > this.spare) return false
      this.spare -= now - fewer
      now = fewer
      return true
    }
    const { hub, rays } = star
    e.why(hub.present)
    for (const bit of new Set(hub.modes.map(bitOf))) {
      if (modes & bit) continue
      if (without(star.least(decks, modes | bit))) modes |= bit
      else for (const m of hub.modes) if (bitOf(m) === bit) e.why(e.not(m.lit))
    }
    rays.forEach(({ to }, k) => {
      const own = decks[k]!
      if (own === 0) return
      decks[k] = 0
      if (without(star.least(decks, modes))) return
      decks[k] = own
      e.why(to.lit)
      for (const d of to.decks) {
        const bit = 1 << d.deck
        if (own & bit) continue
        decks[k]! |= bit
        if (without(star.least(decks, modes))) continue
        decks[k]! &= ~bit
        e.why(e.not(d.lit))
      }
    })
  }
}
