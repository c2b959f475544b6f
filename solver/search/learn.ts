/** Conflict analysis: the first unique implication point (Marques-Silva & Sakallah 1999) over bound literals. */
import { grow } from './domains.ts'
import type { Engine } from './engine.ts'

export interface Learnt {
  /** Asserting literal first, then one of the level to jump back to. */
  readonly lits: Int32Array
  readonly backTo: number
  readonly lbd: number
}

const KEPT = 2

export class Learner {
  private readonly engine: Engine
  private seen = new Uint8Array(1024)
  /** For a seen entry: the bound really needed, often weaker than the one set. */
  private need = new Int32Array(1024)
  private touched: number[] = []
  /** Entries of earlier levels that the clause will name. */
  private lower: number[] = []
  /** By kind of bound (twice the variable, one more for an upper one): the last entry named, one more than it; 0 for none. */
  private strongest = new Int32Array(2048)
  /** By level: the clause that last counted it. */
  private counted = new Int32Array(1024)
  private clause = 0

  constructor(engine: Engine) {
    this.engine = engine
  }

  private room(): void {
    while (2 * this.engine.count > this.strongest.length) this.strongest = grow(this.strongest)
    while (this.engine.level >= this.counted.length) this.counted = grow(this.counted)
    if (this.seen.length >= this.engine.trail.length) return
    const seen = new Uint8Array(this.engine.trail.length)
    seen.set(this.seen)
    const need = new Int32Array(this.engine.trail.length)
    need.set(this.need)
    this.seen = seen
    this.need = need
  }

  private highest(lits: readonly number[]): number {
    const e = this.engine
    let top = 0
    for (const l of lits) {
      const t = e.entryOf(l)
      if (t >= 0 && e.tLevel[t]! > top) top = e.tLevel[t]!
    }
    return top
  }

  /** Marks the entry behind a true literal; its trail index, or −1 where it is true without decisions. */
  private mark(lit: number): number {
    const e = this.engine
    const t = e.entryOf(lit)
    if (t < 0 || e.tLevel[t] === 0) return -1
    const k = (lit >> 1) - e.base[e.varOf(lit)]!
    if (!this.seen[t]) {
      this.seen[t] = 1
      this.need[t] = k
      this.touched.push(t)
      e.order.bump(e.varOf(lit))
      return t
    }
    this.need[t] = (lit & 1) === 0 ? Math.max(this.need[t]!, k) : Math.min(this.need[t]!, k)
    return -1
  }

  private litOf(t: number): number {
    const e = this.engine
    const lit = e.trail[t]!
    return 2 * (e.base[e.varOf(lit)]! + this.need[t]!) + (lit & 1)
  }

  /** Marks what a literal came from; 1 where that is of the level being resolved, 0 where it was known, or comes before. */
  private visit(lit: number, top: number): number {
    const t = this.mark(lit)
    if (t < 0) return 0
    if (this.engine.tLevel[t] === top) return 1
    this.lower.push(t)
    return 0
  }

  /** Null: the conflict needs no decision at all, so there is no solution. */
  analyse(conflict: readonly number[]): Learnt | null {
    const e = this.engine
    this.room()
    const top = this.highest(conflict)
    if (top === 0) return null
    e.backTo(top)
    this.touched.length = 0
    this.lower.length = 0
    let open = 0
    for (const l of conflict) open += this.visit(l, top)
    let t = e.trailSize - 1
    for (;;) {
      while (!this.seen[t]) t--
      if (open === 1) break
      open--
      e.log?.uses(e, t)
      const n = e.recall(t)
      for (let i = 0; i < n; i++) open += this.visit(e.buf[i]!, top)
      t--
    }
    const uip = this.litOf(t)
    const kept = this.minimise()
    const lits = new Int32Array(kept.length + 1)
    lits[0] = uip ^ 1
    let back = 0
    let lbd = 1
    this.clause++
    for (let i = 0; i < kept.length; i++) {
      lits[i + 1] = this.litOf(kept[i]!) ^ 1
      const level = e.tLevel[kept[i]!]!
      if (this.counted[level] !== this.clause) lbd++
      this.counted[level] = this.clause
      if (level > back) {
        back = level
        const swap = lits[1]!
        lits[1] = lits[i + 1]!
        lits[i + 1] = swap
      }
    }
    for (const s of this.touched) this.seen[s] = 0
    return { lits, backTo: back, lbd }
  }

  /** Of `lower`, drops literals that the others imply: by their own reasons, or as a weaker bound of the same variable. */
  private minimise(): number[] {
    const e = this.engine
    const { lower, strongest } = this
    const kindOf = (t: number): number => 2 * e.varOf(e.trail[t]!) + (e.trail[t]! & 1)
    for (const t of lower) {
      const kind = kindOf(t)
      if (t >= strongest[kind]!) strongest[kind] = t + 1
    }
    const kept = lower.filter((t) => strongest[kindOf(t)] === t + 1)
    for (const t of lower) strongest[kindOf(t)] = 0
    // only these stay in the clause: what was resolved away, or dropped above, may carry no other literal's removal
    for (const t of kept) this.seen[t] = KEPT
    return kept.filter((t) => {
      if (e.isDecision(t) || !this.carried(t)) return true
      e.log?.uses(e, t)
      return false
    })
  }

  /** Does the rest of the clause imply this entry's reason? */
  private carried(t: number): boolean {
    const e = this.engine
    const n = e.recall(t)
    for (let i = 0; i < n; i++) {
      const l = e.buf[i]!
      const r = e.entryOf(l)
      if (r < 0 || e.tLevel[r] === 0) continue
      const k = (l >> 1) - e.base[e.varOf(l)]!
      const held = this.seen[r] === KEPT && ((l & 1) === 0 ? this.need[r]! >= k : this.need[r]! <= k)
      if (!held) return false
    }
    return true
  }

  /** Which assumptions (decisions) the conflict goes back to, as true literals. */
  core(conflict: readonly number[]): number[] {
    const e = this.engine
    this.room()
    this.touched.length = 0
    for (const l of conflict) this.mark(l)
    const out: number[] = []
    for (let t = e.trailSize - 1; t >= 0; t--) {
      if (!this.seen[t]) continue
      if (e.isDecision(t)) out.push(e.trail[t]!)
      else {
        e.log?.uses(e, t)
        const n = e.recall(t)
        for (let i = 0; i < n; i++) this.mark(e.buf[i]!)
      }
    }
    for (const s of this.touched) this.seen[s] = 0
    return out
  }
}
