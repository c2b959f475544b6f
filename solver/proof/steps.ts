/** The five kinds of step that a proof is made of: what the search says to whoever listens. See README.md beside this file. */

/** Anything that deduces, by its identity. */
export type Speaker = object

/** Literals are the engine's own; true and false constants (−1, −2) may be among them. A listener must not keep the arrays. */
export interface ProofLog {
  /** Every deduction is wanted when it is made; else only those that something learned rests on. */
  readonly every: boolean
  /** A clause of the model: one of these holds. */
  given(lits: readonly number[]): void
  /** `by` says: `reason` (all true) implies `lit`, or, where `lit` is FALSE, cannot be. */
  deduced(lit: number, reason: readonly number[], by: Speaker | undefined): void
  /** One of these holds, by what was logged before. The same array comes back in `forgot`. */
  learned(lits: ArrayLike<number>): void
  forgot(lits: ArrayLike<number>): void
  /**
   * A goal cannot reach a value: `held` (true literals: this threshold, and those of earlier goals) cannot be together.
   * No `goal`: there is no layout at all.
   */
  bound(goal: string | undefined, value: number, held: readonly number[]): void
}
