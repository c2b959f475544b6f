/** a = b + sign·c + offset along one axis, when some literals hold: a plug-in part against its host. */
import type { Engine, Propagator } from './engine.ts'
import { type Axis, firstAtLeast } from './relation.ts'

export class Sum implements Propagator {
  readonly cost = 1
  private readonly e: Engine
  readonly a: Axis
  readonly b: Axis
  readonly c: Axis
  readonly sign: 1 | -1
  readonly offset: number
  readonly when: readonly number[]

  constructor(e: Engine, a: Axis, b: Axis, c: Axis, sign: 1 | -1, offset: number, when: readonly number[]) {
    this.e = e
    this.a = a
    this.b = b
    this.c = c
    this.sign = sign
    this.offset = offset
    this.when = when.filter((l) => l !== -1)
    for (const l of this.when) e.wakeOnTrue(this, l)
    for (const x of [a, b, c]) e.wakeOn(this, x.v, true, true)
    e.schedule(this)
  }

  propagate(): boolean {
    const { e, a, b, c, sign, offset } = this
    for (const l of this.when) if (!e.isTrue(l)) return true
    return (
      this.atLeast(a, this.low(b) + this.least() + offset, e.lbLit(b.v), this.leastLit()) &&
      this.atMost(a, this.high(b) + this.most() + offset, e.ubLit(b.v), this.mostLit()) &&
      this.atLeast(b, this.low(a) - this.most() - offset, e.lbLit(a.v), this.mostLit()) &&
      this.atMost(b, this.high(a) - this.least() - offset, e.ubLit(a.v), this.leastLit()) &&
      (sign === 1
        ? this.atLeast(c, this.low(a) - this.high(b) - offset, e.lbLit(a.v), e.ubLit(b.v)) &&
          this.atMost(c, this.high(a) - this.low(b) - offset, e.ubLit(a.v), e.lbLit(b.v))
        : this.atLeast(c, this.low(b) + offset - this.high(a), e.lbLit(b.v), e.ubLit(a.v)) &&
          this.atMost(c, this.high(b) + offset - this.low(a), e.ubLit(b.v), e.lbLit(a.v)))
    )
  }

  private low(x: Axis): number {
    return x.values[this.e.lb[x.v]!]!
  }

  private high(x: Axis): number {
    return x.values[this.e.ub[x.v]!]!
  }

  /** Of sign·c, and below the literal that says so. */
  private least(): number {
    return this.sign === 1 ? this.low(this.c) : -this.high(this.c)
  }

  private most(): number {
    return this.sign === 1 ? this.high(this.c) : -this.low(this.c)
  }

  private leastLit(): number {
    return this.sign === 1 ? this.e.lbLit(this.c.v) : this.e.ubLit(this.c.v)
  }

  private mostLit(): number {
    return this.sign === 1 ? this.e.ubLit(this.c.v) : this.e.lbLit(this.c.v)
  }

  private atLeast(x: Axis, value: number, one: number, two: number): boolean {
    const { e } = this
    const k = firstAtLeast(x.values, value)
    return k <= e.lb[x.v]! || this.imply(e.ge(x.v, k), one, two)
  }

  private atMost(x: Axis, value: number, one: number, two: number): boolean {
    const { e } = this
    const k = firstAtLeast(x.values, value + 1)
    return k > e.ub[x.v]! || this.imply(e.lt(x.v, k), one, two)
  }

  private imply(lit: number, one: number, two: number): boolean {
    const { e } = this
    e.begin()
    for (const l of this.when) e.why(l)
    e.why(one)
    e.why(two)
    return e.imply(lit)
  }
}
