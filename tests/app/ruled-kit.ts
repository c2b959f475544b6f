/** A solve with rules of whole layouts, run to its end. */
import type { Problem, SolveOptions } from '../../solver/index.ts'
import { type Ruled, ruling } from '../../src/worker/ruled.ts'
import type { Rules } from '../../src/worker/rules.ts'

export function ruled(problem: Problem, rules: Rules, options: SolveOptions = {}): Ruled {
  const run = ruling(problem, rules, options)
  for (;;) {
    const next = run.next()
    if (next.done) return next.value
  }
}
