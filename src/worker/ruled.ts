/**
 * A solve with the rules of whole layouts. Limits of statics are learned from the start. The rule of routes costs a
 * search what it proves from symmetry, so it is only learned where the layout without it breaks it: that layout then is the hint of
 * a second search.
 */
import {
  type ObjectiveValue,
  type Placement,
  type Problem,
  type Progress,
  type Solved,
  type SolveOptions,
  type SolveResult,
  solving,
} from '../../solver/index.ts'
import { routedRule } from '../electric/routes-rule.ts'
import { bestSoFar } from './best.ts'
import { limited, limitsOf, type Rules, tooShort } from './rules.ts'

/** `short`: why leads are too short in the layout handed out; then it is `feasible` at best. */
export interface Ruled {
  readonly result: SolveResult
  readonly short: readonly string[]
}

/** Of the time, for the search without the rule of routes where its layout breaks it. */
const FIRST = 0.2

const layoutIn = (result: SolveResult): Solved | undefined => ('placements' in result ? result : undefined)

/** What is known of a layout that was found without the rule of routes: where it breaks it, it is not the best of what was asked. */
export function judged(problem: Problem, rules: Rules, result: SolveResult): Ruled {
  const solved = layoutIn(result)
  const short = solved ? tooShort(problem, solved.placements, rules) : []
  return solved && short.length > 0 ? { result: { ...solved, status: 'feasible' }, short } : { result, short }
}

/**
 * In slices, as `solving`. With `steps` each of the two searches may take so many. Where no layout keeps the rule of routes, or none
 * was found in time, the best one without it is handed out with the reasons: R1–R10 alone say what is legal.
 */
export function* ruling(problem: Problem, rules: Rules, options: SolveOptions): Generator<undefined, Ruled, void> {
  const lazy = [...(options.lazy ?? []), ...limitsOf(problem)]
  const { routes } = rules
  const asked: SolveOptions = lazy.length > 0 ? { ...options, lazy } : options
  if (!routes || !limited(problem)) return { result: yield* solving(problem, asked), short: [] }

  const rule = routedRule(routes)
  const keeps = (placements: readonly Placement[]): boolean => rule.find(problem, placements).length === 0
  const begun = performance.now()
  const end = options.time === undefined ? Number.POSITIVE_INFINITY : begun + options.time
  const early = options.time === undefined ? Number.POSITIVE_INFINITY : begun + options.time * FIRST
  let now: readonly Placement[] | undefined
  /** Whether `now` keeps the rule, once it was asked. */
  let kept: boolean | undefined
  let held: readonly Placement[] | undefined
  let first: number | undefined
  const main = problem.objective[0]
  const hear = (p: Progress): void => {
    if (p.placements) {
      now = p.placements
      kept = undefined
    }
    if (p.phase === main && p.bound !== undefined) first = p.bound
    options.onProgress?.(p)
  }
  const signal = {
    get aborted(): boolean {
      if (options.signal?.aborted) return true
      if (!now || performance.now() < early) return false
      kept ??= keeps(now)
      if (kept) held = now
      return !kept
    },
  }
  const plain = yield* solving(problem, { ...asked, signal, onProgress: hear })
  const solved = layoutIn(plain)
  if (!solved || keeps(solved.placements)) return { result: plain, short: [] }

  const left = options.time === undefined ? {} : { time: Math.max(0, end - performance.now()) }
  // what is kept is kept near its own hint; a free search starts at the best that is known
  const hint = options.keep && options.hint ? options.hint : solved.placements
  const again = yield* solving(problem, { ...asked, ...left, hint, lazy: [...lazy, rule] })
  const found = layoutIn(again)
  if (found) return { result: tightened(found, solved), short: [] }
  if (held) {
    const bounds = new Map(main !== undefined && first !== undefined ? [[main, first] as const] : [])
    return judged(problem, rules, bestSoFar(problem, { best: held, bounds }))
  }
  return judged(problem, rules, plain)
}

/** A bound without the rule holds with it too, as long as all objectives before have the same values. */
function tightened(found: Solved, free: Solved): Solved {
  let same = true
  const objectives = found.objectives.map((o, i): ObjectiveValue => {
    const other = free.objectives[i]
    if (!same || !other || other.name !== o.name) return o
    same = other.value === o.value
    const most = o.name === 'free-tie-points' || o.name === 'optional-value'
    const bound = most ? Math.min(o.bound, other.bound) : Math.max(o.bound, other.bound)
    return bound === o.bound ? o : { ...o, bound, proven: o.proven || bound === o.value }
  })
  const status = objectives.every((o) => o.proven) ? 'optimal' : 'feasible'
  return { ...found, status, objectives }
}
