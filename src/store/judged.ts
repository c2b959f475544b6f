/** What the checker finds in a layout, and what it measures: worked out once for each. */
import { check, figures, type Placement, type Problem } from '../../solver/index.ts'
import { limitsOf } from '../worker/rules.ts'

/** Results by the identity of problem and placements: both are never changed in place. */
function remember<T>(work: (problem: Problem, placements: readonly Placement[]) => T) {
  const seen = new WeakMap<readonly Placement[], { problem: Problem; value: T }>()
  return (problem: Problem, placements: readonly Placement[]): T => {
    const old = seen.get(placements)
    if (old?.problem === problem) return old.value
    const value = work(problem, placements)
    seen.set(placements, { problem, value })
    return value
  }
}

export const findingsOf = remember(check)
export const figuresOf = remember(figures)

/** Whether a layout keeps every rule that none may break: R1–R10, and the limits of statics that the project states. */
export const keepsRules = (problem: Problem, placements: readonly Placement[]): boolean =>
  findingsOf(problem, placements).length === 0 &&
  limitsOf(problem).every((rule) => rule.find(problem, placements).length === 0)
