/** Whole solves within a budget that other questions share. */
import type { ConflictMember, SolveOptions, SolveResult } from '../result.ts'
import { solving } from '../solve.ts'
import { type Budget, type Case, SHARE, type Slices } from './trial.ts'

/** The conflict of a case; undefined where it has a layout, or time ran out. */
export function* whyNot(asked: Case, budget: Budget): Slices<readonly ConflictMember[] | undefined> {
  const result = yield* solveWithin({ ...asked, problem: { ...asked.problem, objective: [] } }, budget, SHARE)
  return result.status === 'infeasible' ? result.conflict : undefined
}

/** A whole solve within the budget. */
export function* solveWithin(asked: Case, budget: Budget, share = 1): Slices<SolveResult> {
  const left = budget.left() * share
  const steps = Math.floor(budget.stepsLeft() * share)
  let used = 0
  const options: SolveOptions = {
    pins: asked.pins,
    lazy: budget.lazy,
    signal: {
      get aborted() {
        return budget.over()
      },
    },
    ...(Number.isFinite(left) ? { time: left } : {}),
    ...(Number.isFinite(steps) ? { steps } : {}),
    onProgress: (p) => {
      used = Math.max(used, p.steps)
    },
  }
  const result = yield* solving(asked.problem, options)
  budget.book(used)
  return result
}
