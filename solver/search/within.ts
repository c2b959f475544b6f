/** |dx| + |dy| ≤ limit between two points that move with bodies (or stand still), when some literals hold. */
import type { Engine, Propagator } from './engine.ts'
import type { Body, Mode, Model } from './model.ts'
import { stillOpen } from './propagator.ts'
import { type Axis, type End, extreme, firstAtLeast, whyExtreme } from './relation.ts'

export interface Tip {
  readonly x: End
  readonly y: End
}

/** A point that moves with a body: where it is from the body's corner in each of its modes. */
export function tipOn(model: Model, body: Body, from: (m: Mode) => { readonly x: number; readonly y: number }): Tip {
  const points = body.modes.map(from)
  const end = (axis: 'x' | 'y') =>
    model.end(
      body,
      axis,
      points.map((p) => p[axis]),
    )
  return { x: end('x'), y: end('y') }
}

/** To be read at twice the scale, so that halves stay whole. */
export const doubledCentre = (model: Model, body: Body): Tip => tipOn(model, body, (m) => ({ x: m.w, y: m.h }))

/** Least distance that two ends can still have along one axis, in scaled µm, and where they are. */
export interface Span {
  readonly aLo: number
  readonly aHi: number
  readonly bLo: number
  readonly bHi: number
  readonly least: number
}

export function span(e: Engine, a: End, b: End, scale: number): Span {
  const av = a.axis.values
  const bv = b.axis.values
  const aLo = scale * av[e.lb[a.axis.v]!]! + extreme(e, a, 1)
  const aHi = scale * av[e.ub[a.axis.v]!]! + extreme(e, a, -1)
  const bLo = scale * bv[e.lb[b.axis.v]!]! + extreme(e, b, 1)
  const bHi = scale * bv[e.ub[b.axis.v]!]! + extreme(e, b, -1)
  return { aLo, aHi, bLo, bHi, least: Math.max(0, aLo - bHi, bLo - aHi) }
}

/** Names what keeps the two at least `span.least` apart (nothing where that is 0). */
export function whyLeast(e: Engine, a: End, b: End, s: Span): void {
  if (s.least <= 0) return
  const [low, high] = s.aLo - s.bHi >= s.bLo - s.aHi ? [a, b] : [b, a]
  whyLow(e, low)
  whyHigh(e, high)
}

export function whyLow(e: Engine, end: End): void {
  e.why(e.lbLit(end.axis.v))
  whyExtreme(e, end, 1, extreme(e, end, 1))
}

export function whyHigh(e: Engine, end: End): void {
  e.why(e.ubLit(end.axis.v))
  whyExtreme(e, end, -1, extreme(e, end, -1))
}

/** Wakes it when one of the two moves, or one of these literals comes true. */
export function wakeWithTips(e: Engine, p: Propagator, a: Tip, b: Tip, when: readonly number[]): void {
  for (const l of when) e.wakeOnTrue(p, l)
  for (const end of [a.x, a.y, b.x, b.y]) {
    e.wakeOn(p, end.axis.v, true, true)
    for (const m of end.modes) e.wakeOnTrue(p, e.not(m))
  }
  e.schedule(p)
}

export class Within implements Propagator {
  readonly cost = 1
  private readonly e: Engine
  readonly a: Tip
  readonly b: Tip
  readonly scale: number
  readonly limit: number
  readonly when: readonly number[]

  constructor(e: Engine, a: Tip, b: Tip, scale: number, limit: number, when: readonly number[]) {
    this.e = e
    this.a = a
    this.b = b
    this.scale = scale
    this.limit = limit
    this.when = when.filter((l) => l !== -1)
    wakeWithTips(e, this, a, b, this.when)
  }

  propagate(): boolean {
    const { e, a, b, scale } = this
    const open = stillOpen(e, this.when)
    if (open === undefined) return true
    const sx = span(e, a.x, b.x, scale)
    const sy = span(e, a.y, b.y, scale)
    if (Number.isNaN(sx.least + sy.least)) return true
    if (sx.least + sy.least > this.limit) {
      e.begin()
      for (const l of this.when) if (l !== open) e.why(l)
      whyLeast(e, a.x, b.x, sx)
      whyLeast(e, a.y, b.y, sy)
      return open === -1 ? e.fail() : e.imply(e.not(open))
    }
    if (open !== -1) return true
    return pullTogether(e, a, b, scale, this.limit, sx, sy, () => {
      for (const l of this.when) e.why(l)
    })
  }
}

/** Two ends no further from each other than `limit`: along each axis, by what the other leaves of it. `because` names why they may not be. */
export function pullTogether(
  e: Engine,
  a: Tip,
  b: Tip,
  scale: number,
  limit: number,
  sx: Span,
  sy: Span,
  because: () => void,
): boolean {
  /** value(end) ≥ least, because of where `from` is at least. */
  const low = (end: End, from: End, least: number, rest: () => void): boolean => {
    const most = extreme(e, end, -1)
    const k = firstAtLeast(end.axis.values, Math.ceil((least - most) / scale))
    if (k <= e.lb[end.axis.v]!) return true
    e.begin()
    because()
    whyLow(e, from)
    whyExtreme(e, end, -1, most)
    rest()
    return e.imply(e.ge(end.axis.v, k))
  }
  const high = (end: End, from: End, most: number, rest: () => void): boolean => {
    const least = extreme(e, end, 1)
    const k = firstAtLeast(end.axis.values, Math.floor((most - least) / scale) + 1)
    if (k > e.ub[end.axis.v]!) return true
    e.begin()
    because()
    whyHigh(e, from)
    whyExtreme(e, end, 1, least)
    rest()
    return e.imply(e.lt(end.axis.v, k))
  }
  const along = (p: End, q: End, s: Span, room: number, rest: () => void): boolean =>
    low(p, q, s.bLo - room, rest) &&
    low(q, p, s.aLo - room, rest) &&
    high(p, q, s.bHi + room, rest) &&
    high(q, p, s.aHi + room, rest)
  return (
    along(a.x, b.x, sx, limit - sy.least, () => whyLeast(e, a.y, b.y, sy)) &&
    along(a.y, b.y, sy, limit - sx.least, () => whyLeast(e, a.x, b.x, sx))
  )
}

/** A coordinate that never moves. */
export const still = (e: Engine, value: number): Axis => ({ v: e.newVar(1), values: Int32Array.of(value) })
