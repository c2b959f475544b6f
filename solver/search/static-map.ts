/**
 * Where one body may stand, whatever the others do: a bitmap over two axes for each of its modes, kept as a summed-area
 * table (Crow 1984), so that "no legal position in this box" costs four look-ups.
 */
import type { Engine, Propagator } from './engine.ts'
import type { Axis } from './relation.ts'

/** Legal positions of one mode, kept for the smallest box of indices that has them all; none outside. */
export class Bitmap {
  readonly x0: number
  readonly y0: number
  readonly nx: number
  readonly ny: number
  /** (nx+1) × (ny+1) prefix sums. */
  private readonly sums: Int32Array

  /** `legal`: 1 where legal, `columns` × `rows` entries, the rows of a column beside one another. */
  constructor(columns: number, rows: number, legal: Uint8Array) {
    let left = columns
    let right = -1
    let low = rows
    let high = -1
    for (let i = 0; i < columns; i++) {
      const first = legal.indexOf(1, i * rows)
      if (first < 0) break
      // the next legal position may be columns away
      i = Math.floor(first / rows)
      const last = legal.lastIndexOf(1, i * rows + rows - 1)
      left = Math.min(left, i)
      right = i
      low = Math.min(low, first - i * rows)
      high = Math.max(high, last - i * rows)
    }
    this.x0 = right < 0 ? 0 : left
    this.y0 = right < 0 ? 0 : low
    this.nx = Math.max(0, right - left + 1)
    this.ny = Math.max(0, high - low + 1)
    const { nx, ny } = this
    const w = ny + 1
    const sums = new Int32Array((nx + 1) * w)
    for (let i = 0; i < nx; i++) {
      let from = (i + this.x0) * rows + this.y0
      let run = 0
      const end = (i + 2) * w
      for (let at = (i + 1) * w + 1; at < end; at++) {
        run += legal[from++]!
        sums[at] = sums[at - w]! + run
      }
    }
    this.sums = sums
  }

  /** Legal positions with indices in [xl, xu] × [yl, yu]. */
  count(xl: number, xu: number, yl: number, yu: number): number {
    const a = Math.max(0, xl - this.x0)
    const b = Math.min(this.nx, xu - this.x0 + 1)
    const c = Math.max(0, yl - this.y0)
    const d = Math.min(this.ny, yu - this.y0 + 1)
    if (a >= b || c >= d) return 0
    const w = this.ny + 1
    const s = this.sums
    return s[b * w + d]! - s[a * w + d]! - s[b * w + c]! + s[a * w + c]!
  }

  /** Is this position legal? */
  at(i: number, j: number): boolean {
    const x = i - this.x0
    const y = j - this.y0
    if (x < 0 || x >= this.nx || y < 0 || y >= this.ny) return false
    const w = this.ny + 1
    const k = x * w + y
    const s = this.sums
    return s[k + w + 1]! - s[k + w]! - s[k + 1]! + s[k]! > 0
  }

  get total(): number {
    return this.sums[this.sums.length - 1]!
  }
}

export class StaticMap implements Propagator {
  readonly cost = 1
  private readonly e: Engine
  readonly x: Axis
  readonly y: Axis
  readonly modes: readonly number[]
  private readonly make: () => readonly Bitmap[]
  private made: readonly Bitmap[] | undefined
  /** True when the body is placed; nothing is asked of one left out. */
  readonly present: number
  readonly guard: number

  constructor(
    e: Engine,
    x: Axis,
    y: Axis,
    modes: readonly number[],
    maps: () => readonly Bitmap[],
    present: number,
    guard: number,
  ) {
    this.e = e
    this.x = x
    this.y = y
    this.modes = modes
    this.make = maps
    this.present = present
    this.guard = guard
    e.wakeOn(this, x.v, true, true)
    e.wakeOn(this, y.v, true, true)
    for (const m of modes) {
      e.wakeOnTrue(this, m)
      e.wakeOnTrue(this, e.not(m))
    }
    e.wakeOnTrue(this, present)
    e.wakeOnTrue(this, guard)
    e.schedule(this)
  }

  /** One a mode, made when first looked at: a rule that is explained away may never be. */
  get maps(): readonly Bitmap[] {
    this.made ??= this.make()
    return this.made
  }

  propagate(): boolean {
    const { e, x, y } = this
    if (!e.isTrue(this.guard) || e.isFalse(this.present)) return true
    const { maps } = this
    for (let i = 0; i < this.modes.length; i++) {
      if (e.isFalse(this.modes[i]!)) continue
      const map = maps[i]!
      if (map.count(e.lb[x.v]!, e.ub[x.v]!, e.lb[y.v]!, e.ub[y.v]!) > 0) continue
      e.begin()
      e.why(this.guard)
      this.whyEmpty([map], e.lb[x.v]!, e.ub[x.v]!, e.lb[y.v]!, e.ub[y.v]!)
      if (!e.imply(e.not(this.modes[i]!))) return false
    }
    if (!e.isTrue(this.present)) return true
    return this.shrink('x', 1) && this.shrink('x', -1) && this.shrink('y', 1) && this.shrink('y', -1)
  }

