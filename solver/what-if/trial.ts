/** One question to the search: does everything that must be placed fit? With the clocks that many such questions share. */
import { check } from '../check/check.ts'
import { type Clock, inSlices } from '../clock.ts'
import { coarsened } from '../coarse.ts'
import { type CompileOptions, compile } from '../compile.ts'
import { heldOffGrid, withHolds } from '../holds.ts'
import { askLazily, firstFinding, type LazyRule } from '../lazy.ts'
import type { Placement, Problem } from '../problem.ts'
import type { Hold } from '../result.ts'
import { type Model, OutOfTime } from '../search/model.ts'
import { Search } from '../search/search.ts'
import { verify } from '../verified.ts'

/** What is asked: a problem, and the items that are held where they are. */
export interface Case {
  readonly problem: Problem
  readonly pins: readonly Hold[]
}

export interface WhatIfOptions {
  /** Milliseconds from now; default none. */
  readonly time?: number
  /** Search steps over all questions together; default none. The same input then gives the same answer. */
  readonly steps?: number
  /** Set `aborted` to stop with what is known so far. */
  readonly signal?: { readonly aborted: boolean }
  /** Rules of whole layouts that every layout keeps. They must hold for the problem however it is changed. */
  readonly lazy?: readonly LazyRule[]
}

/** A generator that gives way every few milliseconds, as `solving` does. */
export type Slices<T> = Generator<undefined, T, void>

const SLICE = 20

/** What one of many questions may take of what is left. */
export const SHARE = 1 / 8

/** The time and the steps that all questions of one what-if share. */
export class Budget {
  private readonly from = performance.now()
  private readonly options: WhatIfOptions
  private spent = 0
  readonly lazy: readonly LazyRule[]

  constructor(options: WhatIfOptions) {
    this.options = options
    this.lazy = options.lazy ?? []
  }

  over(): boolean {
    const { signal, steps, time } = this.options
    return (
      signal?.aborted === true ||
      this.spent >= (steps ?? Number.POSITIVE_INFINITY) ||
      performance.now() - this.from >= (time ?? Number.POSITIVE_INFINITY)
    )
  }

  /** Milliseconds that are left. */
  left(): number {
    return Math.max(0, (this.options.time ?? Number.POSITIVE_INFINITY) - (performance.now() - this.from))
  }

  stepsLeft(): number {
    return Math.max(0, (this.options.steps ?? Number.POSITIVE_INFINITY) - this.spent)
  }

  /** Books steps that another search took. */
  book(steps: number): void {
    this.spent += steps
  }

  /** A clock for one search that may take `share` of what is left. `done` books its steps. */
  clock(search: Search, share = 1): Clock & { done: () => void } {
    const begun = search.steps
    const end = performance.now() + this.left() * share
    const most = this.stepsLeft() * share
    let sliceEnd = 0
    let booked = false
    const used = () => search.steps - begun
    const over = () => this.options.signal?.aborted === true || used() >= most || performance.now() >= end
    return {
      slice: () => used() >= most || performance.now() >= sliceEnd,
      mostSteps: begun + most,
      over,
      next: () => {
        sliceEnd = Math.min(end, performance.now() + SLICE)
      },
      done: () => {
        if (!booked) this.spent += used()
        booked = true
      },
    }
  }
}

/** `open`: time or steps ran out before a layout or a proof. */
export type Verdict =
  | { readonly verdict: 'fits'; readonly placements: readonly Placement[] }
  | { readonly verdict: 'not' }
  | { readonly verdict: 'open' }

/**
 * Does everything that must be placed fit? `fits` comes with a layout that the checker has passed; `not` is proven.
 * Throws only on a bug of ours.
 */
export function* fits(
  asked: Case,
  budget: Budget,
  share = 1,
  hint: readonly Placement[] | undefined = undefined,
): Slices<Verdict> {
  if (budget.over()) return { verdict: 'open' }
  if (heldOffGrid(asked.problem, asked.pins)) return { verdict: 'not' }
  const model = modelOf(asked, budget)
  if (!model) return { verdict: 'open' }
  const search = new Search(model)
  askLazily(search, model, asked.problem, budget.lazy)
  const clock = budget.clock(search, share)
  if (hint) search.follow(hint)
  yield undefined
  const verdict = yield* inSlices(search, [], clock)
  clock.done()
  // what has no room on a coarser grid may have some on the file's own
  if (verdict === 'none') return { verdict: isCoarse(model, asked) ? 'open' : 'not' }
  if (verdict === 'stopped') return { verdict: 'open' }
  const placements = search.placements()
  verify(asked.problem, placements, budget.lazy)
  return { verdict: 'fits', placements }
}

/** Whether a layout is one of this case. */
export function isLegal(asked: Case, placements: readonly Placement[], lazy: readonly LazyRule[]): boolean {
  const problem = withPins(asked)
  return check(problem, placements).length === 0 && !firstFinding(lazy, problem, placements)
}

/** The model of a case, on a coarser grid where its own is too fine to be searched whole; undefined where time ran out first. */
export function modelOf(asked: Case, budget: Budget, options: CompileOptions = {}): Model | undefined {
  // what is held and optional is placed by `held`, and still earns its value
  const problem = withHolds(asked.problem, asked.pins)
  const over = () => budget.over()
  try {
    const held = asked.pins.map((p) => p.item)
    return compile(coarsened(problem) ?? problem, { ...options, held, over, lazy: budget.lazy.length > 0 })
  } catch (e) {
    if (e instanceof OutOfTime) return undefined
    throw e
  }
}

/** Then a refusal, or a bound, says nothing of the case itself. */
export const isCoarse = (model: Model, asked: Case): boolean => model.problem.grid !== asked.problem.grid

/** Then what is held must be there too. */
function withPins({ problem, pins }: Case): Problem {
  const held = new Set(pins.map((p) => p.item))
  const there = withHolds(problem, pins)
  return { ...there, items: there.items.map((i, k) => (held.has(k) ? { ...i, required: true } : i)) }
}

/** Runs slices to their end. */
export function finish<T>(run: Slices<T>): T {
  for (;;) {
    const next = run.next()
    if (next.done) return next.value
  }
}
