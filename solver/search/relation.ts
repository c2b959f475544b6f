/** A difference constraint behind a literal: lit → a + offset(a's mode) ≤ b + offset(b's mode), on one axis. */
import type { Placement } from '../problem.ts'
import type { Engine, Propagator } from './engine.ts'
import type { Body } from './model.ts'

/** A coordinate: an engine variable and the values (µm, ascending) that its indices stand for. */
export interface Axis {
  readonly v: number
  readonly values: Int32Array
}

/** First index with values[i] ≥ x (length when none). */
export function firstAtLeast(values: Int32Array, x: number): number {
  let lo = 0
  let hi = values.length
  while (lo < hi) {
    const mid = (lo + hi) >> 1
    if (values[mid]! >= x) hi = mid
    else lo = mid + 1
  }
  return lo
}

/** One end of a difference: the axis, and an offset for each mode literal (a single one when they are all equal). */
export interface End {
  readonly axis: Axis
  readonly modes: readonly number[]
  readonly offsets: readonly number[]
}

/** An end whose offset is the same in every mode. */
export const fixedEnd = (axis: Axis, offset: number): End => ({ axis, modes: [], offsets: [offset] })

export function makeEnd(axis: Axis, modes: readonly number[], offsets: readonly number[]): End {
  return offsets.every((o) => o === offsets[0]) ? fixedEnd(axis, offsets[0] ?? 0) : { axis, modes, offsets }
}

/** Least (`sign` 1) or greatest (−1) offset over the modes still open; NaN when none is. */
export function extreme(e: Engine, end: End, sign: 1 | -1): number {
  if (end.modes.length === 0) return end.offsets[0]!
  let best = Number.NaN
  for (let i = 0; i < end.modes.length; i++) {
    if (e.isFalse(end.modes[i]!)) continue
    const o = end.offsets[i]!
    if (!(best * sign <= o * sign)) best = o
  }
  return best
}

/** Says which closed modes made the extreme what it is. */
export function whyExtreme(e: Engine, end: End, sign: 1 | -1, used: number): void {
  for (let i = 0; i < end.modes.length; i++) if (end.offsets[i]! * sign < used * sign) e.why(e.not(end.modes[i]!))
}

export class Relation implements Propagator {
  readonly cost = 0
  private readonly e: Engine
  readonly lit: number
  readonly a: End
  readonly b: End

  constructor(e: Engine, lit: number, a: End, b: End) {
    this.e = e
    this.lit = lit
    this.a = a
    this.b = b
    e.wakeOnTrue(this, lit)
    e.wakeOn(this, a.axis.v, true, false)
    e.wakeOn(this, b.axis.v, false, true)
    for (const m of [...a.modes, ...b.modes]) e.wakeOnTrue(this, e.not(m))
    e.schedule(this)
  }

  /** How much room is left between the two (µm; negative = cannot hold). */
  slack(): number {
    const { e, a, b } = this
    return b.axis.values[e.ub[b.axis.v]!]! + extreme(e, b, -1) - a.axis.values[e.lb[a.axis.v]!]! - extreme(e, a, 1)
  }

  /** Holds whatever is decided later. */
  entailed(): boolean {
    const { e, a, b } = this
    return a.axis.values[e.ub[a.axis.v]!]! + extreme(e, a, -1) <= b.axis.values[e.lb[b.axis.v]!]! + extreme(e, b, 1)
  }

  /** Does it hold where two bodies stand in some layout? */
  holdsAt(one: Body, p: Placement, two: Body, q: Placement): boolean {
    const place = (end: End): number => {
      const [body, at] = end.axis === one.x || end.axis === one.y ? [one, p] : [two, q]
      const i = end.modes.length === 0 ? 0 : body.modes.findIndex((m) => m.deck === at.deck && m.turn === at.turn)
      return (end.axis === body.x ? at.at.x : at.at.y) + (end.offsets[i] ?? 0)
    }
    return place(this.a) <= place(this.b)
  }

  propagate(): boolean {
    const { e, lit, a, b } = this
    if (e.isFalse(lit)) return true
    const ao = extreme(e, a, 1)
    const bo = extreme(e, b, -1)
    const gap = ao - bo
    if (Number.isNaN(gap)) return true
    const av = a.axis.values
    const bv = b.axis.values
    const low = av[e.lb[a.axis.v]!]! + gap
    const high = bv[e.ub[b.axis.v]!]! - gap
    if (low > bv[e.ub[b.axis.v]!]!) {
      // even the closest they can come is too close: the weakest bounds that still say so
      const top = bv[e.ub[b.axis.v]!]!
      e.begin()
      e.why(e.ge(a.axis.v, firstAtLeast(av, top - gap + 1)))
      e.why(e.ubLit(b.axis.v))
      whyExtreme(e, a, 1, ao)
      whyExtreme(e, b, -1, bo)
      return e.imply(e.not(lit))
    }
    if (!e.isTrue(lit)) return true
    const kb = firstAtLeast(bv, low)
    if (kb > e.lb[b.axis.v]!) {
      e.begin()
      e.why(lit)
      e.why(e.ge(a.axis.v, firstAtLeast(av, bv[kb - 1]! - gap + 1)))
      whyExtreme(e, a, 1, ao)
      whyExtreme(e, b, -1, bo)
      if (!e.imply(e.ge(b.axis.v, kb))) return false
    }
    const ka = firstAtLeast(av, high + 1)
    if (ka <= e.ub[a.axis.v]!) {
      e.begin()
      e.why(lit)
      e.why(e.lt(b.axis.v, firstAtLeast(bv, av[ka]! + gap)))
      whyExtreme(e, a, 1, ao)
      whyExtreme(e, b, -1, bo)
      if (!e.imply(e.lt(a.axis.v, ka))) return false
    }
    return true
  }
}
