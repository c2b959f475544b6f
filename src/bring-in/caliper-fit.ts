/**
 * Weighted least squares by Levenberg's and Marquardt's damped Gauss–Newton steps (Levenberg 1944, Marquardt 1963). Residuals are
 * divided by their standard uncertainties, so chi² is their sum of squares and the covariance of the unknowns the inverse of JᵀJ
 * (Gauss–Markov).
 */
import { cholesky, eigen, type Matrix, solve } from './caliper-matrix.ts'
import type { Model } from './caliper-model.ts'

export interface Target {
  readonly model: Model
  readonly values: readonly number[]
  readonly uncertainties: readonly number[]
}

export interface Fitted {
  readonly x: readonly number[]
  readonly chi2: number
}

const STEPS = 200

/** Sum of the squares of what `x` misses each value by, in that value's standard uncertainties. */
function chi2At({ model, values, uncertainties }: Target, x: readonly number[]): number {
  const gradient: number[] = []
  let sum = 0
  model.equations.forEach((e, i) => {
    const r = (e.at(x, gradient) - values[i]!) / uncertainties[i]!
    sum += r * r
  })
  return sum
}

/** JᵀJ and Jᵀr at `x`. */
export function normal({ model, values, uncertainties }: Target, x: readonly number[]): { n: Matrix; g: number[] } {
  const size = model.unknowns.length
  const n: Matrix = Array.from({ length: size }, () => new Array<number>(size).fill(0))
  const g = new Array<number>(size).fill(0)
  const gradient: number[] = []
  model.equations.forEach((e, i) => {
    const w = 1 / uncertainties[i]! ** 2
    const r = e.at(x, gradient) - values[i]!
    e.on.forEach((p, a) => {
      const by = gradient[a]! * w
      if (by === 0) return
      g[p] = g[p]! + by * r
      const row = n[p]!
      e.on.forEach((q, b) => {
        row[q] = row[q]! + by * gradient[b]!
      })
    })
  })
  return { n, g }
}

export function adjust(target: Target, start: readonly number[]): Fitted {
  let x = start.slice()
  let chi2 = chi2At(target, x)
  let damping = 1e-3
  for (let step = 0; step < STEPS && damping < 1e12; step++) {
    const { n, g } = normal(target, x)
    let moved = Number.POSITIVE_INFINITY
    while (damping < 1e12) {
      // The small constant keeps unknowns that nothing measures where they are.
      const damped = n.map((row, i) => row.map((v, j) => (i === j ? v * (1 + damping) + 1e-9 : v)))
      const factor = cholesky(damped)
      const by = factor === undefined ? undefined : solve(factor, g)
      const next = by === undefined ? undefined : x.map((v, i) => v - by[i]!)
      const least = next === undefined ? Number.POSITIVE_INFINITY : chi2At(target, next)
      if (next !== undefined && least <= chi2) {
        moved = Math.max(...by!.map(Math.abs))
        x = next
        chi2 = least
        damping = Math.max(damping / 10, 1e-12)
        break
      }
      damping *= 10
    }
    if (moved < 1e-10) break
  }
  return { x, chi2 }
}

/** Unknowns that the measures leave loose at `x`: those that move along with a combination that no residual feels. */
export function looseAt(target: Target, x: readonly number[]): number[] {
  const { n } = normal(target, x)
  const scale = n.map((row, i) => (row[i]! > 0 ? 1 / Math.sqrt(row[i]!) : 0))
  const scaled = n.map((row, i) => row.map((v, j) => v * scale[i]! * scale[j]!))
  if (cholesky(scaled, LEAST) !== undefined) return []
  const loose = new Set<number>()
  for (const { value, vector } of eigen(scaled)) {
    if (value > LEAST) continue
    const most = Math.max(...vector.map(Math.abs))
    vector.forEach((v, i) => {
      if (Math.abs(v) > 0.01 * most) loose.add(i)
    })
  }
  return [...loose].sort((a, b) => a - b)
}

/** Pivots and eigenvalues of the scaled matrix, whose diagonal is 1, count as 0 up to this. */
const LEAST = 1e-8
