/** The five kinds of step that a proof is made of, and how the search hands them over. See README.md beside this file. */
import type { Engine } from '../search/engine.ts'

/** Anything that deduces, known by its identity. */
export type Speaker = object

/** Literals are the engine's own; the constants true and false (−1, −2) may be among them. Arrays may change after the call. */
export abstract class ProofLog {
  protected e!: Engine
  /** What each goal was last refuted at. */
  readonly refuted = new Map<string, number>()
  /** Every deduction is wanted as soon as it is made; else only those that something learned rests on. */
  abstract readonly every: boolean
  /** Who is at work: set by the engine. */
  speaker: Speaker | undefined
  /** Who spoke, by trail entry. */
  private readonly spoke: (Speaker | undefined)[] = []

  /** To be called before the first clause. */
  listen(e: Engine): void {
    this.e = e
    e.log = this
  }

  /** A clause of the model: one of these holds. */
  abstract given(lits: readonly number[]): void
  /** Given, too: where `guard` is true, the goal is at least as good as `value` (in the goal's own whole numbers). */
  abstract asked(goal: string, value: number, guard: number): void
  /** `by` says that `reason` (all true) implies `lit`; where `lit` is FALSE, that it cannot be. */
  abstract deduced(lit: number, reason: ArrayLike<number>, by: Speaker | undefined): void
  /** One of these holds, by what was logged before. The same array comes back in `forgot`. */
  abstract learned(lits: ArrayLike<number>): void
  abstract forgot(lits: ArrayLike<number>): void
  /** `held` (the literals of a threshold, and of earlier goals) cannot all be true, so `goal` cannot reach `value`; without a goal there is no layout. */
  protected abstract wroteBound(goal: string | undefined, value: number, held: readonly number[]): void

  bound(goal: string | undefined, value: number, held: readonly number[]): void {
    if (goal !== undefined) this.refuted.set(goal, value)
    this.wroteBound(goal, value, held)
  }

  /** A propagator is about to make `lit` true, or to fail at it. What follows without decisions is written at once, for no conflict names it again. */
  implied(e: Engine, lit: number, reason: Int32Array): void {
    this.spoke[e.trailSize] = this.speaker
    if (this.every || e.level === 0 || e.isFalse(lit)) this.deduced(lit, reason, this.speaker)
  }

  /** Something learned rests on the reason of this trail entry. */
  uses(e: Engine, entry: number): void {
    if (this.every || e.tReason[entry]! < 0 || e.tLevel[entry] === 0) return
    const n = e.recall(entry)
    this.deduced(e.trail[entry]!, e.buf.slice(0, n), this.spoke[entry])
  }
}
