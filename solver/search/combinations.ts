/**
 * What a goal's sum may be made of, counted by kind: few combinations, of which a search can rule out many at once, as whoever
 * has no room for some has none for more.
 */
import type { Placement } from '../problem.ts'

/** Parts of a sum that nothing tells apart, or a single one. */
export interface Kind {
  /** What each adds; > 0. */
  readonly coef: number
  /** `lits[k]`: more than k of them are there. */
  readonly lits: readonly number[]
  /** How many of them a layout has. */
  readonly count: (placements: readonly Placement[]) => number
}

export interface Combination {
  /** By kind. */
  readonly counts: readonly number[]
  /** The most that the sum can be, with just these. */
  most: number
}

/** Literals that say: at least so many of each kind. `lits[k]` of a kind: more than k of them. */
export const atLeast = (kinds: readonly (readonly number[])[], counts: readonly number[]): number[] =>
  kinds.flatMap((lits, k) => (counts[k]! > 0 ? [lits[counts[k]! - 1]!] : []))

/** With more of them, asking one by one leads nowhere. */
const FEW = 256

export class Combinations {
  private readonly kinds: readonly Kind[]
  private readonly all: readonly Combination[]

  private constructor(kinds: readonly Kind[], all: readonly Combination[]) {
    this.kinds = kinds
    this.all = all
  }

  /** Undefined where there are too many; `least`: the sum with none of them, at most. */
  static of(kinds: readonly Kind[], least: number): Combinations | undefined {
    if (kinds.length === 0 || kinds.reduce((n, k) => n * (k.lits.length + 1), 1) > FEW) return undefined
    let all: Combination[] = [{ counts: [], most: least }]
    for (const { lits, coef } of kinds)
      all = all.flatMap(({ counts, most }) =>
        Array.from({ length: lits.length + 1 }, (_, n) => ({ counts: [...counts, n], most: most + n * coef })),
      )
    return new Combinations(kinds, all)
  }

  /** The most that any of them still allows. */
  get most(): number {
    return this.all.reduce((most, c) => Math.max(most, c.most), Number.NEGATIVE_INFINITY)
  }

  /** Literals that say that it is there. */
  lits(c: Combination): number[] {
    return atLeast(
      this.kinds.map((k) => k.lits),
      c.counts,
    )
  }

  /** Has a layout at least as many of each kind? */
  within(c: Combination, placements: readonly Placement[]): boolean {
    return this.kinds.every((kind, k) => kind.count(placements) >= c.counts[k]!)
  }

  /** With all that `core` names, no more than `most` can be reached (−∞: it cannot be at all). */
  ruleOut(core: readonly number[], most: number): void {
    const least = this.kinds.map(({ lits }) => lits.findLastIndex((l) => core.includes(l)) + 1)
    for (const c of this.all) if (c.counts.every((n, k) => n >= least[k]!)) c.most = Math.min(c.most, most)
  }

  /** The one to ask for next, of those that could be better than `value`: whichever way it ends, many others are settled with it. */
  next(value: number, without: ReadonlySet<Combination>): Combination | undefined {
    const open = this.all.filter((c) => c.most > value)
    let best: Combination | undefined
    let gain = -1
    for (const c of open) {
      if (without.has(c)) continue
      let more = 0
      let less = 0
      for (const o of open) {
        if (o.counts.every((n, k) => n >= c.counts[k]!)) more++
        if (o.most <= c.most) less++
      }
      if (Math.min(more, less) <= gain) continue
      gain = Math.min(more, less)
      best = c
    }
    return best
  }
}
