/**
 * Which rules of whole layouts a solve learns beside R1–R10, as plain data that a thread makes rules of. What the file states as
 * a limit of statics (`leastTipAngle`, `mostTrackShare`) stands in the problem, and always holds.
 */
import type { LazyRule, Placement, Problem } from '../../solver/index.ts'
// not by the doors: a thread that solves needs nothing else of these rooms, and is to start quickly
import { routedRule } from '../electric/routes-rule.ts'
import { limitOf, type Wiring } from '../electric/routes-settings.ts'
import { canBlock, joinedRule, unjoined } from '../electric/strips-rule.ts'
import { staticsRules } from '../statics/rules.ts'

export interface Rules {
  /**
   * How leads are laid: each must be long enough round what stands in its way, and a contact must be free for it where it goes into a
   * board. Missing = R7 alone measures them.
   */
  readonly routes?: Wiring
}

/** Always kept: a problem that they exclude does not fit. */
export const limitsOf = (problem: Problem): LazyRule[] => staticsRules(problem)

/** The rules of wiring that the file asks for, as far as they can bind at all: one set, which a layout keeps or does not. */
export function wiringRules(problem: Problem, { routes }: Rules): LazyRule[] {
  if (!routes) return []
  return [...(limited(problem) ? [routedRule(routes)] : []), ...(canBlock(problem) ? [joinedRule] : [])]
}

/** Why leads are too short in a layout, or cannot be joined, a sentence each; none where wiring was not asked for. */
export function tooShort(problem: Problem, placements: readonly Placement[], { routes }: Rules): string[] {
  if (!routes) return []
  const rule = limited(problem) ? routedRule(routes) : undefined
  // the rule tells of one lead at a time
  const short = problem.wires.flatMap((wire) => rule?.find({ ...problem, wires: [wire] }, placements) ?? [])
  return [...short, ...unjoined(problem, placements)].map((f) => f.text)
}

/** Whether any lead can be too short at all. */
const limited = (problem: Problem): boolean =>
  problem.wires.some((wire) => Number.isFinite(limitOf(problem.exits, wire)))
