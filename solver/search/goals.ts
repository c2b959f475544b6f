/**
 * What is optimised, as something the search can push: a goal takes a threshold behind a literal and prunes whatever
 * cannot reach it. Thresholds only ever tighten one another, so clauses learned under one stay true under the next.
 */

import { mostOf, type Priced, pricedByArea } from '../bounds/most-by-area.ts'
import { objectivesOf } from '../objectives.ts'
import type { ObjectiveName, Placement } from '../problem.ts'
import { BalanceGoal } from './balance-goal.ts'
import { Combinations, type Kind } from './combinations.ts'
import { Linear, type Term } from './linear.ts'
import type { Body, Model } from './model.ts'
import { NewHoles } from './new-holes.ts'
import { tieCount } from './parts.ts'
import type { Axis } from './relation.ts'
import type { WireEnds } from './wire-ends.ts'
import { WireGoal } from './wire-goal.ts'

export interface Goal {
  readonly name: ObjectiveName | 'moves' | 'distance'
  /** 1: most is best; −1: least is best. */
  readonly sign: 1 | -1
  /** The next better value differs by at least this much. */
  readonly step: number
  /** Most differences between layouts are at least this; smaller tries are not worth their while until the gap is as small. */
  readonly grain?: number
  /** From the search's whole numbers to the result's unit. */
  readonly scale: number
  /** Makes what only this goal needs, when its turn comes. At level 0. */
  begin?(): void
  /** True once the threshold's literal is true: the value must be at least (most) or at most (least) this. Call at level 0. */
  require(value: number, guard: number): void
  /** The value of the standing layout. */
  value(): number
  /** The value of a layout, where the figures do not have it. */
  measure?(placements: readonly Placement[]): number
  /** Where a body would best stand along an axis (µm), while a layout is looked for. */
  wanted?(body: Body, axis: 'x' | 'y'): number | undefined
  /** By variable: what to decide on instead; −1 = nothing yet. */
  readonly choices?: ReadonlyMap<number, () => number>
  /** The best that bounds alone still allow. */
  bound(): number
  /** Wires that should be short. */
  readonly wires?: readonly WireEnds[]
  /** Of wires: bounds each by itself from now on, where no threshold will be more than `most`. At level 0; pauses often, and changes nothing where it is not run to its end. */
  share?(most: number): Generator<undefined, void>
  /** Of a sum of few parts. At level 0. */
  combinations?(): Combinations | undefined
}

/** Goals of the problem's objective that have something to measure, in order; the rest are 0 and done. */
export function goalsOf(model: Model): { name: ObjectiveName; goal: Goal | undefined }[] {
  const { problem } = model
  const goalOf = (name: ObjectiveName): Goal | undefined => {
    switch (name) {
      case 'free-tie-points':
        return freeTiePoints(model)
      case 'optional-value':
        return optionalValue(model)
      case 'new-holes':
        return new NewHoles(model)
      case 'wire-length':
        return problem.wires.length > 0 ? new WireGoal(model) : undefined
      case 'balance':
        return problem.chassis && new BalanceGoal(model, problem.chassis)
    }
  }
  return objectivesOf(problem).map((name) => ({ name, goal: goalOf(name) }))
}

/** Σ of the coefficients of what is true − Σ of the values of axes + a constant. */
interface Form {
  readonly terms: readonly Term[]
  readonly minus: readonly Axis[]
  readonly constant: number
}

/** Sums up to here are exact, with what rounding adds and with as much again on the other side. */
const EXACT = 2 ** 51

const sizeOf = ({ base, rest }: Priced): number =>
  [...rest.values()].reduce((sum, v) => sum + Math.abs(v), Math.abs(base))

/** What sums of prices may be wrong by in floating point: thousands of roundings of 2⁻⁵³ each. */
const hairOf = (priced: Priced): number => Math.max(1e-6, sizeOf(priced) * 1e-12)

class LinearGoal implements Goal {
  readonly sign = 1
  readonly step = 1
  readonly name: Goal['name']
  readonly scale: number
  private readonly model: Model
  /** Of the figure itself, or where `exact` is given of what it can be at most, in several ways. */
  private readonly forms: readonly Form[]
  private readonly probes: readonly Linear[]
  private readonly exact: (() => number) | undefined
  /** By who is placed and who is left out. */
  private readonly prices = new Map<string, Priced>()
  /** What placing a body adds; absent where leaving one out can add something. */
  private readonly worth: ReadonlyMap<Body, number> | undefined

  constructor(
    model: Model,
    name: Goal['name'],
    forms: readonly Form[],
    scale: number,
    worth: ReadonlyMap<Body, number> | undefined,
    exact?: () => number,
  ) {
    this.model = model
    this.name = name
    this.forms = forms
    this.scale = scale
    this.exact = exact
    this.worth = worth
    this.probes = forms.map((f) => new Linear(model.e, f.terms, f.minus, Number.NEGATIVE_INFINITY, -1))
  }

  require(value: number, guard: number): void {
    for (const f of this.forms) new Linear(this.model.e, f.terms, f.minus, value - f.constant, guard)
    this.charge(value, guard)
    // where the linear form is only a bound, the exact value decides once everything stands
    const exact = this.exact
    if (exact) this.model.whenAllFixed(guard, () => exact() >= value)
  }

  value(): number {
    return this.exact ? this.exact() : this.most()
  }

  private most(): number {
    return Math.min(...this.forms.map((f, i) => this.probes[i]!.most() + f.constant))
  }

  bound(): number {
    const most = this.most()
    const priced = this.model.e.level > 0 ? undefined : this.priced()
    if (!priced) return most
    return Math.min(most, Math.floor(mostOf(priced) + hairOf(priced)))
  }

