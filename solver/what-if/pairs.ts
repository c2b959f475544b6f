/** Two changes at once, where no single one works: the first at its largest may leave another conflict, whose candidates are tried on top. */
import { type Candidate, candidatesOf } from './candidates.ts'
import { applyChanges, joined } from './change.ts'
import type { Smallest } from './loosen.ts'
import { Narrowing } from './narrowing.ts'
import { whyNot } from './solve-within.ts'
import { type Budget, type Case, fits, isLegal, SHARE, type Slices, type Verdict } from './trial.ts'

/** What works goes to `found`. True when all pairs were tried to their end. */
export function* tryPairs(
  asked: Case,
  candidates: readonly Candidate[],
  budget: Budget,
  keep: ReadonlySet<string>,
  found: Smallest,
): Slices<boolean> {
  let complete = true
  for (const first of candidates) {
    // of such a one a smaller step may leave less to do
    if (!first.monotone) complete = false
    const full = applyChanges(asked, first.changes(first.steps)!)
    const next = yield* whyNot(full, budget)
    if (!next) {
      complete = false
      continue
    }
    const all = candidatesOf(full, next, keep)
    // two entries of one item, or two of its copies, are not tried together
    if (all.some((c) => shiftsEntries(first, c) || (c.key === first.key && c.changes(1)?.[0]?.kind === 'count')))
      complete = false
    for (const second of all.filter((c) => c.key !== first.key && !shiftsEntries(first, c))) {
      if (budget.over()) return false
      if (!(yield* tryPair(asked, full, first, second, budget, found))) complete = false
    }
  }
  return complete
}

/** As small as they go: the second on top of the whole first, the first on top of that, and the second again where it may be less then. */
function* tryPair(
  asked: Case,
  full: Case,
  first: Candidate,
  second: Candidate,
  budget: Budget,
  found: Smallest,
): Slices<boolean> {
  const upper = new Narrowing(full, second, budget)
  yield* upper.narrow(second.steps)
  if (!upper.best) return upper.isSettled(second.steps)
  let [a, b] = [first.steps, upper.best.step]
  let { placements } = upper.best
  const top = found.under(first, second.cost(b))
  const lower = new Narrowing(applyChanges(asked, second.changes(b)!), first, budget)
  yield* lower.narrow(top)
  if (lower.best) {
    a = lower.best.step
    placements = lower.best.placements
  }
  // what the second change does to names can keep the first from coming after it: then the pair stands as it was found
  else if (top < a) return true
  if (a < first.steps && !first.monotone) {
    const again = new Narrowing(applyChanges(asked, first.changes(a)!), second, budget)
    yield* again.narrow(b)
    if (again.best && again.best.step < b) {
      b = again.best.step
      placements = again.best.placements
    }
  }
  const known = new Map<string, Verdict['verdict']>()
  const verdict = function* (i: number, j: number) {
    // not even the whole first one does alone
    if (j === 0 && first.monotone) return 'not'
    const key = `${i} ${j}`
    const before = known.get(key)
    if (before) return before
    const changes = [...(i > 0 ? (first.changes(i) ?? []) : []), ...(j > 0 ? (second.changes(j) ?? []) : [])]
    const { verdict } = yield* fits(applyChanges(asked, changes), budget, SHARE)
    known.set(key, verdict)
    return verdict
  }
  // a half that does alone
  for (const [c, i, j] of [
    [first, a, 0],
    [second, 0, b],
  ] as const)
    if ((yield* verdict(i, j)) === 'fits') {
      const alone = new Narrowing(asked, c, budget)
      yield* alone.narrow(i + j)
      if (alone.best) yield* found.add(alone)
      return false
    }
  const changes = joined(asked.problem, [...first.changes(a)!, ...second.changes(b)!])
  if (!changes || !isLegal(applyChanges(asked, changes), placements, budget.lazy)) return false
  const least = (yield* verdict(a - 1, b)) === 'not' && (yield* verdict(a, b - 1)) === 'not'
  const key = [first.key, second.key].sort().join(' ')
  found.put(key, { changes, cost: first.cost(a) + second.cost(b), least, placements })
  return upper.isSettled(second.steps)
}

/** Dropping one place entry renumbers those after it. */
const shiftsEntries = (a: Candidate, b: Candidate): boolean => {
  const owner = (c: Candidate) => /^(?:place|within)\/(.*)\/\d+$/.exec(c.key)?.[1]
  return owner(a) !== undefined && owner(a) === owner(b)
}
