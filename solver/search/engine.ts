/**
 * Conflict-learning search over integer bounds (lazy clause generation, Ohrimenko, Stuckey & Codish 2009).
 *
 * A variable is an index 0 … size−1 into some list of values. The only atoms are "variable ≥ k"; a truth value is a
 * variable of size 2. A literal is `2·atom` (≥ k) or `2·atom + 1` (< k), so its truth is read off the bounds.
 * Every deduction passes `imply` or `fail` with the literals that it read, every clause `addClause` or `learn`: there a
 * proof is logged (../proof).
 */
import type { ProofLog } from '../proof/steps.ts'
import type { Clause } from './clause.ts'
import { FALSE, grow, TRUE } from './domains.ts'
import { Heap } from './heap.ts'
import type { Eager, Propagator } from './propagator.ts'
import { Wakes } from './wakes.ts'

export type { Eager, Propagator }
export { FALSE, TRUE }

/** Clauses that watch a literal, each with another of its literals: where that is true, the clause need not be looked at. */
interface Watch {
  readonly clauses: Clause[]
  readonly others: number[]
}

/** The reason of a trail entry that was decided. */
const DECISION = -1

export class Engine extends Wakes {
  private lastLb = new Int32Array(1024)
  private lastUb = new Int32Array(1024)
  private watches: (Watch | undefined)[] = []

  trail = new Int32Array(1 << 14)
  trailSize = 0
  tOld = new Int32Array(1 << 14)
  tPrev = new Int32Array(1 << 14)
  tReason = new Int32Array(1 << 14)
  tLevel = new Int32Array(1 << 14)
  private arena = new Int32Array(1 << 16)
  private arenaTop = 0
  private reasonClauses: Clause[] = []
  private levelTrail: number[] = []
  private levelArena: number[] = []
  private levelClauses: number[] = []
  private head = 0

  private buf = new Int32Array(1 << 12)
  private bufSize = 0
  /** Literals, all true, that contradict each other. */
  conflict: number[] = []
  /** False once a contradiction without any decision is found. */
  ok = true
  clauses: Clause[] = []
  learnts: Clause[] = []
  readonly order = new Heap()
  clauseBump = 1
  log?: ProofLog
  private skipped: { v: number; level: number }[] = []
  conflicts = 0
  decisions = 0
  propagations = 0

