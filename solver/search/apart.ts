/**
 * What another must keep clear of: a forbidden set of displacements (b − a), given by whether all of a box of displacements are in it.
 * Answers prune soundly as long as they are never a wrong yes, and when both bodies stand still the test is exact.
 */
import type { Engine, Propagator } from './engine.ts'
import { stillOpen } from './propagator.ts'
import type { Axis } from './relation.ts'

export interface Forbidden {
  /** Outside this box of displacements nothing is forbidden (µm, inclusive is fine). */
  readonly box: readonly [xl: number, xu: number, yl: number, yu: number]
  /** True only if every displacement in [xl, xu] × [yl, yu] is forbidden; exact where that is one point. */
  forbids(xl: number, xu: number, yl: number, yu: number): boolean
}

/** A box of displacements lies in a convex set when its four corners do. */
export const inConvex =
  (forbids: (dx: number, dy: number) => boolean): Forbidden['forbids'] =>
  (xl, xu, yl, yu) =>
    forbids(xl, yl) &&
    (xu === xl || forbids(xu, yl)) &&
    (yu === yl || (forbids(xl, yu) && (xu === xl || forbids(xu, yu))))

/** Of any other set only points are known. */
export const atPoints =
  (forbids: (dx: number, dy: number) => boolean): Forbidden['forbids'] =>
  (xl, xu, yl, yu) =>
    xl === xu && yl === yu && forbids(xl, yl)

/** One end: its two axes, or a fixed point of the deck when absent. */
export interface Spot {
  readonly x: Axis
  readonly y: Axis
}

export class Apart implements Propagator {
  readonly cost = 2
  private readonly e: Engine
  private readonly a: Spot | undefined
  private readonly b: Spot
  /** All must be true for the set to count: modes of both, guard. */
  private readonly when: readonly number[]
  private readonly set: Forbidden

  constructor(e: Engine, a: Spot | undefined, b: Spot, when: readonly number[], set: Forbidden) {
    this.e = e
    this.a = a
    this.b = b
    this.when = when
    this.set = set
    for (const l of when) e.wakeOnTrue(this, l)
    for (const s of a ? [a, b] : [b]) {
      e.wakeOn(this, s.x.v, true, true)
      e.wakeOn(this, s.y.v, true, true)
    }
    e.schedule(this)
  }

  propagate(): boolean {
    const { e } = this
    const open = stillOpen(e, this.when)
    if (open === undefined) return true
    const axl = this.low(this.a?.x)
    const axu = this.high(this.a?.x)
    const ayl = this.low(this.a?.y)
    const ayu = this.high(this.a?.y)
    const bxl = this.low(this.b.x)
    const bxu = this.high(this.b.x)
    const byl = this.low(this.b.y)
    const byu = this.high(this.b.y)
    const point = axl === axu && ayl === ayu && bxl === bxu && byl === byu
    const box = this.set.box
    if (bxl - axu > box[1] || bxu - axl < box[0] || byl - ayu > box[3] || byu - ayl < box[2]) return true
    if (this.set.forbids(bxl - axu, bxu - axl, byl - ayu, byu - ayl)) {
      e.begin()
      for (const l of this.when) if (l !== open) e.why(l)
      this.whyBox(true, true, true, true)
      return open === -1 ? e.fail() : e.imply(e.not(open))
    }
    if (open !== -1 || point) return true
    return (
      this.push('b', 'x', 1) &&
      this.push('b', 'x', -1) &&
      this.push('b', 'y', 1) &&
      this.push('b', 'y', -1) &&
      (!this.a ||
        (this.push('a', 'x', 1) && this.push('a', 'x', -1) && this.push('a', 'y', 1) && this.push('a', 'y', -1)))
    )
  }

  private low(a: Axis | undefined): number {
    return a ? a.values[this.e.lb[a.v]!]! : 0
  }

  private high(a: Axis | undefined): number {
    return a ? a.values[this.e.ub[a.v]!]! : 0
  }

  /** With one coordinate held at value `at`, is every displacement forbidden? */
  private slab(who: 'a' | 'b', axis: 'x' | 'y', at: number): boolean {
    const held = (w: 'a' | 'b', ax: 'x' | 'y', which: 'low' | 'high'): number => {
      if (w === who && ax === axis) return at
      const s = w === 'a' ? this.a : this.b
      return which === 'low' ? this.low(s?.[ax]) : this.high(s?.[ax])
    }
    return this.set.forbids(
      held('b', 'x', 'low') - held('a', 'x', 'high'),
      held('b', 'x', 'high') - held('a', 'x', 'low'),
      held('b', 'y', 'low') - held('a', 'y', 'high'),
      held('b', 'y', 'high') - held('a', 'y', 'low'),
    )
  }

  private push(who: 'a' | 'b', axis: 'x' | 'y', sign: 1 | -1): boolean {
    const { e } = this
    const along = (who === 'a' ? this.a! : this.b)[axis]
    const start = sign === 1 ? e.lb[along.v]! : e.ub[along.v]!
    let k = start
    const stop = sign === 1 ? e.ub[along.v]! : e.lb[along.v]!
    while (k !== stop && this.slab(who, axis, along.values[k]!)) k += sign
    if (k === start) return true
    e.begin()
    for (const l of this.when) e.why(l)
    e.why(sign === 1 ? e.ge(along.v, start) : e.lt(along.v, start + 1))
    this.whyBox(
      !(who === 'a' && axis === 'x'),
      !(who === 'a' && axis === 'y'),
      !(who === 'b' && axis === 'x'),
      !(who === 'b' && axis === 'y'),
    )
    return e.imply(sign === 1 ? e.ge(along.v, k) : e.lt(along.v, k + 1))
  }

  private whyBox(ax: boolean, ay: boolean, bx: boolean, by: boolean): void {
    const { e } = this
    const both = (a: Axis | undefined) => {
      if (!a) return
      e.why(e.lbLit(a.v))
      e.why(e.ubLit(a.v))
    }
    if (ax) both(this.a?.x)
    if (ay) both(this.a?.y)
    if (bx) both(this.b.x)
    if (by) both(this.b.y)
  }
}
