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
    const lo = (x: Axis) => x.values[e.lb[x.v]!]!
    const hi = (x: Axis) => x.values[e.ub[x.v]!]!
    // least and greatest of sign·c, with the axis side that gives each
    const cLo = () => (sign === 1 ? lo(c) : -hi(c))
    const cHi = () => (sign === 1 ? hi(c) : -lo(c))
    const whyC = (low: boolean) => e.why(low === (sign === 1) ? e.lbLit(c.v) : e.ubLit(c.v))
    const begin = () => {
      e.begin()
      for (const l of this.when) e.why(l)
    }
    const atLeast = (x: Axis, value: number, why: () => void): boolean => {
      const k = firstAtLeast(x.values, value)
      if (k <= e.lb[x.v]!) return true
      begin()
      why()
      return e.imply(e.ge(x.v, k))
    }
    const atMost = (x: Axis, value: number, why: () => void): boolean => {
      const k = firstAtLeast(x.values, value + 1)
      if (k > e.ub[x.v]!) return true
      begin()
      why()
      return e.imply(e.lt(x.v, k))
    }
    return (
      atLeast(a, lo(b) + cLo() + offset, () => {
        e.why(e.lbLit(b.v))
        whyC(true)
      }) &&
      atMost(a, hi(b) + cHi() + offset, () => {
        e.why(e.ubLit(b.v))
        whyC(false)
      }) &&
      atLeast(b, lo(a) - cHi() - offset, () => {
        e.why(e.lbLit(a.v))
        whyC(false)
      }) &&
      atMost(b, hi(a) - cLo() - offset, () => {
        e.why(e.ubLit(a.v))
        whyC(true)
      }) &&
      (sign === 1
        ? atLeast(c, lo(a) - hi(b) - offset, () => {
            e.why(e.lbLit(a.v))
            e.why(e.ubLit(b.v))
          }) &&
          atMost(c, hi(a) - lo(b) - offset, () => {
            e.why(e.ubLit(a.v))
            e.why(e.lbLit(b.v))
          })
        : atLeast(c, lo(b) + offset - hi(a), () => {
            e.why(e.lbLit(b.v))
            e.why(e.ubLit(a.v))
          }) &&
          atMost(c, hi(b) + offset - lo(a), () => {
            e.why(e.ubLit(b.v))
            e.why(e.lbLit(a.v))
          }))
    )
  }
}
