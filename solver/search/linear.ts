/** Σ coefficient·[literal] − Σ value(variable) ≥ least, behind a literal. */
import type { Engine, Propagator } from './engine.ts'
import type { Axis } from './relation.ts'

export interface Term {
  readonly lit: number
  /** > 0. */
  readonly coef: number
}

export class Linear implements Propagator {
  readonly cost = 1
  private readonly e: Engine
  readonly terms: readonly Term[]
  readonly minus: readonly Axis[]
  readonly guard: number
  readonly least: number

  constructor(e: Engine, terms: readonly Term[], minus: readonly Axis[], least: number, guard: number) {
    this.e = e
    this.terms = [...terms].sort((a, b) => b.coef - a.coef)
    this.minus = minus
    this.guard = guard
    this.least = least
    for (const t of terms) e.wakeOnTrue(this, e.not(t.lit))
    for (const a of minus) e.wakeOn(this, a.v, true, false)
    e.wakeOnTrue(this, guard)
    e.schedule(this)
  }

  /** The greatest that the left side can still be. */
  most(): number {
    let sum = 0
    for (const t of this.terms) if (!this.e.isFalse(t.lit)) sum += t.coef
    for (const a of this.minus) sum -= a.values[this.e.lb[a.v]!]!
    return sum
  }

  propagate(): boolean {
    const { e, guard } = this
    // thresholds that nobody asks for any more cost nothing
    if (!e.isTrue(guard)) return true
    const room = this.most() - this.least
    if (room < 0) {
      this.because(-room - 1, -1)
      return e.imply(e.not(guard))
    }
    for (const t of this.terms) {
      if (t.coef <= room) break
      if (e.isFalse(t.lit) || e.isTrue(t.lit)) continue
      this.because(t.coef - room - 1, t.lit)
      e.why(guard)
      if (!e.imply(t.lit)) return false
    }
    for (const a of this.minus) {
      const most = a.values[e.lb[a.v]!]! + room
      let k = e.ub[a.v]!
      while (a.values[k]! > most) k--
      if (k === e.ub[a.v]!) continue
      this.because(a.values[k + 1]! - most - 1, -1)
      e.why(guard)
      if (!e.imply(e.lt(a.v, k + 1))) return false
    }
    return true
  }

  /** The false literals and bounds that hold the sum down; small ones are left out as long as `spare` allows. */
  private because(spare: number, except: number): void {
    const { e } = this
    e.begin()
    let left = spare
    for (let i = this.terms.length - 1; i >= 0; i--) {
      const t = this.terms[i]!
      if (t.lit === except || !e.isFalse(t.lit)) continue
      if (t.coef <= left) left -= t.coef
      else e.why(e.not(t.lit))
    }
    for (const a of this.minus) e.why(e.lbLit(a.v))
  }
}