  combinations(): Combinations | undefined {
    const { e, bodies, alike } = this.model
    const { terms, minus, constant } = this.forms[0]!
    let least = constant
    for (const a of minus) least -= a.values[e.lb[a.v]!]!
    const kinds: (Kind & { readonly lits: number[] })[] = []
    const groups = new Map<readonly number[], { readonly members: number[]; readonly lits: number[] }>()
    for (const { lit, coef } of terms) {
      if (e.isFalse(lit)) continue
      if (e.isTrue(lit)) {
        least += coef
        continue
      }
      const i = bodies.findIndex((b) => e.varOf(b.present) === e.varOf(lit))
      const placed = lit === bodies[i]!.present
      // of those that are alike the first ones are placed
      const group = placed ? alike.find((g) => g.includes(i)) : undefined
      const known = group && groups.get(group)
      if (known) {
        known.members.push(i)
        known.lits.push(lit)
        continue
      }
      const [members, lits] = [[i], [lit]]
      if (group) groups.set(group, { members, lits })
      const has = (all: readonly Placement[], m: number) => all.some((p) => p.item === m) === placed
      kinds.push({ coef, lits, count: (all) => members.filter((m) => has(all, m)).length })
    }
    return Combinations.of(kinds, least)
  }

  /** Prices of area, with what is placed or left out for good, or for `value` to be reached; undefined where no worth is known. At level 0. */
  private priced(must: ReadonlyMap<number, boolean> = new Map()): Priced | undefined {
    const { worth } = this
    if (!worth) return undefined
    const { problem, bodies, e } = this.model
    const placed = bodies.map(({ present }, i) => (e.isTrue(present) ? true : e.isFalse(present) ? false : must.get(i)))
    // the prices do not depend on the threshold, so most thresholds have the same
    const key = placed.join()
    const known = this.prices.get(key)
    if (known) return known
    const priced = pricedByArea(
      problem,
      (i) => worth.get(bodies[i]!) ?? 0,
      (i) => placed[i],
    )
    this.prices.set(key, priced)
    return priced
  }

  /** What area says of the threshold: who must be placed or left out for it, and what the others must earn beyond the prices of their area. */
  private charge(value: number, guard: number): void {
    const { e, bodies } = this.model
    const must = new Map<number, boolean>()
    for (;;) {
      const priced = this.priced(must)
      if (!priced) return
      const { base, rest } = priced
      const hair = hairOf(priced)
      const spare = mostOf(priced) - value + hair
      // in whole numbers, rounded so that nothing is lost: finer than one where their sum is exact so, and never too large to be
      const whole = 2 ** Math.min(10, Math.floor(Math.log2(EXACT / (sizeOf(priced) + Math.abs(value)))))
      let least = Math.floor((value - base - hair) * whole)
      const terms = [...rest].flatMap(([i, v]): Term[] => {
        const coef = Math.ceil(v * whole)
        if (coef < 0) least -= coef
        const lit = bodies[i]!.present
        return coef === 0 ? [] : [{ lit: coef > 0 ? lit : e.not(lit), coef: Math.abs(coef) }]
      })
      if (least > 0) new Linear(e, terms, [], least, guard)
      const before = must.size
      if (spare >= 0) for (const [i, v] of rest) if (Math.abs(v) > spare) must.set(i, v > 0)
      if (must.size === before) return
    }
  }
}

function freeTiePoints(model: Model): Goal | undefined {
  const boards = model.bodies.filter((b) => tieCount(b.footprint) > 0 && b.footprint.mount.kind !== 'plug-in')
  if (boards.length === 0) return undefined
  const terms = boards.map((b) => ({ lit: b.present, coef: tieCount(b.footprint) }))
  const worth = new Map(boards.map((b) => [b, tieCount(b.footprint)]))
  const seats = model.bodies.flatMap((b) => (b.seating ? [b.seating.cover] : []))
  const { coveredTwice, e } = model
  const name = 'free-tie-points'
  if (coveredTwice.length === 0) return new LinearGoal(model, name, [{ terms, minus: seats, constant: 0 }], 1, worth)
  // no more than each pair has in common is counted twice (Bonferroni's inequality): exact but where three meet on one point
  const most = coveredTwice.reduce((n, a) => n + a.values.length - 1, 0)
  const paired = { terms, minus: [...seats, ...coveredTwice], constant: most }
  // and nobody else has what is under a pin
  const plugs = model.bodies.filter((b) => b.seating)
  const pins = plugs.map((b) => ({ lit: e.not(b.present), coef: b.footprint.plug!.pins.length }))
  const own = { terms: [...terms, ...pins], minus: [], constant: -pins.reduce((n, p) => n + p.coef, 0) }
  return new LinearGoal(model, name, [paired, own], 1, undefined, () => model.freeTiePoints())
}

function optionalValue(model: Model): Goal | undefined {
  const optional = model.bodies.filter((b) => !b.item.required && b.item.value !== 0)
  if (optional.length === 0) return undefined
  let scale = 1
  while (scale < 1e6 && optional.some((b) => Math.abs(b.item.value * scale - Math.round(b.item.value * scale)) > 1e-9))
    scale *= 10
  let constant = 0
  const terms = optional.flatMap((b): Term[] => {
    const coef = Math.round(b.item.value * scale)
    if (coef > 0) return [{ lit: b.present, coef }]
    // what costs something when placed earns as much when left out
    constant += coef
    return coef < 0 ? [{ lit: model.e.not(b.present), coef: -coef }] : []
  })
  const worth = new Map(optional.map((b) => [b, Math.round(b.item.value * scale)]))
  return new LinearGoal(
    model,
    'optional-value',
    [{ terms, minus: [], constant }],
    1 / scale,
    constant === 0 ? worth : undefined,
  )
}
