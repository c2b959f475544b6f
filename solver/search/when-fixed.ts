/** Exact tests, made once what they look at stands still: the last word where pruning is only sound. */
import type { Engine, Propagator } from './engine.ts'
import type { Body, Mode, Model } from './model.ts'
import type { Axis } from './relation.ts'

export class WhenFixed implements Propagator {
  readonly cost = 2
  private readonly e: Engine
  private readonly bodies: readonly Body[]
  private readonly when: readonly number[]
  private readonly test: (modes: readonly Mode[]) => boolean

  constructor(e: Engine, bodies: readonly Body[], when: readonly number[], test: (modes: readonly Mode[]) => boolean) {
    this.e = e
    this.bodies = bodies
    this.when = when
    this.test = test
    for (const l of when) e.wakeOnTrue(this, l)
    for (const b of bodies) {
      for (const m of b.modes) e.wakeOnTrue(this, m.lit)
      for (const a of axesOf(b)) e.wakeOn(this, a.v, true, true)
    }
    e.schedule(this)
  }

  propagate(): boolean {
    const { e } = this
    for (const l of this.when) if (!e.isTrue(l)) return true
    const modes: Mode[] = []
    for (const b of this.bodies) {
      const mode = b.modes.find((m) => e.isTrue(m.lit))
      if (!mode) return true
      for (const a of axesOf(b)) if (e.lb[a.v] !== e.ub[a.v]) return true
      modes.push(mode)
    }
    if (this.test(modes)) return true
    e.begin()
    for (const l of this.when) e.why(l)
    modes.forEach((m, i) => {
      e.why(m.lit)
      for (const a of axesOf(this.bodies[i]!)) {
        e.why(e.lbLit(a.v))
        e.why(e.ubLit(a.v))
      }
    })
    return e.fail()
  }
}

export class WhenAllFixed implements Propagator {
  readonly cost = 2
  private readonly model: Model
  private readonly guard: number
  private readonly test: () => boolean

  constructor(model: Model, guard: number, test: () => boolean) {
    this.model = model
    this.guard = guard
    this.test = test
    const { e } = model
    e.wakeOnTrue(this, guard)
    for (const b of model.bodies) {
      e.wakeOnTrue(this, e.not(b.present))
      for (const m of b.modes) e.wakeOnTrue(this, m.lit)
      for (const a of axesOf(b)) e.wakeOn(this, a.v, true, true)
    }
    e.schedule(this)
  }

  propagate(): boolean {
    const { e, bodies } = this.model
    if (!e.isTrue(this.guard)) return true
    for (const b of bodies) {
      if (e.isFalse(b.present)) continue
      if (!b.modes.some((m) => e.isTrue(m.lit))) return true
      for (const a of axesOf(b)) if (e.lb[a.v] !== e.ub[a.v]) return true
    }
    if (this.test()) return true
    e.begin()
    e.why(this.guard)
    for (const b of bodies) {
      if (e.isFalse(b.present)) {
        e.why(e.not(b.present))
        continue
      }
      e.why(this.model.modeOf(b)!.lit)
      for (const a of axesOf(b)) {
        e.why(e.lbLit(a.v))
        e.why(e.ubLit(a.v))
      }
    }
    return e.fail()
  }
}

const axesOf = (b: Body): Axis[] => (b.seating ? [b.x, b.y, b.seating.u, b.seating.v] : [b.x, b.y])
