/**
 * Which rules of whole layouts a solve learns beside R1–R10, as plain data that a thread makes rules of. What the file states as
 * a limit of statics (`leastTipAngle`, `mostTrackShare`) stands in the problem, and always holds.
 */
import type { LazyRule, Placement, Problem } from '../../solver/index.ts'
// not by the doors: a thread that solves needs nothing else of these rooms, and is to start quickly
import { routedRule } from '../electric/routes-rule.ts'
import type { Wiring } from '../electric/routes-settings.ts'
import { staticsRules } from '../statics/rules.ts'

export interface Rules {
  /** How leads are laid: each must be long enough round what stands in its way. Missing = R7 alone measures them. */
  readonly routes?: Wiring
}

/** Always kept: a problem that they exclude does not fit. */
export const limitsOf = (problem: Problem): LazyRule[] => staticsRules(problem)

/** Why leads are too short in a layout, a sentence each; none where routes were not asked for. */
export function tooShort(problem: Problem, placements: readonly Placement[], { routes }: Rules): string[] {
  if (!routes || !limited(problem)) return []
  const rule = routedRule(routes)
  // the rule tells of one lead at a time
  return problem.wires.flatMap((wire) => rule.find({ ...problem, wires: [wire] }, placements).map((f) => f.text))
}

/** Whether any lead can be too short at all. */
export const limited = (problem: Problem): boolean =>
  problem.wires.some(
    (w) =>
      w.maxLength !== undefined ||
      [w.from, w.to].some((end) => end.kind === 'exit' && problem.exits[end.exit]?.free !== undefined),
  )
