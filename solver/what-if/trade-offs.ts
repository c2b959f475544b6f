/**
 * Trade-offs between free contacts, wire length and balance, as layouts of which none beats another. By repeated solves:
 * every order of the figures gives a corner; between two corners one figure is held a step better than the last layout's
 * and the others are made best again (the ε-constraint method, Haimes, Lasdon & Wismer 1971).
 */

import { figureOf } from '../check/figures.ts'
import { isMost } from '../objectives.ts'
import type { ObjectiveName, Placement, Problem } from '../problem.ts'
import type { Figures, Hold } from '../result.ts'
import { type Limit, measured, type Staged, staged, within } from './staged.ts'
import { Budget, type Case, finish, type Slices, type WhatIfOptions } from './trial.ts'

export interface TradeOff {
  readonly placements: readonly Placement[]
  readonly figures: Figures
  /** Proven that no layout that keeps these (`trading`) beats it: better in one figure and no worse in the others (balance to 0.01 mm). */
  readonly proven: boolean
}

export type TradeOffs =
  | {
      readonly status: 'found'
      /** The figures that were traded, in the project's order. */
      readonly figures: readonly ObjectiveName[]
      /** None of them beats another; in order of the first figure, the best first. */
      readonly layouts: readonly TradeOff[]
      /** Every solve ran to its proof. There may be more layouts between these. */
      readonly complete: boolean
    }
  | { readonly status: 'infeasible' }
  | { readonly status: 'unknown' }

export interface TradeOffOptions extends WhatIfOptions {
  readonly pins?: readonly Hold[]
  /** Steps between two corners; default 3. */
  readonly between?: number
}

const TRADED: readonly ObjectiveName[] = ['free-tie-points', 'wire-length', 'balance']
/** Differences smaller than this are none: contacts, Um of wire, Um of balance. */
const SAME: Readonly<Record<ObjectiveName, number>> = {
  'free-tie-points': 0.5,
  'optional-value': 1e-6,
  'new-holes': 0.5,
  'wire-length': 1,
  balance: 10,
}

/** Runs `trading` to its end. */
export function tradeOffs(problem: Problem, options: TradeOffOptions = {}): TradeOffs {
  return finish(trading(problem, options))
}

/**
 * Every layout earns at least the optional value of the project's own best answer, and makes no more new holes where these are asked for: leaving
 * things out is no trade.
 */
export function* trading(problem: Problem, options: TradeOffOptions = {}): Slices<TradeOffs> {
  const budget = new Budget(options)
  const asked: Case = { problem, pins: options.pins ?? [] }
  const ordered = [...new Set([...problem.objective.filter((n) => TRADED.includes(n)), ...TRADED])]
  const names = measured(problem, ordered)
  const orders = permutations(names)
  const between = options.between ?? 3
  let complete = true
  const found: TradeOff[] = []
  function* solve(order: readonly ObjectiveName[], limits: readonly Limit[], share: number): Slices<Staged> {
    const hint = startFor(found, order, limits)
    const out = yield* staged({ asked, order, limits, budget, share, hint })
    if (out.status === 'open') complete = false
    if (out.status === 'found') {
      if (!out.proven) complete = false
      found.push({ placements: out.placements, figures: out.figures, proven: out.proven })
    }
    return out
  }
  const own = measured(problem, problem.objective)
  const base = yield* solve([...own, ...names.filter((n) => !own.includes(n))], [], 1 / 5)
  if (base.status === 'none') return { status: 'infeasible' }
  if (base.status === 'open') return { status: 'unknown' }
  const floor = (['optional-value', 'new-holes'] as const)
    .filter((name) => own.includes(name))
    .map((name): Limit => ({ name, value: figureOf(name, base.figures) }))
  const corners = new Map<string, Figures>()
  for (const [i, order] of orders.entries()) {
    const out = yield* solve(order, floor, 1 / (orders.length - i + 4))
    if (out.status === 'found') corners.set(order.join(), out.figures)
  }
  const spans = orders.flatMap((order) => {
    const [first, second] = order
    const from = corners.get(order.join())
    const to = corners.get([second, first, ...order.slice(2)].join())
    if (first === undefined || second === undefined || !from || !to) return []
    const [a, b] = [figureOf(second, from), figureOf(second, to)]
    return (b - a) * (isMost(second) ? 1 : -1) > SAME[second] ? [{ order, second, from: a, to: b }] : []
  })
  let left = spans.length * between
  for (const s of spans) {
    const then = left - between
    yield* sweep(s.order, s.second, s.from, s.to)
    left = then
  }
  /** From where `first` is best towards where `second` is. */
  function* sweep(order: readonly ObjectiveName[], second: ObjectiveName, from: number, to: number): Slices<void> {
    const step = Math.max(Math.abs(to - from) / (between + 1), SAME[second])
    const sign = isMost(second) ? 1 : -1
    for (let at = from + sign * step; (to - at) * sign > SAME[second]; ) {
      if (budget.over()) {
        complete = false
        return
      }
      const limits = [...floor, { name: second, value: at }]
      const out = yield* solve(order, limits, 1 / Math.max(1, left--))
      if (out.status !== 'found') return
      at = figureOf(second, out.figures) + sign * step
    }
  }
  return { status: 'found', figures: names, layouts: undominated(found, names), complete }
}

/** Of the layouts that keep the limits the one that is best in this order: the search starts from it. */
function startFor(
  found: readonly TradeOff[],
  order: readonly ObjectiveName[],
  limits: readonly Limit[],
): readonly Placement[] | undefined {
  const keeps = found.filter((t) => within(t.figures, limits))
  return keeps.sort((a, b) => compared(a, b, order))[0]?.placements
}

const gain = (a: TradeOff, b: TradeOff, n: ObjectiveName): number =>
  (figureOf(n, a.figures) - figureOf(n, b.figures)) * (isMost(n) ? 1 : -1)

/** The better one first. */
function compared(a: TradeOff, b: TradeOff, order: readonly ObjectiveName[]): number {
  for (const n of order) if (Math.abs(gain(a, b, n)) >= SAME[n]) return -gain(a, b, n)
  return 0
}

/** Those that no other beats, each set of figures once, proven ones preferred. */
function undominated(list: readonly TradeOff[], names: readonly ObjectiveName[]): TradeOff[] {
  const equal = (a: TradeOff, b: TradeOff) => names.every((n) => Math.abs(gain(a, b, n)) < SAME[n])
  const beats = (a: TradeOff, b: TradeOff) => !equal(a, b) && names.every((n) => gain(a, b, n) > -SAME[n])
  const kept: TradeOff[] = []
  for (const t of [...list].sort((a, b) => Number(b.proven) - Number(a.proven)))
    if (!kept.some((k) => equal(k, t)) && !list.some((o) => beats(o, t))) kept.push(t)
  return kept.sort((a, b) => compared(a, b, names))
}

function permutations<T>(list: readonly T[]): T[][] {
  if (list.length <= 1) return [[...list]]
  return list.flatMap((head, i) =>
    permutations([...list.slice(0, i), ...list.slice(i + 1)]).map((rest) => [head, ...rest]),
  )
}
