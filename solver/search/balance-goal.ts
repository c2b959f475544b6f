/** Distance in plan from the centre of gravity to the centroid of the contact polygon: at most so much. */
import type { Chassis } from '../problem.ts'
import { polygonCentroid } from '../shapes.ts'
import type { Propagator } from './engine.ts'
import type { Goal } from './goals.ts'
import { type Limit, tightest } from './limits.ts'
import type { Body, Model } from './model.ts'
import { doubledCentre, span, type Tip, whyHigh, whyLow } from './within.ts'

interface Weight {
  readonly body: Body
  readonly mass: number
  /** Doubled centre. */
  readonly tip: Tip
}

export class BalanceGoal implements Goal, Propagator {
  readonly name = 'balance'
  readonly sign = -1
  /** µm: proven to better than 0.01 mm. */
  readonly step = 5
  readonly scale = 1
  readonly cost = 2
  private readonly model: Model
  readonly chassis: Chassis
  readonly aim: { readonly x: number; readonly y: number }
  readonly weights: readonly Weight[]
  private readonly limits: Limit[] = []

  constructor(model: Model, chassis: Chassis) {
    this.model = model
    this.chassis = chassis
    this.aim = polygonCentroid(chassis.contact)
    this.weights = model.bodies
      .filter((b) => b.footprint.mass > 0 && !b.item.later)
      .map((body) => ({ body, mass: body.footprint.mass, tip: doubledCentre(model, body) }))
    const { e } = model
    for (const w of this.weights) {
      e.wakeOnTrue(this, w.body.present)
      e.wakeOnTrue(this, e.not(w.body.present))
      for (const end of [w.tip.x, w.tip.y]) {
        e.wakeOn(this, end.axis.v, true, true)
        for (const m of end.modes) e.wakeOnTrue(this, e.not(m))
      }
    }
  }

  require(value: number, guard: number): void {
    // sums in another order differ in the last digits
    this.limits.push({ most: value + 1e-6, guard })
    this.model.e.wakeOnTrue(this, guard)
    this.model.e.schedule(this)
  }

  value(): number {
    return this.bound()
  }

  /** Least distance: the box in which Σ m·(position − aim) lies, over the greatest mass. */
  bound(): number {
    const { e } = this.model
    let mass = this.chassis.mass
    const lo = [
      this.chassis.mass * (this.chassis.centre.x - this.aim.x),
      this.chassis.mass * (this.chassis.centre.y - this.aim.y),
    ]
    const hi = [...lo]
    for (const w of this.weights) {
      if (e.isFalse(w.body.present)) continue
      mass += w.mass
      const sure = e.isTrue(w.body.present)
      ;([w.tip.x, w.tip.y] as const).forEach((end, i) => {
        const s = span(e, end, end, 2)
        const aim = i === 0 ? this.aim.x : this.aim.y
        const least = Number.isNaN(s.aLo) ? 0 : w.mass * (s.aLo / 2 - aim)
        const most = Number.isNaN(s.aHi) ? 0 : w.mass * (s.aHi / 2 - aim)
        lo[i] = lo[i]! + (sure ? least : Math.min(0, least))
        hi[i] = hi[i]! + (sure ? most : Math.max(0, most))
      })
    }
    if (mass <= 0) return 0
    const dx = Math.max(0, lo[0]!, -hi[0]!)
    const dy = Math.max(0, lo[1]!, -hi[1]!)
    return Math.sqrt(dx * dx + dy * dy) / mass
  }

  propagate(): boolean {
    const { e } = this.model
    const limit = tightest(e, this.limits)
    if (!limit || this.bound() <= limit.most) return true
    e.begin()
    e.why(limit.guard)
    for (const w of this.weights) {
      if (e.isFalse(w.body.present)) {
        e.why(e.not(w.body.present))
        continue
      }
      if (e.isTrue(w.body.present)) e.why(w.body.present)
      for (const end of [w.tip.x, w.tip.y]) {
        whyLow(e, end)
        whyHigh(e, end)
      }
    }
    return e.fail()
  }
}
