/**
 * All clauses in one array of whole numbers, and for each literal the clauses that watch it (two watches: Moskewicz et al.
 * 2001). A clause is known by where it begins; it moves only in `compact`.
 */
import type { Learnt } from './clause.ts'
import { grow } from './domains.ts'
import { Lists } from './lists.ts'

/** A clause's literals begin so far behind its beginning; before them stand how many there are, and its place in `learnts` (−1: given). */
export const HEAD = 2

export class ClauseStore {
  all = new Int32Array(1 << 12)
  private top = 0
  learnts: Learnt[] = []
  /** By literal: the clauses that watch it, each with another of its literals (where that is true, the clause need not be looked at). */
  readonly watches = new Lists(2)

  /** Literals are below `count`. */
  reserve(count: number): void {
    this.watches.reserve(count)
  }

  /** A clause of the first `size` literals (two at least); `learnt` is its place among the learnt ones, or −1. */
  add(lits: Int32Array, size: number, learnt: number): number {
    const at = this.top
    this.top += HEAD + size
    while (this.top > this.all.length) this.all = grow(this.all)
    const { all } = this
    all[at] = size
    all[at + 1] = learnt
    for (let i = 0; i < size; i++) all[at + HEAD + i] = lits[i]!
    this.watch(lits[0]!, at, lits[1]!)
    this.watch(lits[1]!, at, lits[0]!)
    return at
  }

  /** May move the lists' entries, but no other literal's list. */
  watch(lit: number, clause: number, other: number): void {
    const at = this.watches.add(lit)
    const { items } = this.watches
    items[at] = clause
    items[at + 1] = other
  }

  /** Keeps these of the learnt clauses, in this order; the others are dead. Nothing may name a clause by where it was. */
  compact(kept: Learnt[]): void {
    const old = this.all
    const all = new Int32Array(old.length)
    kept.forEach((c, i) => {
      old[c.at + 1] = i
    })
    let top = 0
    for (let at = 0; at < this.top; ) {
      const n = HEAD + old[at]!
      const i = old[at + 1]!
      // where it goes stands where its place among the learnt ones was
      if (i >= 0 && kept[i]?.at !== at) old[at + 1] = -1
      else {
        all.set(old.subarray(at, at + n), top)
        old[at + 1] = top
        if (i >= 0) kept[i]!.at = top
        top += n
      }
      at += n
    }
    this.watches.renumber((at) => old[at + 1]!)
    this.all = all
    this.top = top
    this.learnts = kept
  }
}
