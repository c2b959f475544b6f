/** Conflict analysis: the first unique implication point (Marques-Silva & Sakallah 1999) over bound literals. */
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

  constructor(engine: Engine) {
    this.engine = engine
  }

  private room(): void {
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

  /** Null: the conflict needs no decision at all, so there is no solution. */
  analyse(conflict: readonly number[]): Learnt | null {
    const e = this.engine
    this.room()
    const top = this.highest(conflict)
    if (top === 0) return null
    e.backTo(top)
    this.touched.length = 0
    const lower: number[] = []
    let open = 0
    const visit = (lit: number) => {
      const t = this.mark(lit)
      if (t < 0) return
      if (e.tLevel[t] === top) open++
      else lower.push(t)
    }
    for (const l of conflict) visit(l)
    let t = e.trailSize - 1
    for (;;) {
      while (!this.seen[t]) t--
      if (open === 1) break
      open--
      e.log?.uses(e, t)
      e.eachReason(t, visit)
      t--
    }
    const uip = this.litOf(t)
    const kept = this.minimise(lower)
    const lits = new Int32Array(kept.length + 1)
    lits[0] = uip ^ 1
    let back = 0
    const levels = new Set<number>([top])
    kept.forEach((entry, i) => {
      lits[i + 1] = this.litOf(entry) ^ 1
      const level = e.tLevel[entry]!
      levels.add(level)
      if (level > back) {
        back = level
        const swap = lits[1]!
        lits[1] = lits[i + 1]!
        lits[i + 1] = swap
      }
    })
    for (const s of this.touched) this.seen[s] = 0
    return { lits, backTo: back, lbd: levels.size }
  }

  /** Drops literals that the others imply: by their own reasons, or as a weaker bound of the same variable. */
  private minimise(lower: readonly number[]): number[] {
    const e = this.engine
    const strongest = new Map<number, number>()
    for (const t of lower) {
      const lit = e.trail[t]!
      const key = 2 * e.varOf(lit) + (lit & 1)
      const other = strongest.get(key)
      if (other === undefined || t > other) strongest.set(key, t)
    }
    const kept = lower.filter((t) => strongest.get(2 * e.varOf(e.trail[t]!) + (e.trail[t]! & 1)) === t)
    // only these stay in the clause: what was resolved away, or dropped above, may carry no other literal's removal
    for (const t of kept) this.seen[t] = KEPT
    return kept.filter((t) => {
      if (e.isDecision(t)) return true
      let implied = true
      e.eachReason(t, (l) => {
        if (!implied) return
        const r = e.entryOf(l)
        if (r < 0 || e.tLevel[r] === 0) return
        const k = (l >> 1) - e.base[e.varOf(l)]!
        const held = this.seen[r] === KEPT && ((l & 1) === 0 ? this.need[r]! >= k : this.need[r]! <= k)
        if (!held) implied = false
      })
      if (implied) e.log?.uses(e, t)
      return !implied
    })
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
        e.eachReason(t, (l) => void this.mark(l))
      }
    }
    for (const s of this.touched) this.seen[s] = 0
    return out
  }
}
