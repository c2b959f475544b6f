/** Goals of a change: move as few items of a layout as possible, then as little as possible. */
import type { Placement } from './problem.ts'
import { TRUE } from './search/engine.ts'
import type { Goal } from './search/goals.ts'
import { Linear, type Term } from './search/linear.ts'
import type { Body, Model } from './search/model.ts'
import { standingLayout } from './search/placed.ts'
import { firstAtLeast, fixedEnd } from './search/relation.ts'
import type { WireEnds } from './search/wire-ends.ts'
import { WireGoal } from './search/wire-goal.ts'
import { still } from './search/within.ts'
import { um } from './units.ts'

/** What leaving an item out weighs against moving one. */
const LEFT_OUT = 4

/** Goals in order. Call at level 0. */
export function keepGoals(model: Model, hint: readonly Placement[]): Goal[] {
  return [new Moves(model, hint), new Distance(model, hint)]
}

class Moves implements Goal {
  readonly name = 'moves'
  readonly sign = 1
  readonly step = 1
  readonly scale = 1
  private readonly model: Model
  private readonly terms: Term[]
  private readonly probe: Linear
  private readonly hint: ReadonlyMap<number, Placement>

  constructor(model: Model, hint: readonly Placement[]) {
    this.model = model
    this.hint = new Map(hint.map((p) => [p.item, p]))
    this.terms = model.bodies.flatMap((b) => {
      const p = this.hint.get(b.index)
      if (!p) return b.item.required ? [] : [{ lit: model.e.not(b.present), coef: 1 }]
      const stay = stays(model, b, p)
      const there = { lit: b.present, coef: LEFT_OUT }
      return stay === undefined ? [there] : [there, { lit: stay, coef: 1 }]
    })
    this.probe = new Linear(model.e, this.terms, [], Number.NEGATIVE_INFINITY, TRUE)
  }

  require(value: number, guard: number): void {
    new Linear(this.model.e, this.terms, [], value, guard)
  }

  value(): number {
    // a literal that is not forced either way counts by what it stands for
    return this.measure(standingLayout(this.model))
  }

  bound(): number {
    return this.probe.most()
  }

  measure(placements: readonly Placement[]): number {
    const now = new Map(placements.map((p) => [p.item, p]))
    let sum = 0
    for (const b of this.model.bodies) {
      const was = this.hint.get(b.index)
      const is = now.get(b.index)
      if (!was) sum += is || b.item.required ? 0 : 1
      else if (is) sum += LEFT_OUT + (same(was, is) ? 1 : 0)
    }
    return sum
  }
}

const same = (a: Placement, b: Placement): boolean =>
  a.deck === b.deck && a.turn === b.turn && a.at.x === b.at.x && a.at.y === b.at.y

/** A literal that holds an item where it was; undefined where it cannot stand there any more. */
function stays(model: Model, b: Body, p: Placement): number | undefined {
  const { e } = model
  const modes = b.modes.filter(
    (m) => m.deck === p.deck && m.turn === p.turn && (p.host === undefined || m.host === p.host),
  )
  const kx = firstAtLeast(b.x.values, p.at.x)
  const ky = firstAtLeast(b.y.values, p.at.y)
  if (modes.length === 0 || b.x.values[kx] !== p.at.x || b.y.values[ky] !== p.at.y) return undefined
  const lit = e.newBool()
  e.order.allow(e.varOf(lit), 2000)
  e.addClause([e.not(lit), ...modes.map((m) => m.lit)])
  for (const l of [e.ge(b.x.v, kx), e.lt(b.x.v, kx + 1), e.ge(b.y.v, ky), e.lt(b.y.v, ky + 1)])
    e.addClause([e.not(lit), l])
  return lit
}

class Distance extends WireGoal {
  private readonly hint: ReadonlyMap<number, Placement>

  constructor(model: Model, hint: readonly Placement[]) {
    const list = hint.flatMap((p): WireEnds[] => {
      const body = model.bodies[p.item]
      if (!body) return []
      const here = { x: fixedEnd(body.x, 0), y: fixedEnd(body.y, 0) }
      const there = { x: fixedEnd(still(model.e, p.at.x), 0), y: fixedEnd(still(model.e, p.at.y), 0) }
      const decks = [{ deck: 0, lit: TRUE }]
      const end = { kind: 'exit', exit: 0 } as const
      const wire = { id: body.item.id, from: end, to: end, loop: um(0), conductors: 1 }
      return [
        { wire, index: 0, from: [{ tip: here, lit: body.present, decks }], to: [{ tip: there, lit: TRUE, decks }] },
      ]
    })
    super(model, list, 'distance')
    this.hint = new Map(hint.map((p) => [p.item, p]))
  }

  measure(placements: readonly Placement[]): number {
    let sum = 0
    for (const p of placements) {
      const was = this.hint.get(p.item)
      if (was) sum += Math.abs(was.at.x - p.at.x) + Math.abs(was.at.y - p.at.y)
    }
    return sum
  }
}
