/** What the checker and the rules of whole layouts say of a layout that a search made: that it is one, and what it is worth to a goal. */
import { check } from './check/check.ts'
import { figureOf, figures as measure } from './check/figures.ts'
import { firstFinding, type LazyRule } from './lazy.ts'
import type { Outcome } from './optimise.ts'
import type { Placement, Problem } from './problem.ts'
import type { Figures } from './result.ts'
import type { Goal } from './search/goals.ts'

/** Throws where it breaks a rule: that is a bug of ours. */
export function verify(problem: Problem, placements: readonly Placement[], lazy: readonly LazyRule[]): void {
  const wrong = check(problem, placements)
  if (wrong.length > 0)
    throw new Error(`the search made a layout that the checker refuses: ${wrong[0]!.rule} ${wrong[0]!.text}`)
  const more = firstFinding(lazy, problem, placements)
  if (more) throw new Error(`the search made a layout that a lazy rule refuses: ${more.text}`)
}

/** In the goal's own numbers. */
export function valueAt(problem: Problem, goal: Goal, placements: readonly Placement[]): number {
  if (goal.measure) return goal.measure(placements)
  if (goal.name === 'moves' || goal.name === 'distance') return Number.NaN
  const value = figureOf(goal.name, measure(problem, placements)) / goal.scale
  return goal.name === 'balance' ? value : Math.round(value)
}

/** Are these figures no worse for any of the goals than what it came to? */
export const noWorse = (f: Figures, outcomes: ReadonlyMap<Goal, Outcome>): boolean =>
  [...outcomes].every(
    ([g, o]) =>
      g.name === 'moves' || g.name === 'distance' || (figureOf(g.name, f) / g.scale - o.value) * g.sign >= -1e-6,
  )
