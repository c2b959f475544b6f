/** A difference constraint behind a literal: lit → a + offset(a's mode) ≤ b + offset(b's mode), on one axis. */
import type { Placement } from '../problem.ts'
import type { Eager, Engine } from './engine.ts'
import type { Body } from './model.ts'

/** A coordinate: an engine variable and the values (µm, ascending) that its indices stand for. */
export interface Axis {
  readonly v: number
  readonly values: Int32Array
}

/** First index with values[i] ≥ x (length when none). */
export function firstAtLeast(values: ArrayLike<number>, x: number): number {
  const last = values.length - 1
  if (last < 0 || values[0]! >= x) return 0
  if (!(values[last]! >= x)) return last + 1
  // most values are those of a grid: where they are evenly spaced, this is the place
  const guess = Math.ceil(((x - values[0]!) / (values[last]! - values[0]!)) * last)
  let lo = 0
  let hi = last
  if (values[guess]! >= x) {
    if (values[guess - 1]! < x) return guess
    hi = guess - 1
  } else lo = guess + 1
  while (lo < hi) {
    const mid = (lo + hi) >> 1
    if (values[mid]! >= x) hi = mid
    else lo = mid + 1
  }
  return lo
}

/** One end of a difference: the axis, and an offset for each class of modes (a single one when they are all equal). */
export interface End {
  readonly axis: Axis
  /** A literal a class: the body is in one of its modes. */
  readonly modes: readonly number[]
  readonly offsets: readonly number[]
  /** By the body's mode: its class. */
  readonly classOf: readonly number[]
  /** The mode that was true when last asked. */
  last: number
}

/** An end whose offset is the same in every mode. */
export const fixedEnd = (axis: Axis, offset: number): End => ({
  axis,
  modes: [],
  offsets: [offset],
  classOf: [],
  last: 0,
})

/** Least (`sign` 1) or greatest (−1) offset over the modes still open; NaN when none is. */
export function extreme(e: Engine, end: End, sign: 1 | -1): number {
  const { modes, offsets } = end
  if (modes.length === 0) return offsets[0]!
  // once a mode is chosen it mostly stays chosen
  if (e.isTrue(modes[end.last]!)) return offsets[end.last]!
  let best = Number.NaN
  for (let i = 0; i < modes.length; i++) {
    if (e.isFalse(modes[i]!)) continue
    const o = offsets[i]!
    if (e.isTrue(modes[i]!)) {
      end.last = i
      return o
    }
    if (!(best * sign <= o * sign)) best = o
  }
  return best
}

/** Says which modes made the extreme what it is: those closed that would have been further, or the one that is chosen. */
export function whyExtreme(e: Engine, end: End, sign: 1 | -1, used: number): void {
  const { modes, offsets } = end
  for (let i = 0; i < modes.length; i++) {
    if (offsets[i]! * sign >= used * sign || e.isFalse(modes[i]!)) continue
    e.why(modes[end.last]!)
    return
  }
  for (let i = 0; i < modes.length; i++) if (offsets[i]! * sign < used * sign) e.why(e.not(modes[i]!))
}

export class Relation implements Eager {
  private readonly e: Engine
  readonly lit: number
  readonly v: number
  readonly need: number
  readonly a: End
  readonly b: End
  private readonly va: number
  private readonly vb: number
  private readonly av: Int32Array
  private readonly bv: Int32Array
  /** The offsets' difference where no mode changes it, else NaN. */
  private readonly constant: number
  /** The greatest that the difference can be in any modes. */
  private readonly widest: number

  constructor(e: Engine, lit: number, a: End, b: End, need = lit) {
    this.e = e
    this.lit = lit
    this.v = e.varOf(lit)
    this.need = e.varOf(need)
    this.a = a
    this.b = b
    this.va = a.axis.v
    this.vb = b.axis.v
    this.av = a.axis.values
    this.bv = b.axis.values
    this.constant = a.modes.length + b.modes.length === 0 ? a.offsets[0]! - b.offsets[0]! : Number.NaN
    this.widest = Math.max(...a.offsets) - Math.min(...b.offsets)
    e.callOn(this, this.v, true, false)
    e.callOn(this, this.va, true, false)
    e.callOn(this, this.vb, false, true)
    for (const m of a.modes) e.callOn(this, e.varOf(m), false, true)
    for (const m of b.modes) e.callOn(this, e.varOf(m), false, true)
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
      return (end.axis === body.x ? at.at.x : at.at.y) + (end.offsets[end.classOf[i] ?? 0] ?? 0)
    }
    return place(this.a) <= place(this.b)
  }

  propagate(): boolean {
    const { e, av, bv, va, vb } = this
    const { lb, ub } = e
    const lowest = av[lb[va]!]!
    const highest = bv[ub[vb]!]!
    const on = lb[this.v] === 1
    // most pairs are far from each other, whatever their modes
    const wide = this.widest
    if (lowest + wide <= highest && (!on || (bv[lb[vb]!]! >= lowest + wide && av[ub[va]!]! <= highest - wide)))
      return true
    let mostA = 0
    let leastB = 0
    let gap = this.constant
    if (Number.isNaN(gap)) {
      mostA = extreme(e, this.a, 1)
      leastB = extreme(e, this.b, -1)
      gap = mostA - leastB
      if (Number.isNaN(gap)) return true
    }
    if (lowest + gap > highest) {
      // even the closest they can come is too close: the weakest bounds that still say so
      e.begin()
      e.why(e.ge(va, firstAtLeast(av, highest - gap + 1)))
      e.why(e.ubLit(vb))
      this.whyGap(mostA, leastB)
      return e.imply(e.not(this.lit))
    }
    if (!on) return true
    if (bv[lb[vb]!]! < lowest + gap) {
      const k = firstAtLeast(bv, lowest + gap)
      e.begin()
      e.why(this.lit)
      e.why(e.ge(va, firstAtLeast(av, bv[k - 1]! - gap + 1)))
      this.whyGap(mostA, leastB)
      if (!e.imply(e.ge(vb, k))) return false
    }
    if (av[ub[va]!]! > highest - gap) {
      const k = firstAtLeast(av, highest - gap + 1)
      e.begin()
      e.why(this.lit)
      e.why(e.lt(vb, firstAtLeast(bv, av[k]! + gap)))
      this.whyGap(mostA, leastB)
      if (!e.imply(e.lt(va, k))) return false
    }
    return true
  }

  private whyGap(mostA: number, leastB: number): void {
    if (!Number.isNaN(this.constant)) return
    whyExtreme(this.e, this.a, 1, mostA)
    whyExtreme(this.e, this.b, -1, leastB)
  }
}

/** Of a rectangle that moves with a body. */
export interface Sides {
  readonly lowX: End
  readonly highX: End
  readonly lowY: End
  readonly highY: End
}

/** Behind a new literal each: the first is left of the second, right of it, before it, behind it. `need`: as in `Eager`. */
export const oneBeside = (e: Engine, a: Sides, b: Sides, need: number): Relation[] =>
  (
    [
      [a.highX, b.lowX],
      [b.highX, a.lowX],
      [a.highY, b.lowY],
      [b.highY, a.lowY],
    ] as const
  ).map(([low, high]) => new Relation(e, e.newBool(), low, high, need))