  override newVar(size: number): number {
    const v = super.newVar(size)
    while (this.count > this.lastLb.length) {
      this.lastLb = grow(this.lastLb)
      this.lastUb = grow(this.lastUb)
    }
    this.lastLb[v] = -1
    this.lastUb[v] = -1
    this.watches.length = 2 * this.atoms
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
    } else {
      this.tOld[e] = this.ub[v]!
      this.tPrev[e] = this.lastUb[v]!
      this.lastUb[v] = e
      this.ub[v] = k - 1
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

  /** Calls `visit` with each literal of the reason of a trail entry. */
  eachReason(e: number, visit: (lit: number) => void): void {
    const r = this.tReason[e]!
    if (r >= 0) {
      const n = this.arena[r]!
      for (let i = 1; i <= n; i++) visit(this.arena[r + i]!)
    } else if (r < DECISION) {
      const lits = this.reasonClauses[-2 - r]!.lits
      for (let i = 1; i < lits.length; i++) visit(lits[i]! ^ 1)
    }
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
    this.levelClauses.push(this.reasonClauses.length)
  }

  /** Takes a variable off the order until the present level is left. */
  skip(v: number): void {
    this.skipped.push({ v, level: this.level })
  }

  backTo(level: number): void {
    if (this.level <= level) return
    while (this.skipped.length > 0 && this.skipped[this.skipped.length - 1]!.level > level)
      this.order.insert(this.skipped.pop()!.v)
    const keep = this.levelTrail[level]!
    for (let e = this.trailSize - 1; e >= keep; e--) {
      const lit = this.trail[e]!
      const v = this.atomVar[lit >> 1]!
      if ((lit & 1) === 0) {
        this.lb[v] = this.tOld[e]!
        this.lastLb[v] = this.tPrev[e]!
      } else {
        this.ub[v] = this.tOld[e]!
        this.lastUb[v] = this.tPrev[e]!
      }
      if (this.order.eligible[v]) this.order.insert(v)
    }
    this.trailSize = keep
    this.head = keep
    this.arenaTop = this.levelArena[level]!
    this.reasonClauses.length = this.levelClauses[level]!
    this.levelTrail.length = level
    this.levelArena.length = level
    this.levelClauses.length = level
    for (const q of this.queues) {
      for (const p of q) p.queued = false
      q.length = 0
    }
  }

  // ---- clauses -------------------------------------------------------------------------------------------------

  /** Adds a clause at level 0 (call `backTo(0)` first). Constants are folded. */
  addClause(lits: readonly number[]): void {
    this.log?.given(lits)
    const out: number[] = []
    for (const l of lits) {
      if (l === FALSE || this.isFalse(l)) continue
      if (l === TRUE || this.isTrue(l)) return
      if (!out.includes(l)) out.push(l)
    }
    if (out.length === 0) this.ok = false
    else if (out.length === 1) {
      this.begin()
      this.enact(out[0]!)
    } else this.attach({ lits: Int32Array.from(out), learnt: false, lbd: 0, activity: 0, dead: false })
  }

  attach(c: Clause): void {
    ;(c.learnt ? this.learnts : this.clauses).push(c)
    this.watch(c.lits[0]!, c, c.lits[1]!)
    this.watch(c.lits[1]!, c, c.lits[0]!)
  }

  private watch(lit: number, c: Clause, other: number): void {
    const list = this.watches[lit]
    if (list) {
      list.clauses.push(c)
      list.others.push(other)
    } else this.watches[lit] = { clauses: [c], others: [other] }
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
    const c: Clause = { lits, learnt: true, lbd, activity: this.clauseBump, dead: false }
    this.attach(c)
    this.assertBy(c)
  }

  private assertBy(c: Clause): void {
    this.reasonClauses.push(c)
    this.push(c.lits[0]!, -1 - this.reasonClauses.length)
  }

  /** Runs everything to the fixed point; false = `conflict` is set. */
  propagate(): boolean {
    for (;;) {
      while (this.fresh.length > 0) if (!this.call(this.fresh.pop()!)) return false
      while (this.head < this.trailSize) if (!this.propagateEntry(this.head++)) return false
      const q = this.queues.find((list) => list.length > 0)
      if (!q) return true
      const p = q.shift()!
      p.queued = false
      this.propagations++
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
    const upper = lit & 1
    const woken = upper ? this.wakeUb[v] : this.wakeLb[v]
    if (woken) for (const p of woken) this.schedule(p)
    const k = (lit >> 1) - this.base[v]!
    const old = this.tOld[e]!
    const base = this.base[v]!
    // every atom passed over changes its truth: those between the old bound and the new
    if (upper) {
      for (let j = k; j <= old; j++) if (this.watches[2 * (base + j)] && !this.visit(2 * (base + j))) return false
    } else {
      for (let j = old + 1; j <= k; j++)
        if (this.watches[2 * (base + j) + 1] && !this.visit(2 * (base + j) + 1)) return false
    }
    const calls = upper ? this.callUb[v] : this.callLb[v]
    if (!calls) return true
    for (let i = 0; i < calls.length; i++) {
      const one = calls[i]!
      if (this.ub[one.v] === 1 && !this.call(one)) return false
    }
    return true
  }

  /** Clauses that watch `lit`, which has just become false. */
  private visit(lit: number): boolean {
    const list = this.watches[lit]!
    const { clauses, others } = list
    const n = clauses.length
    let keep = 0
    let ok = true
    for (let i = 0; i < n; i++) {
      const c = clauses[i]!
      const other = others[i]!
      if (!ok || this.isTrue(other)) {
        clauses[keep] = c
        others[keep++] = other
        continue
      }
      if (c.dead) continue
      const lits = c.lits
      if (lits[0] === lit) {
        lits[0] = lits[1]!
        lits[1] = lit
      }
      const first = lits[0]!
      if (this.isTrue(first)) {
        clauses[keep] = c
        others[keep++] = first
        continue
      }
      let moved = false
      for (let j = 2; j < lits.length; j++) {
        const next = lits[j]!
        if (this.isFalse(next)) continue
        lits[1] = next
        lits[j] = lit
        this.watch(next, c, first)
        moved = true
        break
      }
      if (moved) continue
      clauses[keep] = c
      others[keep++] = first
      if (c.learnt) c.activity += this.clauseBump
      if (this.isFalse(first)) {
        this.conflict = Array.from(lits, (l) => l ^ 1)
        ok = false
      } else this.assertBy(c)
    }
    if (keep < n) {
      clauses.length = keep
      others.length = keep
    }
    return ok
  }

  decay(): void {
    this.order.decay()
    this.clauseBump /= 0.999
    if (this.clauseBump > 1e20) {
      for (const c of this.learnts) c.activity *= 1e-20
      this.clauseBump *= 1e-20
    }
  }
}