  private empty(maps: readonly Bitmap[], xl: number, xu: number, yl: number, yu: number): boolean {
    for (const m of maps) if (m.count(xl, xu, yl, yu) > 0) return false
    return true
  }

  /** Moves one bound inwards over columns (rows) without a legal position in any open mode. */
  private shrink(axis: 'x' | 'y', sign: 1 | -1): boolean {
    const { e, x, y } = this
    const open: Bitmap[] = []
    const { maps: all } = this
    // modes that are the same to the deck have one map together
    for (let i = 0; i < this.modes.length; i++)
      if (!e.isFalse(this.modes[i]!) && !open.includes(all[i]!)) open.push(all[i]!)
    if (open.length === 0) return true
    const along = axis === 'x' ? x : y
    const xl = e.lb[x.v]!
    const xu = e.ub[x.v]!
    const yl = e.lb[y.v]!
    const yu = e.ub[y.v]!
    const start = sign === 1 ? e.lb[along.v]! : e.ub[along.v]!
    const stop = sign === 1 ? e.ub[along.v]! : e.lb[along.v]!
    // galloping, then bisection: the box from the bound to k is empty for all k up to the answer
    const emptyTo = (k: number): boolean => {
      const lo = Math.min(start, k)
      const hi = Math.max(start, k)
      return axis === 'x' ? this.empty(open, lo, hi, yl, yu) : this.empty(open, xl, xu, lo, hi)
    }
    if (!emptyTo(start)) return true
    let good = start
    let step = 1
    let bad = stop
    for (;;) {
      const k = good + sign * step
      if ((stop - k) * sign <= 0) break
      if (!emptyTo(k)) {
        bad = k
        break
      }
      good = k
      step *= 2
    }
    while (Math.abs(bad - good) > 1) {
      const mid = (bad + good) >> 1
      if (emptyTo(mid)) good = mid
      else bad = mid
    }
    const lo = Math.min(start, good)
    const hi = Math.max(start, good)
    e.begin()
    e.why(this.guard)
    e.why(this.present)
    const maps = [...open]
    // closed modes that would have had room here are part of the reason
    for (let i = 0; i < this.modes.length; i++) {
      if (!e.isFalse(this.modes[i]!)) continue
      const map = all[i]!
      if (axis === 'x' ? map.count(lo, hi, yl, yu) > 0 : map.count(xl, xu, lo, hi) > 0) e.why(e.not(this.modes[i]!))
      else maps.push(map)
    }
    if (axis === 'x') this.whyEmpty(maps, lo, hi, yl, yu, sign === 1 ? 'xu' : 'xl')
    else this.whyEmpty(maps, xl, xu, lo, hi, sign === 1 ? 'yu' : 'yl')
    return e.imply(sign === 1 ? e.ge(along.v, good + 1) : e.lt(along.v, good))
  }

  /** Names the four bounds of an empty box, each pushed out as far as the box stays empty; `open` is the side that needs none. */
  private whyEmpty(
    maps: readonly Bitmap[],
    xl: number,
    xu: number,
    yl: number,
    yu: number,
    open?: 'xl' | 'xu' | 'yl' | 'yu',
  ): void {
    const { e, x, y } = this
    if (open !== 'yl') yl = this.lift(yl, 0, (k) => this.empty(maps, xl, xu, k, yu))
    if (open !== 'yu') yu = this.lift(yu, y.values.length - 1, (k) => this.empty(maps, xl, xu, yl, k))
    if (open !== 'xl') xl = this.lift(xl, 0, (k) => this.empty(maps, k, xu, yl, yu))
    if (open !== 'xu') xu = this.lift(xu, x.values.length - 1, (k) => this.empty(maps, xl, k, yl, yu))
    if (open !== 'xl') e.why(e.ge(x.v, xl))
    if (open !== 'xu') e.why(e.lt(x.v, xu + 1))
    if (open !== 'yl') e.why(e.ge(y.v, yl))
    if (open !== 'yu') e.why(e.lt(y.v, yu + 1))
  }

  /** The farthest k from `from` towards `to` that still passes (passing is monotone). */
  private lift(from: number, to: number, passes: (k: number) => boolean): number {
    if (from === to || passes(to)) return to
    let good = from
    let bad = to
    while (Math.abs(bad - good) > 1) {
      const mid = (good + bad) >> 1
      if (passes(mid)) good = mid
      else bad = mid
    }
    return good
  }
}
