/**
 * Conflict-learning search over integer bounds (lazy clause generation, Ohrimenko, Stuckey & Codish 2009).
 *
 * A variable is an index 0 … size−1 into some list of values. The only atoms are "variable ≥ k"; a truth value is a
 * variable of size 2. A literal is `2·atom` (≥ k) or `2·atom + 1` (< k), so its truth is read off the bounds.
 * Every deduction passes `imply` or `fail` with the literals that it read, every clause `addClause` or `learn`: there a
 * proof is logged (../proof).
 */
import { bestHalf } from './clause.ts'
import { ClauseStore, HEAD } from './clause-store.ts'
import { FALSE, grow, TRUE } from './domains.ts'
import { Heap } from './heap.ts'
import type { Eager, Propagator } from './propagator.ts'
import { Wakes } from './wakes.ts'

export type { Eager, Propagator }
export { FALSE, TRUE }

/** The reason of a trail entry that was decided. */
const DECISION = -1

export class Engine extends Wakes {
  private lastLb = new Int32Array(1024)
  private lastUb = new Int32Array(1024)

  trail = new Int32Array(1 << 14)
  trailSize = 0
  tOld = new Int32Array(1 << 14)
  tPrev = new Int32Array(1 << 14)
  tReason = new Int32Array(1 << 14)
  tLevel = new Int32Array(1 << 14)
  private arena = new Int32Array(1 << 16)
  private arenaTop = 0
  private levelTrail: number[] = []
  private levelArena: number[] = []
  private head = 0

  /** The reason being written. */
  buf = new Int32Array(1 << 12)
  private bufSize = 0
  /** Literals, all true, that contradict each other. */
  conflict: number[] = []
  /** False once a contradiction without any decision is found. */
  ok = true
  private readonly clauses = new ClauseStore()
  readonly order = new Heap()
  clauseBump = 1
  private skipped: number[] = []
  private skippedAt: number[] = []
  conflicts = 0
  decisions = 0

  override newVar(size: number): number {
    const v = super.newVar(size)
    while (this.count > this.lastLb.length) {
      this.lastLb = grow(this.lastLb)
      this.lastUb = grow(this.lastUb)
    }
    this.lastLb[v] = -1
    this.lastUb[v] = -1
    this.clauses.reserve(2 * this.atoms)
    this.order.grow(this.count)
    return v
  }

  get level(): number {
    return this.levelTrail.length
  }

  // ---- reasons -------------------------------------------------------------------------------------------------

  begin(): void {
    this.bufSize = 0
  }

  /** Adds a true literal to the reason being written; TRUE needs no mention. */
  why(lit: number): void {
    if (lit < 0) return
    if (this.bufSize === this.buf.length) this.buf = grow(this.buf)
    this.buf[this.bufSize++] = lit
  }

  /** The reason since `begin` implies `lit`. */
  imply(lit: number): boolean {
    if (this.isTrue(lit)) return true
    this.log?.implied(this, lit, this.buf.subarray(0, this.bufSize))
    if (this.isFalse(lit)) {
      this.conflict = [...this.buf.subarray(0, this.bufSize)]
      if (lit >= 0) this.conflict.push(lit ^ 1)
      return false
    }
    this.enact(lit)
    return true
  }

  /** Makes an open literal true, with the reason since `begin`. */
  private enact(lit: number): void {
    const need = this.arenaTop + this.bufSize + 1
    while (need > this.arena.length) this.arena = grow(this.arena)
    this.arena[this.arenaTop] = this.bufSize
    for (let i = 0; i < this.bufSize; i++) this.arena[this.arenaTop + 1 + i] = this.buf[i]!
    this.push(lit, this.arenaTop)
    this.arenaTop = need
  }

  /** The reason since `begin` cannot be. */
  fail(): false {
    this.conflict = [...this.buf.subarray(0, this.bufSize)]
    this.log?.deduced(FALSE, this.conflict, this.log.speaker)
    return false
  }

  private push(lit: number, reason: number): void {
    const a = lit >> 1
    const v = this.atomVar[a]!
    const k = a - this.base[v]!
    const e = this.trailSize++
    if (e >= this.trail.length) {
      this.trail = grow(this.trail)
      this.tOld = grow(this.tOld)
      this.tPrev = grow(this.tPrev)
      this.tReason = grow(this.tReason)
      this.tLevel = grow(this.tLevel)
    }
    this.trail[e] = lit
    this.tReason[e] = reason
    this.tLevel[e] = this.levelTrail.length
    if ((lit & 1) === 0) {
      this.tOld[e] = this.lb[v]!
      this.tPrev[e] = this.lastLb[v]!
      this.lastLb[v] = e
      this.lb[v] = k
      this.reach[2 * v] = a + 1
    } else {
      this.tOld[e] = this.ub[v]!
      this.tPrev[e] = this.lastUb[v]!
      this.lastUb[v] = e
      this.ub[v] = k - 1
      this.reach[2 * v + 1] = -a
    }
  }

