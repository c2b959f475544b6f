/** One candidate on top of a case: the smallest step that works, and which steps are refuted. */
import type { Placement } from '../problem.ts'
import type { Candidate } from './candidates.ts'
import { applyChanges } from './change.ts'
import { type Budget, type Case, fits, isLegal, SHARE, type Slices } from './trial.ts'

interface Step {
  readonly step: number
  readonly placements: readonly Placement[]
}

export class Narrowing {
  readonly candidate: Candidate
  private readonly asked: Case
  private readonly budget: Budget
  private readonly refuted = new Set<number>()
  private found: Step | undefined

  constructor(asked: Case, candidate: Candidate, budget: Budget) {
    this.asked = asked
    this.candidate = candidate
    this.budget = budget
  }

  /** The smallest step known to work. */
  get best(): Step | undefined {
    return this.found
  }

  /** The case with the change made; undefined where there is no such step. */
  private at(step: number): Case | undefined {
    const changes = this.candidate.changes(step)
    return changes && applyChanges(this.asked, changes)
  }

  /** Up to step `top`. What grows with the step is tried at its largest first; the rest from below, doubling; then bisected. */
  *narrow(top: number): Slices<void> {
    const { monotone } = this.candidate
    if (top < 1) return
    let low = 0
    let k = monotone ? top : 1
    while (!this.budget.over()) {
      const works = yield* this.ask(k, low)
      if (!works) {
        if (!this.found && (monotone || k === top)) return
        if (!this.refuted.has(k) && this.found) return
        low = k
      }
      if (this.found && this.found.step - low <= 1) return
      k = this.found ? Math.floor((low + this.found.step) / 2) : Math.min(top, k * 2)
    }
  }

  /** Every step that is still open and smaller than the best, up to `top`, the smallest first. */
  *scan(top: number): Slices<void> {
    if (this.candidate.monotone) return
    for (let k = 1; k <= this.last(top) && !this.budget.over(); k++)
      if (!this.refuted.has(k) && (yield* this.ask(k, k - 1))) return
  }

  /** Is it known of every step up to `top` that is smaller than the best that it does not work? */
  isSettled(top: number): boolean {
    const last = this.last(top)
    for (let k = this.candidate.monotone ? Math.max(1, last) : 1; k <= last; k++) if (!this.refuted.has(k)) return false
    return true
  }

  /** Is one step less than the best proven not to do? Step 0 is the case as it was. */
  *isLeast(): Slices<boolean> {
    const less = this.found!.step - 1
    if (less > 0 && !this.refuted.has(less)) yield* this.ask(less, less - 1)
    return less === 0 || this.refuted.has(less)
  }

  private last(top: number): number {
    return Math.min(top, (this.found?.step ?? top + 1) - 1)
  }

  /** The smallest step above `low` at which the layout that is found is legal counts: the checker says it, so nothing has to be searched. */
  private *ask(step: number, low: number): Slices<boolean> {
    const asked = this.at(step)
    const v = asked ? yield* fits(asked, this.budget, SHARE, this.found?.placements) : undefined
    if (!v || v.verdict === 'not') this.refuted.add(step)
    if (v?.verdict !== 'fits') return false
    let [lo, hi] = [low, step]
    while (hi - lo > 1) {
      const mid = Math.floor((lo + hi) / 2)
      const less = this.at(mid)
      if (less && isLegal(less, v.placements, this.budget.lazy)) hi = mid
      else lo = mid
    }
    if (!this.found || hi < this.found.step) this.found = { step: hi, placements: v.placements }
    return true
  }
}
