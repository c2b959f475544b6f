/**
 * A supply's leads as a net of resistors: the source at one node, loads that draw fixed currents at others. Voltages by
 * Kirchhoff's and Ohm's laws (nodal analysis), so that leads in parallel and rings are right too. Ohms, amperes, volts.
 */
import type { Amp, Ohm, Volt } from '../model/quantities.ts'

export interface Edge {
  readonly a: number
  readonly b: number
  readonly ohms: Ohm
}

export interface Flow {
  /** Volts lost between the source and each node; undefined for a node that nothing leads to. */
  readonly drop: readonly (Volt | undefined)[]
  /** Amperes in each edge, positive from `a` to `b`. */
  readonly amps: readonly Amp[]
}

/** No lead is without resistance: this keeps one of no length from dividing by zero. */
const LEAST = 1e-9

/** `draws`: amperes taken at each node; those at nodes that cannot be reached are not served. */
export function flowOf(nodes: number, edges: readonly Edge[], source: number, draws: readonly Amp[]): Flow {
  const reached = reach(nodes, edges, source)
  const index = Array.from({ length: nodes }, () => -1)
  let n = 0
  for (let i = 0; i < nodes; i++) if (reached[i] && i !== source) index[i] = n++
  const m = Array.from({ length: n }, () => new Float64Array(n + 1))
  for (const { a, b, ohms } of edges) {
    if (!reached[a] || !reached[b] || a === b) continue
    const g = 1 / Math.max(LEAST, ohms)
    const [i, j] = [index[a]!, index[b]!]
    if (i >= 0) m[i]![i]! += g
    if (j >= 0) m[j]![j]! += g
    if (i >= 0 && j >= 0) {
      m[i]![j]! -= g
      m[j]![i]! -= g
    }
  }
  index.forEach((i, node) => {
    if (i >= 0) m[i]![n] = draws[node] ?? 0
  })
  const x = solveDense(m)
  const drop = index.map((i, node) => (i >= 0 ? x[i] : node === source ? 0 : undefined))
  const amps = edges.map(({ a, b, ohms }) => {
    const [da, db] = [drop[a], drop[b]]
    return da === undefined || db === undefined ? 0 : (db - da) / Math.max(LEAST, ohms)
  })
  return { drop, amps }
}

/** Amperes that come into each node through the edges, and so flow through it (Kirchhoff's current law); none into the source. */
export function through(nodes: number, edges: readonly Edge[], { amps }: Flow): Amp[] {
  const into: Amp[] = Array.from({ length: nodes }, () => 0)
  edges.forEach(({ a, b }, i) => {
    into[amps[i]! > 0 ? b : a]! += Math.abs(amps[i]!)
  })
  return into
}

/** Which nodes the source leads to. */
export function reach(nodes: number, edges: readonly Pick<Edge, 'a' | 'b'>[], source: number): boolean[] {
  const seen = Array.from({ length: nodes }, () => false)
  seen[source] = true
  for (let again = true; again; ) {
    again = false
    for (const { a, b } of edges) {
      if (seen[a] === seen[b]) continue
      seen[a] = true
      seen[b] = true
      again = true
    }
  }
  return seen
}

/** Gaussian elimination with partial pivoting; rows are [coefficients, right side]. */
function solveDense(m: Float64Array[]): number[] {
  const n = m.length
  for (let c = 0; c < n; c++) {
    let p = c
    for (let r = c + 1; r < n; r++) if (Math.abs(m[r]![c]!) > Math.abs(m[p]![c]!)) p = r
    const top = m[p]!
    m[p] = m[c]!
    m[c] = top
    for (let r = c + 1; r < n; r++) {
      const row = m[r]!
      const f = row[c]! / top[c]!
      if (f !== 0) for (let k = c; k <= n; k++) row[k]! -= f * top[k]!
    }
  }
  const x: number[] = Array.from({ length: n }, () => 0)
  for (let r = n - 1; r >= 0; r--) {
    const row = m[r]!
    let v = row[n]!
    for (let k = r + 1; k < n; k++) v -= row[k]! * x[k]!
    x[r] = v / row[r]!
  }
  return x
}
