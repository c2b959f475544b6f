/**
 * Whole pieces taken in parts: the linear programme Σ worth·x → most, 0 ≤ x ≤ 1, Σ takes·x ≤ room for every row. Rows join
 * when they are broken, and each programme is solved by the simplex method for bounded variables (Dantzig 1955). What is
 * handed out are the rows' prices (the dual): any prices at all give a true bound, so nothing depends on the arithmetic.
 */

export interface Row {
  /** ≥ 0. */
  readonly room: number
  /** By piece, each ≥ 0. */
  readonly takes: Float64Array
}

/** Below this a number is taken for nothing (rows and worth are scaled to about 1). */
const TINY = 1e-9
const ROUNDS = 40
/** Rows that join at a time. */
const JOIN = 4

/** Prices of the rows, each ≥ 0, that bound Σ worth·x well: Σ room·price + Σ max(0, worth − Σ takes·price). */
export function prices(rows: readonly Row[], worth: Float64Array): Float64Array {
  const out = new Float64Array(rows.length)
  const dear = worth.reduce((a, b) => Math.max(a, b), 0)
  if (rows.length === 0 || dear <= 0) return out
  const scale = rows.map((r) => r.takes.reduce((a, b) => Math.max(a, b), r.room) || 1)
  const c = worth.map((v) => v / dear)
  const active = [0]
  for (let round = 0; ; round++) {
    const { x, price } = simplex(
      c,
      active.map((k) => ({ room: rows[k]!.room / scale[k]!, takes: rows[k]!.takes.map((t) => t / scale[k]!) })),
    )
    out.fill(0)
    active.forEach((k, i) => {
      out[k] = (price[i]! * dear) / scale[k]!
    })
    if (round === ROUNDS) return out
    const broken: { readonly k: number; readonly by: number }[] = []
    rows.forEach((r, k) => {
      let sum = 0
      for (let j = 0; j < x.length; j++) sum += r.takes[j]! * x[j]!
      const by = (sum - r.room) / scale[k]!
      if (by > 1e-7 && !active.includes(k)) broken.push({ k, by })
    })
    if (broken.length === 0) return out
    broken.sort((a, b) => b.by - a.by || a.k - b.k)
    for (const { k } of broken.slice(0, JOIN)) active.push(k)
  }
}

function simplex(c: Float64Array, rows: readonly Row[]): { readonly x: Float64Array; readonly price: Float64Array } {
  const [n, m] = [c.length, rows.length]
  const w = n + m
  const table = rows.map((r, i) => {
    const line = new Float64Array(w)
    line.set(r.takes)
    line[n + i] = 1
    return line
  })
  /** What a little more of a variable gains. */
  const gain = new Float64Array(w)
  gain.set(c)
  const basis = rows.map((_, i) => n + i)
  const value = Float64Array.from(rows, (r) => r.room)
  const basic = new Uint8Array(w).fill(1, n)
  const full = new Uint8Array(w)
  for (let step = 0; step < 20 * (w + 10); step++) {
    let j = -1
    let most = TINY
    for (let v = 0; v < w; v++) {
      if (basic[v] === 1) continue
      const g = full[v] === 1 ? -gain[v]! : gain[v]!
      if (g > most) {
        most = g
        j = v
      }
    }
    if (j === -1) break
    const sign = full[j] === 1 ? -1 : 1
    let far = j < n ? 1 : Number.POSITIVE_INFINITY
    let leaves = -1
    for (let i = 0; i < m; i++) {
      const by = table[i]![j]! * sign
      const ends = by > TINY ? value[i]! / by : by < -TINY && basis[i]! < n ? (1 - value[i]!) / -by : far
      if (ends < far) {
        far = Math.max(0, ends)
        leaves = i
      }
    }
    if (far === Number.POSITIVE_INFINITY) break
    for (let i = 0; i < m; i++) value[i]! -= table[i]![j]! * sign * far
    if (leaves === -1) {
      full[j]! ^= 1
      continue
    }
    const row = table[leaves]!
    const pivot = row[j]!
    const out = basis[leaves]!
    full[out] = out < n && value[leaves]! > 0.5 ? 1 : 0
    value[leaves] = full[j] === 1 ? 1 - far : far
    basis[leaves] = j
    basic[j] = 1
    basic[out] = 0
    full[j] = 0
    for (let v = 0; v < w; v++) row[v]! /= pivot
    for (const line of [...table, gain]) {
      const by = line[j]!
      if (line === row || by === 0) continue
      for (let v = 0; v < w; v++) line[v]! -= by * row[v]!
    }
  }
  const x = new Float64Array(n)
  for (let v = 0; v < n; v++) x[v] = full[v]!
  basis.forEach((v, i) => {
    if (v < n) x[v] = value[i]!
  })
  return { x, price: Float64Array.from(rows, (_, i) => Math.max(0, -gain[n + i]!)) }
}
