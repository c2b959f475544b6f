/** Clocks, tables, and the check that comes before every figure. */
import { check, figures, type Problem, type SolveOptions, type SolveResult, solve } from '../../solver/index.ts'

export interface Settings {
  /** Fewer instances, shorter limits, no MILP. */
  readonly quick: boolean
  /** Milliseconds that the yardstick takes on this machine now. */
  readonly unit: number
}

/** A part of the bench: what it prints goes into RESULTS.md as it stands. */
export interface Section {
  readonly name: string
  readonly run: (settings: Settings, say: (line: string) => void) => Promise<string>
}

/** A fixed piece of arithmetic, about 50 ms: what this machine does at this moment, so that tables of two days can be compared. */
export function yardstick(): number {
  const t = performance.now()
  let x = 1
  for (let k = 0; k < 20_000_000; k++) x = (Math.imul(x, 1664525) + 1013904223) | 0
  if (x === 42) throw new Error('never')
  return performance.now() - t
}

export const median = (v: readonly number[]): number => quantile(v, 0.5)

/** The value that a share of all others does not exceed. `quantile([4, 1, 3], 0.5)` → `3`. */
export const quantile = (v: readonly number[], share: number): number =>
  v.length === 0 ? Number.NaN : [...v].sort((a, b) => a - b)[Math.min(v.length - 1, Math.floor(v.length * share))]!

/** Geometric mean; NaN of nothing. */
export const geometric = (v: readonly number[]): number =>
  v.length === 0 ? Number.NaN : Math.exp(v.reduce((s, x) => s + Math.log(Math.max(x, 0.01)), 0) / v.length)

export const ms = (v: number): string => (Number.isNaN(v) ? '–' : v < 10 ? v.toFixed(2) : v.toFixed(0))
export const yes = (good: boolean): string => (good ? 'yes' : '**no**')

export const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => '---'), ...rows].map((r) => `| ${r.join(' | ')} |`).join('\n')

export interface Timed {
  readonly result: SolveResult
  readonly cold: number
  /** Median of runs that follow, after WARM_UP others where the first was short; the first where that was slow. ms. */
  readonly warm: number
}

const SLOW = 3000
const REPEATS = 5

/** What takes less than this is still being compiled by the engine in its first runs, ms. */
export const SHORT = 600

/** So many runs are made of it before any is timed, whoever's it is. */
export const WARM_UP = 10

/** The first answer is checked, then the same solve is timed again, warm. Throws where an answer is not what it says. */
export function timed(name: string, p: Problem, options: SolveOptions): Timed {
  const t = performance.now()
  const result = solve(p, options)
  const cold = performance.now() - t
  mustBeSound(name, p, result)
  const runs = cold > SLOW ? 0 : cold > SHORT ? 3 : REPEATS
  for (let k = 0; k < WARM_UP && cold <= SHORT; k++) solve(p, options)
  const times = Array.from({ length: runs }, () => {
    const s = performance.now()
    solve(p, options)
    return performance.now() - s
  })
  return { result, cold, warm: runs === 0 ? cold : median(times) }
}

/** Throws where the plain checker finds a broken rule, or counts another figure. */
export function mustBeSound(name: string, p: Problem, r: SolveResult): void {
  if (r.status !== 'optimal' && r.status !== 'feasible') return
  const findings = check(p, r.placements)
  if (findings.length > 0) throw new Error(`${name}: the layout breaks ${findings[0]!.rule}: ${findings[0]!.text}`)
  const f = figures(p, r.placements)
  const counted = {
    'free-tie-points': f.freeTiePoints,
    'optional-value': f.optionalValue,
    'new-holes': f.newHoles,
    'wire-length': f.wireLength,
    balance: f.balance ?? 0,
  }
  for (const o of r.objectives) {
    if (Math.abs(o.value - counted[o.name]) > 1e-3)
      throw new Error(`${name}: ${o.name} is said to be ${o.value}, and is ${counted[o.name]}`)
    const over = o.name === 'free-tie-points' || o.name === 'optional-value' ? o.value - o.bound : o.bound - o.value
    if (over > 1e-3) throw new Error(`${name}: ${o.name} ${o.value} is better than its bound ${o.bound}`)
  }
}
