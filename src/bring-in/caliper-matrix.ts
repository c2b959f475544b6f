/** Symmetric positive matrices, small and dense: what a fit by least squares needs of linear algebra. Rows in lists. */
export type Matrix = number[][]

/** The lower factor L of A = L Lᵀ (Cholesky), or undefined where a pivot falls to `least` or below. */
export function cholesky(a: Matrix, least = 0): Matrix | undefined {
  const n = a.length
  const l: Matrix = []
  for (let i = 0; i < n; i++) {
    const row: number[] = []
    l.push(row)
    for (let j = 0; j <= i; j++) {
      const other = l[j]!
      let sum = a[i]![j]!
      for (let k = 0; k < j; k++) sum -= row[k]! * other[k]!
      if (i !== j) row.push(sum / other[j]!)
      else if (sum > least) row.push(Math.sqrt(sum))
      else return undefined
    }
  }
  return l
}

/** x of L Lᵀ x = b. */
export function solve(l: Matrix, b: readonly number[]): number[] {
  const n = l.length
  const y: number[] = []
  for (let i = 0; i < n; i++) {
    let sum = b[i]!
    for (let k = 0; k < i; k++) sum -= l[i]![k]! * y[k]!
    y.push(sum / l[i]![i]!)
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = y[i]!
    for (let k = i + 1; k < n; k++) sum -= l[k]![i]! * y[k]!
    y[i] = sum / l[i]![i]!
  }
  return y
}

export const inverse = (l: Matrix): Matrix =>
  l.map((_, i) =>
    solve(
      l,
      l.map((__, j) => (i === j ? 1 : 0)),
    ),
  )

/** Eigenvalues and their vectors (as rows) of a symmetric matrix, by Jacobi's rotations. */
export function eigen(a: Matrix): { value: number; vector: number[] }[] {
  const n = a.length
  const m = a.map((row) => row.slice())
  const v: Matrix = m.map((_, i) => m.map((__, j) => (i === j ? 1 : 0)))
  for (let sweep = 0; sweep < 30; sweep++) {
    let off = 0
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        const apq = m[p]![q]!
        if (Math.abs(apq) < 1e-15) continue
        off += apq * apq
        const theta = (m[q]![q]! - m[p]![p]!) / (2 * apq)
        const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1))
        const c = 1 / Math.sqrt(t * t + 1)
        const s = t * c
        for (let k = 0; k < n; k++) {
          const [x, y] = [m[k]![p]!, m[k]![q]!]
          m[k]![p] = c * x - s * y
          m[k]![q] = s * x + c * y
        }
        for (const rows of [m, v]) {
          for (let k = 0; k < n; k++) {
            const [x, y] = [rows[p]![k]!, rows[q]![k]!]
            rows[p]![k] = c * x - s * y
            rows[q]![k] = s * x + c * y
          }
        }
      }
    }
    if (off < 1e-24) break
  }
  return m.map((row, i) => ({ value: row[i]!, vector: v[i]! }))
}
