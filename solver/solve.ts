/** The door to a solve; the search is being written. Until then it knows nothing, and says so. */
import type { Problem } from './problem.ts'
import type { Progress, SolveOptions, SolveResult } from './result.ts'

/** A solve in slices of about 20 ms, for callers that must stay responsive. */
export function* solving(
  _problem: Problem,
  _options: SolveOptions = {},
): Generator<Progress | undefined, SolveResult, void> {
  return { status: 'unknown' }
}

/** Runs `solving` to its end. */
export function solve(problem: Problem, options: SolveOptions = {}): SolveResult {
  const run = solving(problem, options)
  for (;;) {
    const next = run.next()
    if (next.done) return next.value
  }
}
