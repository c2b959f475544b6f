/** One goal after the other, under limits on any of them: what trade-offs and other layouts ask for again and again. */
import { figureOf, figures as measure } from '../check/figures.ts'
import { inSlices } from '../clock.ts'
import { withHolds } from '../holds.ts'
import type { Setting } from '../improve/pursuit.ts'
import { askLazily } from '../lazy.ts'
import { isMost } from '../objectives.ts'
import { improve, type Outcome } from '../optimise.ts'
import { polish } from '../polish.ts'
import type { ObjectiveName, Placement, Problem } from '../problem.ts'
import type { Figures } from '../result.ts'
import { type Goal, goalsOf } from '../search/goals.ts'
import type { Model } from '../search/model.ts'
import { Search } from '../search/search.ts'
import { noWorse, valueAt, verify } from '../verified.ts'
import { type Budget, type Case, isCoarse, modelOf, type Slices } from './trial.ts'

/** Most is best of contacts and value, at least so much; least of lengths (Um), at most so much. */
export interface Limit {
  readonly name: ObjectiveName
  readonly value: number
}

export type Staged =
  | {
      readonly status: 'found'
      readonly placements: readonly Placement[]
      readonly figures: Figures
      /** Every stage was proven, under the limits and with the stages before it at their values. */
      readonly proven: boolean
      /** Bound of the last stage, in the goal's own whole numbers. */
      readonly bound: number
    }
  | { readonly status: 'none' }
  | { readonly status: 'open' }

export interface StagedAsk {
  readonly asked: Case
  /** What is made best, first things first. */
  readonly order: readonly ObjectiveName[]
  readonly limits: readonly Limit[]
  readonly budget: Budget
  /** Of what is left. */
  readonly share: number
  /** A layout to start from, best one that keeps the limits. */
  readonly hint?: readonly Placement[] | undefined
  /** A goal after all others; made once the model stands. */
  readonly last?: (model: Model) => Goal | undefined
}

const measurable: Readonly<Record<ObjectiveName, (p: Problem) => boolean>> = {
  'free-tie-points': (p) => p.items.some((i) => i.footprint.breadboard && i.footprint.mount.kind !== 'plug-in'),
  'optional-value': (p) => p.items.some((i) => !i.required && i.value !== 0),
  'new-holes': (p) =>
    p.items.some((i) => i.footprint.mount.kind !== 'adhesive' && i.footprint.mount.kind !== 'plug-in'),
  'wire-length': (p) => p.wires.length > 0,
  balance: (p) => p.chassis !== undefined,
}

/** Which of these have anything to measure: breadboards, optional items with a value, wires, a chassis. */
export const measured = (problem: Problem, names: readonly ObjectiveName[]): ObjectiveName[] =>
  names.filter((name) => measurable[name](problem))

export function* staged(ask: StagedAsk): Slices<Staged> {
  const { asked, order, limits, budget } = ask
  if (budget.over()) return { status: 'open' }
  const names = [...new Set([...order, ...limits.map((l) => l.name)])]
  const own = { problem: { ...asked.problem, objective: names }, pins: asked.pins }
  const problem = withHolds(own.problem, own.pins)
  // a goal that looks at where items stand needs every place that they may have
  const model = modelOf(own, budget, { interchange: ask.last === undefined })
  if (!model) return { status: 'open' }
  const coarse = isCoarse(model, asked)
  const search = new Search(model)
  askLazily(search, model, problem, budget.lazy)
  const clock = budget.clock(search, ask.share)
  const goals = new Map<ObjectiveName, Goal>()
  for (const g of goalsOf(model)) if (g.goal) goals.set(g.name, g.goal)
  const last = ask.last?.(model)
  const held: number[] = []
  const hold = (goal: Goal, value: number) => {
    model.e.backTo(0)
    const guard = model.e.newBool()
    goal.require(value, guard)
    held.push(guard)
  }
  for (const l of limits) {
    const goal = goals.get(l.name)
    if (!goal) continue
    const value = l.value / goal.scale
    // whole numbers; a limit between two of them asks for the next
    hold(goal, l.name === 'balance' ? value : goal.sign > 0 ? Math.ceil(value - 1e-6) : Math.floor(value + 1e-6))
  }
  if (ask.hint) {
    search.follow(ask.hint)
    search.lean = true
  }
  const first = yield* inSlices(search, held, clock)
  if (first !== 'found') {
    clock.done()
    return { status: first === 'none' && !coarse ? 'none' : 'open' }
  }
  search.lean = false
  const best: Setting['best'] = { placements: search.placements() }
  search.follow(best.placements)
  const stages = [...order.flatMap((n) => goals.get(n) ?? []), ...(last ? [last] : [])]
  const outcomes = new Map<Goal, Outcome>()
  let proven = !coarse
  let bound = Number.NaN
  for (const goal of stages) {
    if (clock.over()) {
      proven = false
      bound = Number.NaN
      break
    }
    const start = valueAt(problem, goal, best.placements)
    const allowed = (f: Figures) => within(f, limits) && noWorse(f, outcomes)
    const polished = (value: number) =>
      goal.name === 'wire-length' ? polish(problem, model, best.placements, value, allowed, budget.lazy) : undefined
    const out = yield* improve({ model, search, goal, held, best, clock, tell: () => {}, polished }, start)
    outcomes.set(goal, out)
    proven &&= out.proven
    bound = coarse ? Number.NaN : out.bound
    hold(goal, out.value)
  }
  clock.done()
  verify(problem, best.placements, budget.lazy)
  const figures = measure(problem, best.placements)
  if (!within(figures, limits)) throw new Error('a layout that does not keep the limits asked for')
  return { status: 'found', placements: best.placements, figures, proven, bound }
}

/** Sums in another order differ in the last digits. */
const NEAR = 1e-3

export const within = (f: Figures, limits: readonly Limit[]): boolean =>
  limits.every((l) => (figureOf(l.name, f) - l.value) * (isMost(l.name) ? 1 : -1) >= -NEAR)
