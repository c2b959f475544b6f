/** Variables, their bounds, and the literals over them. A variable is an index 0 … size−1; a literal `2·atom` (≥ k) or `2·atom + 1` (< k). */

/** Always true, always false: what `ge` and `lt` answer outside a variable's range. */
export const TRUE = -1
export const FALSE = -2

export class Domains {
  count = 0
  lb = new Int32Array(1024)
  ub = new Int32Array(1024)
  size = new Int32Array(1024)
  /** Atom of "variable ≥ k" is base + k. */
  base = new Int32Array(1024)
  protected atoms = 0
  atomVar = new Int32Array(1 << 14)

  /** A new variable with values 0 … size−1 (size ≥ 1). */
  newVar(size: number): number {
    const v = this.count++
    if (v >= this.lb.length) {
      this.lb = grow(this.lb)
      this.ub = grow(this.ub)
      this.size = grow(this.size)
      this.base = grow(this.base)
    }
    this.lb[v] = 0
    this.ub[v] = size - 1
    this.size[v] = size
    this.base[v] = this.atoms - 1
    while (this.atoms + size > this.atomVar.length) this.atomVar = grow(this.atomVar)
    for (let k = 1; k < size; k++) this.atomVar[this.atoms++] = v
    return v
  }

  /** A new truth variable, as its positive literal. */
  newBool(): number {
    return this.ge(this.newVar(2), 1)
  }

  ge(v: number, k: number): number {
    if (k <= 0) return TRUE
    if (k >= this.size[v]!) return FALSE
    return 2 * (this.base[v]! + k)
  }

  lt(v: number, k: number): number {
    if (k >= this.size[v]!) return TRUE
    if (k <= 0) return FALSE
    return 2 * (this.base[v]! + k) + 1
  }

  /** The literal that the present lower bound is. */
  lbLit(v: number): number {
    return this.ge(v, this.lb[v]!)
  }

  ubLit(v: number): number {
    return this.lt(v, this.ub[v]! + 1)
  }

  not(lit: number): number {
    return lit < 0 ? -3 - lit : lit ^ 1
  }

  varOf(lit: number): number {
    return this.atomVar[lit >> 1]!
  }

  isTrue(lit: number): boolean {
    if (lit < 0) return lit === TRUE
    const a = lit >> 1
    const v = this.atomVar[a]!
    const k = a - this.base[v]!
    return (lit & 1) === 0 ? this.lb[v]! >= k : this.ub[v]! < k
  }

  isFalse(lit: number): boolean {
    if (lit < 0) return lit === FALSE
    const a = lit >> 1
    const v = this.atomVar[a]!
    const k = a - this.base[v]!
    return (lit & 1) === 0 ? this.ub[v]! < k : this.lb[v]! >= k
  }
}

/** Twice as long, the same start. */
export function grow(a: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
  const b = new Int32Array(a.length * 2)
  b.set(a)
  return b
}
