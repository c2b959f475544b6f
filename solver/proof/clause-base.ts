/**
 * Clauses over "variable ≥ k", and what follows from them by unit propagation alone. Part of the replayer: it shares no
 * code with the search. A literal's text is `v.k` (≥ k) or `-v.k` (< k), `.1` left out.
 */
import { readLit } from './constraints.ts'

interface Held {
  readonly lits: readonly number[]
  /** Where the two watched literals stand. */
  w0: number
  w1: number
  dead: boolean
}

export type { Held }

export class ClauseBase {
  /** By literal: 2·atom (≥ k) and 2·atom + 1 (< k), atoms numbered as they are met. */
  private readonly known = new Map<string, number>()
  /** Variables, too, are numbered as they are met: a text may name any. */
  private readonly variables = new Map<number, number>()
  readonly varOf: number[] = []
  readonly kOf: number[] = []
  private readonly atomsOf: number[][] = []
  private readonly lower: number[] = []
  private readonly upper: number[] = []
  private readonly watch: Held[][] = []
  private readonly trail: { readonly v: number; readonly up: boolean; readonly old: number }[] = []
  private readonly queue: { readonly v: number; readonly up: boolean; readonly old: number }[] = []
  /** True once the clauses alone contradict each other: then all follows. */
  broken = false

  /** The literal of a text; throws where it is none. */
  literal(text: string): number {
    const known = this.known.get(text)
    if (known !== undefined) return known
    const read = readLit(text)
    if (typeof read === 'boolean') throw new Error(`not a literal: ${text}`)
    const { k, less } = read
    const plain = k === 1 ? String(read.v) : `${read.v}.${k}`
    let lit = this.known.get(plain)
    if (lit === undefined) {
      const atom = this.varOf.length
      lit = 2 * atom
      this.known.set(plain, lit)
      this.known.set(`-${plain}`, lit + 1)
      let v = this.variables.get(read.v)
      if (v === undefined) {
        v = this.variables.size
        this.variables.set(read.v, v)
        this.atomsOf.push([])
        this.lower.push(0)
        this.upper.push(Number.POSITIVE_INFINITY)
      }
      this.varOf.push(v)
      this.kOf.push(k)
      this.watch.push([], [])
      this.atomsOf[v]!.push(atom)
    }
    return less ? lit + 1 : lit
  }

  isTrue(lit: number): boolean {
    const v = this.varOf[lit >> 1]!
    const k = this.kOf[lit >> 1]!
    return lit & 1 ? this.upper[v]! < k : this.lower[v]! >= k
  }

  isFalse(lit: number): boolean {
    return this.isTrue(lit ^ 1)
  }

  private set(lit: number): void {
    const v = this.varOf[lit >> 1]!
    const k = this.kOf[lit >> 1]!
    const up = (lit & 1) === 1
    const step = { v, up, old: up ? this.upper[v]! : this.lower[v]! }
    if (up) this.upper[v] = k - 1
    else this.lower[v] = k
    this.trail.push(step)
    this.queue.push(step)
  }

  /** Holds the clause from now on, and whatever follows from it at once. */
  add(clause: readonly number[]): Held | undefined {
    if (this.broken) return undefined
    const lits = [...new Set(clause)]
    const open: number[] = []
    for (let i = 0; i < lits.length; i++) {
      if (this.isTrue(lits[i]!)) return undefined
      if (!this.isFalse(lits[i]!)) open.push(i)
    }
    if (open.length === 0) this.broken = true
    else if (open.length === 1) {
      this.set(lits[open[0]!]!)
      if (!this.propagate()) this.broken = true
      this.trail.length = 0
    } else {
      const c: Held = { lits, w0: open[0]!, w1: open[1]!, dead: false }
      this.watch[lits[c.w0]!]!.push(c)
      this.watch[lits[c.w1]!]!.push(c)
      return c
    }
    return undefined
  }

  /** Does one of these hold whenever the clauses do? By unit propagation from the opposite of all of them. */
  follows(lits: readonly number[]): boolean {
    if (this.broken) return true
    let contradicted = false
    for (const l of lits) {
      if (this.isTrue(l)) {
        contradicted = true
        break
      }
      if (!this.isFalse(l)) this.set(l ^ 1)
    }
    if (!contradicted) contradicted = !this.propagate()
    this.queue.length = 0
    for (let s = this.trail.pop(); s; s = this.trail.pop()) {
      if (s.up) this.upper[s.v] = s.old
      else this.lower[s.v] = s.old
    }
    return contradicted
  }

  /** False = a clause has no literal left. */
  private propagate(): boolean {
    for (let head = 0; head < this.queue.length; head++) {
      const s = this.queue[head]!
      const now = s.up ? this.upper[s.v]! : this.lower[s.v]!
      for (const atom of this.atomsOf[s.v]!) {
        const k = this.kOf[atom]!
        // ≥ k became false when the upper bound fell below k, < k when the lower bound reached it
        const lit = s.up ? (k > now && k <= s.old ? 2 * atom : -1) : k <= now && k > s.old ? 2 * atom + 1 : -1
        if (lit >= 0 && !this.visit(lit)) return false
      }
    }
    this.queue.length = 0
    return true
  }

  private visit(lit: number): boolean {
    const list = this.watch[lit]!
    let keep = 0
    let sound = true
    for (let i = 0; i < list.length; i++) {
      const c = list[i]!
      if (c.dead) continue
      if (!sound) {
        list[keep++] = c
        continue
      }
      if (c.lits[c.w0] !== lit) [c.w0, c.w1] = [c.w1, c.w0]
      const other = c.lits[c.w1]!
      if (!this.isTrue(other)) {
        const next = c.lits.findIndex((l, k) => k !== c.w0 && k !== c.w1 && !this.isFalse(l))
        if (next >= 0) {
          c.w0 = next
          this.watch[c.lits[next]!]!.push(c)
          continue
        }
        if (this.isFalse(other)) sound = false
        else this.set(other)
      }
      list[keep++] = c
    }
    list.length = keep
    return sound
  }
}
