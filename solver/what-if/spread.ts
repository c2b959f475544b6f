/**
 * How far a layout is from others, as a goal: Σ |dx| + |dy| of the items' corners against each of them, the least of these
 * sums to be made most. An item on another deck, or placed in only one of the two, counts a whole deck's length and width.
 */
import type { Placement } from '../problem.ts'
import { fromBackToFront, fromLeftToRight } from '../search/alike.ts'
import type { Goal } from '../search/goals.ts'
import { Linear, type Term } from '../search/linear.ts'
import type { Body, Model } from '../search/model.ts'
import { type Axis, firstAtLeast } from '../search/relation.ts'
import { elsewhere, type Like } from './same-places.ts'

/** Distances are counted in so many levels an axis; the last part of one, less than a level, is not seen by the search. */
const LEVELS = 24

/** What is moved by less than this, Um, stands where it stood: an item in the middle may be rounded either way. */
export const SAME = 10

export class Spread implements Goal {
  readonly name = 'distance'
  readonly sign = 1
  readonly step = 1
  readonly scale = 1
  readonly grain: number
  /** By how much the real distance may exceed what the search counts, Um. */
  readonly unseen: number
  private readonly model: Model
  private readonly sums: { readonly terms: readonly Term[]; readonly probe: Linear }[]

  /** Items that are `like` one another (groups of indices) stand deck by deck, from left to right and from back to front: which of them stands where is no difference. */
  constructor(model: Model, others: readonly (readonly Placement[])[], like: Like) {
    this.model = model
    this.grain = model.problem.grid
    const far = elsewhere(model.problem)
    fromLeftToRight(model, like)
    fromBackToFront(model, like)
    let unseen = 0
    // others tell of the same places under other names
    const known = new Map<string, Levels>()
    const once = (b: Body, along: 'x' | 'y', at: number): Levels => {
      const key = `${b.index}/${along}/${at}`
      const made = known.get(key) ?? levels(model, b, b[along], at)
      known.set(key, made)
      return made
    }
    this.sums = others.map((layout) => {
      const were = new Map(layout.map((p) => [p.item, p]))
      let hidden = 0
      const terms = model.bodies.flatMap((b): Term[] => {
        const was = were.get(b.index)
        if (!was) return b.item.required ? [] : [{ lit: b.present, coef: far }]
        const x = once(b, 'x', was.at.x)
        const y = once(b, 'y', was.at.y)
        hidden += x.gap + y.gap
        return [...x.terms, ...y.terms, ...gone(model, b, was, far)]
      })
      unseen = Math.max(unseen, hidden)
      return { terms, probe: new Linear(model.e, terms, [], Number.NEGATIVE_INFINITY, -1) }
    })
    this.unseen = unseen
  }

  require(value: number, guard: number): void {
    for (const s of this.sums) new Linear(this.model.e, s.terms, [], value, guard)
  }

  value(): number {
    return this.bound()
  }

  /** Where the search starts from: any layout is at least nothing away. */
  measure(): number {
    return 0
  }

  bound(): number {
    return Math.min(...this.sums.map((s) => s.probe.most()))
  }
}

/** Literals "at least so far from there along this axis", each worth the difference to the one before. */
interface Levels {
  readonly terms: readonly Term[]
  /** The longest step from one to the next, Um. */
  readonly gap: number
}

function levels(model: Model, b: Body, axis: Axis, at: number): Levels {
  const { e, problem } = model
  const { values } = axis
  if (values.length === 0) return { terms: [], gap: 0 }
  const most = Math.max(at - values[0]!, values[values.length - 1]! - at)
  const size = Math.max(problem.grid, Math.ceil(most / LEVELS / problem.grid) * problem.grid)
  // the least that anything there is away: contacts and middles lie between lines of the grid
  const steps = Array.from(values, (v) => Math.abs(v - at)).filter((d) => d >= SAME)
  const marks = steps.length === 0 ? [] : [Math.min(...steps)]
  for (let d = size; d <= most; d += size) if (d > marks[marks.length - 1]!) marks.push(d)
  let before = 0
  let gap = 0
  const terms: Term[] = []
  for (const d of marks) {
    if (d > most) break
    const lit = e.newBool()
    e.addClause([e.not(lit), b.present])
    e.addClause([
      e.not(lit),
      e.lt(axis.v, firstAtLeast(values, at - d + 1)),
      e.ge(axis.v, firstAtLeast(values, at + d)),
    ])
    terms.push({ lit, coef: d - before })
    gap = Math.max(gap, d - before)
    before = d
  }
  return { terms, gap: Math.max(gap, most - before) }
}

/** On another deck, or left out. */
function gone(model: Model, b: Body, was: Placement, far: number): Term[] {
  const { e } = model
  const away = b.modes.filter((m) => m.deck !== was.deck).map((m) => m.lit)
  if (away.length === 0 && b.item.required) return []
  const lit = e.newBool()
  e.addClause([e.not(lit), ...(b.item.required ? [] : [e.not(b.present)]), ...away])
  return [{ lit, coef: far }]
}
