/**
 * A solve with the rules of whole layouts. Limits of statics are learned from the start. The rules of wiring cost a
 * search what it proves from symmetry, so they are only learned where the layout without them breaks one: that layout then is the
 * hint of a second search.
 */
import {
  isMost,
  isProven,
  type ObjectiveValue,
  type Placement,
  type Problem,
  type Progress,
  type Solved,
  type SolveOptions,
  type SolveResult,
  solving,
} from '../../solver/index.ts'
import { bestSoFar } from './best.ts'
import { limitsOf, type Rules, tooShort, wiringRules } from './rules.ts'

/** `short`: why leads are too short, or cannot be joined, in the layout handed out; then it is `feasible` at best. */
export interface Ruled {
  readonly result: SolveResult
  readonly short: readonly string[]
}

/** Of the time, for the search without the rules of wiring where its layout breaks one. */
const FIRST = 0.2

const layoutIn = (result: SolveResult): Solved | undefined => ('placements' in result ? result : undefined)

/** What is known of a layout that was found without the rules of wiring: where it breaks one, it is not the best of what was asked. */
export function judged(problem: Problem, rules: Rules, result: SolveResult): Ruled {
  const solved = layoutIn(result)
  const short = solved ? tooShort(problem, solved.placements, rules) : []
  return solved && short.length > 0 ? { result: { ...solved, status: 'feasible' }, short } : { result, short }
}

/**
 * In slices, as `solving`. With `steps` each of the two searches may take so many. Where no layout keeps the rules of wiring, or none
 * was found in time, the best one without them is handed out with the reasons: R1–R10 alone say what is legal.
 */
export function* ruling(problem: Problem, rules: Rules, options: SolveOptions): Generator<undefined, Ruled, void> {
  const lazy = [...(options.lazy ?? []), ...limitsOf(problem)]
  const wiring = wiringRules(problem, rules)
  const asked: SolveOptions = lazy.length > 0 ? { ...options, lazy } : options
  if (wiring.length === 0) return { result: yield* solving(problem, asked), short: [] }

  const keeps = (placements: readonly Placement[]): boolean =>
    wiring.every((rule) => rule.find(problem, placements).length === 0)
  const begun = performance.now()
  const end = options.time === undefined ? Number.POSITIVE_INFINITY : begun + options.time
  const early = options.time === undefined ? Number.POSITIVE_INFINITY : begun + options.time * FIRST
  let now: readonly Placement[] | undefined
  /** Whether `now` keeps the rules, once they were asked. */
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
  // what no layout can mend is told all the same
  if (!solved || keeps(solved.placements)) return judged(problem, rules, plain)

  const left = options.time === undefined ? {} : { time: Math.max(0, end - performance.now()) }
  // what is kept is kept near its own hint; a free search starts at the best that is known
  const hint = options.keep && options.hint ? options.hint : solved.placements
  const again = yield* solving(problem, { ...asked, ...left, hint, lazy: [...lazy, ...wiring], explain: false })
  const found = layoutIn(again)
  if (found) return judged(problem, rules, tightened(found, solved))
  if (held) {
    const bounds = new Map(main !== undefined && first !== undefined ? [[main, first] as const] : [])
    return judged(problem, rules, bestSoFar(problem, { best: held, bounds }))
  }
  return judged(problem, rules, plain)
}

/** A bound without the rules holds with them too, as long as all objectives before have the same values. */
function tightened(found: Solved, free: Solved): Solved {
  let same = true
  const objectives = found.objectives.map((o, i): ObjectiveValue => {
    const other = free.objectives[i]
    if (!same || !other || other.name !== o.name) return o
    same = other.value === o.value
    const bound = isMost(o.name) ? Math.min(o.bound, other.bound) : Math.max(o.bound, other.bound)
    return bound === o.bound ? o : { ...o, bound, proven: isProven({ ...o, bound }) }
  })
  const status = objectives.every((o) => o.proven) ? 'optimal' : 'feasible'
  return { ...found, status, objectives }
}