  /** The trail entry that made a true literal true; −1 where it always was. */
  entryOf(lit: number): number {
    const a = lit >> 1
    const v = this.atomVar[a]!
    const k = a - this.base[v]!
    if ((lit & 1) === 0) {
      let e = this.lastLb[v]!
      while (e >= 0 && this.tOld[e]! >= k) e = this.tPrev[e]!
      return e
    }
    let e = this.lastUb[v]!
    while (e >= 0 && this.tOld[e]! < k) e = this.tPrev[e]!
    return e
  }

  /** Writes the reason of a trail entry that something was decided before into `buf`; how many literals that are. */
  recall(e: number): number {
    const r = this.tReason[e]!
    this.bufSize = 0
    if (r >= 0) {
      const n = this.arena[r]!
      for (let i = 1; i <= n; i++) this.why(this.arena[r + i]!)
    } else if (r < DECISION) {
      const { all } = this.clauses
      const at = -2 - r
      const end = at + HEAD + all[at]!
      for (let i = at + HEAD + 1; i < end; i++) this.why(all[i]! ^ 1)
    }
    return this.bufSize
  }

  isDecision(e: number): boolean {
    return this.tReason[e] === DECISION && this.tLevel[e]! > 0
  }

  // ---- levels --------------------------------------------------------------------------------------------------

  decide(lit: number): void {
    this.openLevel()
    this.push(lit, DECISION)
  }

  /** Opens a level without a decision (an assumption that is already true). */
  openLevel(): void {
    this.levelTrail.push(this.trailSize)
    this.levelArena.push(this.arenaTop)
  }

  /** Takes a variable off the order until the present level is left. */
  skip(v: number): void {
    this.skipped.push(v)
    this.skippedAt.push(this.level)
  }

  backTo(level: number): void {
    if (this.level <= level) return
    while (this.skipped.length > 0 && this.skippedAt[this.skipped.length - 1]! > level) {
      this.order.insert(this.skipped.pop()!)
      this.skippedAt.pop()
    }
    const keep = this.levelTrail[level]!
    for (let e = this.trailSize - 1; e >= keep; e--) {
      const lit = this.trail[e]!
      const v = this.atomVar[lit >> 1]!
      if ((lit & 1) === 0) {
        this.lb[v] = this.tOld[e]!
        this.reach[2 * v] = this.base[v]! + this.tOld[e]! + 1
        this.lastLb[v] = this.tPrev[e]!
      } else {
        this.ub[v] = this.tOld[e]!
        this.reach[2 * v + 1] = ~(this.base[v]! + this.tOld[e]!)
        this.lastUb[v] = this.tPrev[e]!
      }
      if (this.order.eligible[v]) this.order.insert(v)
    }
    this.trailSize = keep
    this.head = keep
    this.arenaTop = this.levelArena[level]!
    this.levelTrail.length = level
    this.levelArena.length = level
    this.emptyLines()
  }

  // ---- clauses -------------------------------------------------------------------------------------------------

  /** Adds a clause at level 0 (call `backTo(0)` first). Constants are folded. */
  addClause(lits: readonly number[]): void {
    this.log?.given(lits)
    this.keep(lits)
  }

  /** No two of them are true. */
  atMostOne(lits: readonly number[]): void {
    for (let i = 0; i < lits.length; i++)
      for (let j = i + 1; j < lits.length; j++) this.addClause([this.not(lits[i]!), this.not(lits[j]!)])
  }

  /** Keeps a clause that follows from what is there, and is logged already. At level 0. */
  keep(lits: readonly number[]): void {
    // folded into the buffer that reasons are written into
    this.begin()
    next: for (const l of lits) {
      if (l === TRUE || this.isTrue(l)) return
      if (this.isFalse(l)) continue
      for (let i = 0; i < this.bufSize; i++) if (this.buf[i] === l) continue next
      this.why(l)
    }
    const first = this.buf[0]!
    if (this.bufSize === 0) this.ok = false
    else if (this.bufSize === 1) {
      this.begin()
      this.enact(first)
    } else this.clauses.add(this.buf, this.bufSize, -1)
  }

