/** Least holes, slots and cut-outs to make: each that may be there already has a literal which says that the body stands so that it is. */
import { NEAR } from '../rules/coincide.ts'
import { deckShapes } from '../rules/deck.ts'
import { already, type Mark, marks } from '../rules/r5-holes.ts'
import { FALSE } from './engine.ts'
import type { Goal } from './goals.ts'
import { Linear, type Term } from './linear.ts'
import type { Body, Mode, Model } from './model.ts'
import { firstAtLeast } from './relation.ts'

export class NewHoles implements Goal {
  readonly name = 'new-holes'
  readonly sign = -1
  readonly step = 1
  readonly scale = 1
  private readonly model: Model
  private readonly terms: readonly Term[]
  private readonly total: number
  private readonly probe: Linear

  constructor(model: Model) {
    this.model = model
    const terms: Term[] = []
    let total = 0
    for (const body of model.bodies) {
      const count = body.item.later ? 0 : marksOf(body).length
      if (count === 0) continue
      total += count
      terms.push({ lit: model.e.not(body.present), coef: count })
      for (let k = 0; k < count; k++) terms.push({ lit: there(model, body, k), coef: 1 })
    }
    this.total = total
    this.terms = terms.filter((t) => t.lit !== FALSE)
    this.probe = new Linear(model.e, this.terms, [], Number.NEGATIVE_INFINITY, -1)
  }

  require(value: number, guard: number): void {
    new Linear(this.model.e, this.terms, [], this.total - value, guard)
  }

  value(): number {
    return this.bound()
  }

  bound(): number {
    return this.total - this.probe.most()
  }
}

const marksOf = (body: Body): readonly Mark[] => {
  const mode = body.modes[0]
  return mode ? marks(body, mode) : []
}

/** True only where the body's k-th hole or cut is one that the deck has. */
function there(model: Model, body: Body, k: number): number {
  const { e } = model
  const places = body.modes.flatMap((mode) => placesOf(model, body, mode, k))
  if (places.length === 0) return FALSE
  const lits = places.map(({ mode, x, y }) => {
    const lit = e.newBool()
    for (const l of [mode.lit, e.ge(body.x.v, x), e.lt(body.x.v, x + 1), e.ge(body.y.v, y), e.lt(body.y.v, y + 1)])
      e.addClause([e.not(lit), l])
    return lit
  })
  if (lits.length === 1) return lits[0]!
  const any = e.newBool()
  e.addClause([e.not(any), ...lits])
  return any
}

/** Indices of the corners, in one mode, from which the k-th mark falls on something that is there. */
function placesOf(model: Model, body: Body, mode: Mode, k: number): { mode: Mode; x: number; y: number }[] {
  const deck = deckShapes(model.problem)[mode.deck]!
  const mark = marks(body, mode)[k]!
  const centres =
    mark.radius > 0
      ? deck.holes.map((h) => ({ x: h.x - mark.rect.x, y: h.y - mark.rect.y }))
      : deck.openings.map((o) => ({ x: o.region.box.x - mark.rect.x, y: o.region.box.y - mark.rect.y }))
  const out: { mode: Mode; x: number; y: number }[] = []
  const seen = new Set<string>()
  for (const c of centres)
    for (const x of near(body.x.values, c.x))
      for (const y of near(body.y.values, c.y)) {
        if (seen.has(`${x}:${y}`) || !already(mark, body.x.values[x]!, body.y.values[y]!, deck)) continue
        seen.add(`${x}:${y}`)
        out.push({ mode, x, y })
      }
  return out
}

function near(values: Int32Array, at: number): number[] {
  const out: number[] = []
  for (let i = firstAtLeast(values, at - NEAR); i < values.length && values[i]! <= at + NEAR; i++) out.push(i)
  return out
}
