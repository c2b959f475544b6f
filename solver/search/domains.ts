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
  /**
   * The bounds again, so that one comparison tells of either kind of literal: at 2v one more than the atom of the lower bound,
   * at 2v + 1 the complement of the upper bound's. A literal is true where its side is greater than its atom, or its complement.
   */
  protected reach = new Int32Array(2048)

  /** A new variable with values 0 … size−1 (size ≥ 1). */
  newVar(size: number): number {
    const v = this.count++
    if (v >= this.lb.length) {
      this.lb = grow(this.lb)
      this.ub = grow(this.ub)
      this.size = grow(this.size)
      this.base = grow(this.base)
      this.reach = grow(this.reach)
    }
    this.lb[v] = 0
    this.ub[v] = size - 1
    this.size[v] = size
    this.base[v] = this.atoms - 1
    this.reach[2 * v] = this.atoms
    this.reach[2 * v + 1] = ~(this.atoms + size - 2)
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
    const side = lit & 1
    return this.reach[2 * this.atomVar[lit >> 1]! + side]! > ((lit >> 1) ^ -side)
  }

  isFalse(lit: number): boolean {
    if (lit < 0) return lit === FALSE
    const side = (lit & 1) ^ 1
    return this.reach[2 * this.atomVar[lit >> 1]! + side]! > ((lit >> 1) ^ -side)
  }
}

/** Twice as long, the same start. */
export function grow(a: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
  const b = new Int32Array(a.length * 2)
  b.set(a)
  return b
}