  /** Attaches a learnt clause (asserting literal first) after backjumping and asserts it. */
  learn(lits: Int32Array, lbd: number): void {
    this.log?.learned(lits)
    if (lits.length === 1) {
      this.begin()
      if (this.isFalse(lits[0]!)) this.ok = false
      else if (!this.isTrue(lits[0]!)) this.enact(lits[0]!)
      return
    }
    const { learnts } = this.clauses
    const at = this.clauses.add(lits, lits.length, learnts.length)
    const logged = this.log ? lits : undefined
    learnts.push({ at, size: lits.length, lbd, activity: this.clauseBump, dead: false, logged })
    this.push(lits[0]!, -2 - at)
  }

  get learned(): number {
    return this.clauses.learnts.length
  }

  /** Forgets the less useful half of what was learned. At level 0, where no reason is ever asked for. */
  forget(): void {
    const { learnts } = this.clauses
    const kept = bestHalf(learnts)
    for (const c of learnts) if (c.dead && c.logged) this.log?.forgot(c.logged)
    this.clauses.compact(kept)
  }

  /** Runs everything to the fixed point; false = `conflict` is set. */
  propagate(): boolean {
    for (;;) {
      while (this.fresh.length > 0) if (!this.call(this.fresh.pop()!)) return false
      while (this.head < this.trailSize) if (!this.propagateEntry(this.head++)) return false
      const p = this.nextInLine()
      if (!p) return true
      if (!this.call(p)) return false
    }
  }

  private call(p: Propagator | Eager): boolean {
    if (this.log) this.log.speaker = p
    return p.propagate()
  }

  private propagateEntry(e: number): boolean {
    const lit = this.trail[e]!
    const v = this.atomVar[lit >> 1]!
    const upper = (lit & 1) === 1
    this.wake(v, upper)
    const { listOf } = this.clauses.watches
    // every atom passed over changes its truth: those between the old bound and the new; their literals that became false
    const old = this.base[v]! + this.tOld[e]!
    if (upper) {
      for (let l = lit - 1; l <= 2 * old; l += 2) if (listOf[l]! > 0 && !this.visit(l)) return false
    } else {
      for (let l = 2 * old + 3; l <= lit + 1; l += 2) if (listOf[l]! > 0 && !this.visit(l)) return false
    }
    return this.callAt(v, upper)
  }

  /** Clauses that watch `lit`, which has just become false. */
  private visit(lit: number): boolean {
    // literals are read off `reach` here, without a call: nothing is asked more often
    const { clauses, atomVar, reach } = this
    const { all, watches } = clauses
    let pairs = watches.items
    const list = watches.listOf[lit]!
    const end = watches.end[list]!
    let keep = watches.start[list]!
    let ok = true
    let i = keep
    for (; i < end && ok; i += 2) {
      const c = pairs[i]!
      const other = pairs[i + 1]!
      if (reach[2 * atomVar[other >> 1]! + (other & 1)]! > ((other >> 1) ^ -(other & 1))) {
        pairs[keep] = c
        pairs[keep + 1] = other
        keep += 2
        continue
      }
      const head = c + HEAD
      let first = all[head]!
      if (first === lit) {
        first = all[head + 1]!
        all[head] = first
        all[head + 1] = lit
      }
      if (reach[2 * atomVar[first >> 1]! + (first & 1)]! > ((first >> 1) ^ -(first & 1))) {
        pairs[keep] = c
        pairs[keep + 1] = first
        keep += 2
        continue
      }
      const stop = head + all[c]!
      let j = head + 2
      let next = 0
      for (; j < stop; j++) {
        next = all[j]!
        const side = (next & 1) ^ 1
        if (reach[2 * atomVar[next >> 1]! + side]! <= ((next >> 1) ^ -side)) break
      }
      if (j < stop) {
        all[head + 1] = next
        all[j] = lit
        clauses.watch(next, c, first)
        pairs = watches.items
        continue
      }
      pairs[keep] = c
      pairs[keep + 1] = first
      keep += 2
      if (all[c + 1]! >= 0) clauses.learnts[all[c + 1]!]!.activity += this.clauseBump
      if (this.isFalse(first)) {
        this.conflict = Array.from(all.subarray(head, stop), (l) => l ^ 1)
        ok = false
      } else this.push(first, -2 - c)
    }
    if (keep < i) {
      pairs.copyWithin(keep, i, end)
      watches.cut(lit, end - i + keep)
    }
    return ok
  }

  decay(): void {
    this.order.decay()
    this.clauseBump /= 0.999
    if (this.clauseBump > 1e20) {
      for (const c of this.clauses.learnts) c.activity *= 1e-20
      this.clauseBump *= 1e-20
    }
  }
}
