/** The last lines of a proof: where a bound was read off without a search, it is refuted too, so that the log says so. */
import type { Outcome } from '../optimise.ts'
import type { Goal } from '../search/goals.ts'
import type { Search } from '../search/search.ts'
import type { ProofLog } from './steps.ts'

/** How much better than its bound a goal without a step is asked to be, in its own unit (balance: Um). */
const HAIR = 0.01
/** Conflicts that one refutation may take. What bounds say at once takes none. */
const PATIENCE = 20_000

/** Asks each goal for the next value beyond its bound, with the earlier goals held. Call at level 0, when all else is done. */
export function attest(
  log: ProofLog,
  search: Search,
  goals: readonly { readonly goal: Goal }[],
  outcomes: ReadonlyMap<Goal, Outcome>,
  guards: readonly number[],
): void {
  const { e } = search.model
  for (const [k, { goal }] of goals.entries()) {
    const bound = outcomes.get(goal)?.bound ?? goal.bound()
    const aim = goal.step === 1 ? bound + goal.sign : bound
    if (log.refuted.get(goal.name) === aim) continue
    const beyond = goal.step === 1 ? aim : bound + goal.sign * HAIR
    const guard = e.newBool()
    goal.require(beyond, guard)
    log.asked(goal.name, beyond, guard)
    const held = [...guards.slice(0, k), guard]
    const until = e.conflicts + PATIENCE
    if (search.run(held, () => e.conflicts >= until) === 'none') log.bound(goal.name, beyond, held)
    e.backTo(0)
  }
}
