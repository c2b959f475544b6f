/**
 * All clauses in one array of whole numbers, and for each literal the clauses that watch it (two watches: Moskewicz et al.
 * 2001). A clause is known by where it begins; it moves only in `compact`.
 */
import type { Learnt } from './clause.ts'
import { grow } from './domains.ts'

/** A clause's literals begin so far behind its beginning; before them stand how many there are, and its place in `learnts` (−1: given). */
export const HEAD = 2

/** Two pairs: most lists stay short. */
const ROOM = 4

export class ClauseStore {
  all = new Int32Array(1 << 12)
  private top = 0
  learnts: Learnt[] = []
  /** By literal: its list, 0 where no clause watches it. */
  listOf = new Int32Array(1 << 12)
  // by list: where it begins in `pairs`, what it takes there, what it may take
  start = new Int32Array(1 << 8)
  size = new Int32Array(1 << 8)
  private room = new Int32Array(1 << 8)
  private lists = 1
  /** Of each list: a clause, then another of its literals (where that is true, the clause need not be looked at). */
  pairs = new Int32Array(1 << 12)
  private pairsTop = 0

  /** Literals are below `count`. */
  reserve(count: number): void {
    while (count > this.listOf.length) this.listOf = grow(this.listOf)
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

  /** May move `pairs`, but no other literal's list. */
  watch(lit: number, clause: number, other: number): void {
    let list = this.listOf[lit]!
    if (list === 0) list = this.newList(lit)
    const n = this.size[list]!
    if (n === this.room[list]!) this.move(list, 2 * n)
    const i = this.start[list]! + n
    this.pairs[i] = clause
    this.pairs[i + 1] = other
    this.size[list] = n + 2
  }

  private newList(lit: number): number {
    const list = this.lists++
    if (list >= this.start.length) {
      this.start = grow(this.start)
      this.size = grow(this.size)
      this.room = grow(this.room)
    }
    this.listOf[lit] = list
    this.move(list, ROOM)
    return list
  }

  /** To the end, where there is so much room. */
  private move(list: number, room: number): void {
    const to = this.pairsTop
    this.pairsTop += room
    while (this.pairsTop > this.pairs.length) this.pairs = grow(this.pairs)
    const from = this.start[list]!
    this.pairs.copyWithin(to, from, from + this.size[list]!)
    this.start[list] = to
    this.room[list] = room
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
    this.pairsTop = 0
    const pairs = new Int32Array(this.pairs.length)
    for (let list = 1; list < this.lists; list++) {
      const to = this.pairsTop
      let n = to
      const end = this.start[list]! + this.size[list]!
      for (let i = this.start[list]!; i < end; i += 2) {
        const at = old[this.pairs[i]! + 1]!
        if (at < 0) continue
        pairs[n++] = at
        pairs[n++] = this.pairs[i + 1]!
      }
      this.start[list] = to
      this.size[list] = n - to
      this.pairsTop = to + this.room[list]!
    }
    this.pairs = pairs
    this.all = all
    this.top = top
    this.learnts = kept
  }
}
