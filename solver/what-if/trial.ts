/** One question to the search: does everything that must be placed fit? With the clocks that many such questions share. */
import { check } from '../check/check.ts'
import { type Clock, inSlices } from '../clock.ts'
import { coarsened } from '../coarse.ts'
import { type CompileOptions, compile } from '../compile.ts'
import { askLazily, firstFinding, type LazyRule } from '../lazy.ts'
import type { Item, Placement, Problem } from '../problem.ts'
import type { Hold } from '../result.ts'
import { type Model, OutOfTime } from '../search/model.ts'
import { Search } from '../search/search.ts'

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
  if (isOffGrid(asked)) return { verdict: 'not' }
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
  refuse(asked.problem, placements, budget.lazy)
  return { verdict: 'fits', placements }
}

/** Throws where a layout that was found breaks a rule. */
export function refuse(problem: Problem, placements: readonly Placement[], lazy: readonly LazyRule[]): void {
  const wrong = check(problem, placements)
  if (wrong.length > 0) throw new Error(`a layout that the checker refuses: ${wrong[0]!.rule} ${wrong[0]!.text}`)
  const more = firstFinding(lazy, problem, placements)
  if (more) throw new Error(`a layout that a lazy rule refuses: ${more.text}`)
}

/** Whether a layout is one of this case. */
export function isLegal(asked: Case, placements: readonly Placement[], lazy: readonly LazyRule[]): boolean {
  const problem = withPins(asked)
  return check(problem, placements).length === 0 && !firstFinding(lazy, problem, placements)
}

/** The model of a case, on a coarser grid where its own is too fine to be searched whole; undefined where time ran out first. */
export function modelOf(asked: Case, budget: Budget, options: CompileOptions = {}): Model | undefined {
  const problem = worthTheSame(asked)
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

/** Held items as items that must stand where they are. */
export function withPins({ problem, pins }: Case): Problem {
  if (pins.length === 0) return problem
  const items: Item[] = [...problem.items]
  for (const p of pins) {
    const item = items[p.item]!
    const at = { kind: 'at' as const, deck: p.deck, at: p.at, turn: p.turn }
    items[p.item] = { ...item, required: true, place: [...item.place, at] }
  }
  return { ...problem, items }
}

/** The same, where what is optional still earns its value: it is placed all the same, by `held`. */
export function worthTheSame(asked: Case): Problem {
  const pinned = withPins(asked)
  return { ...pinned, items: pinned.items.map((i, k) => ({ ...i, required: asked.problem.items[k]!.required })) }
}

/** Off the grid nothing can be held, but where an entry of its own fixes the axis, and on a host. */
function isOffGrid({ problem, pins }: Case): boolean {
  return pins.some((p) => {
    const item = problem.items[p.item]!
    if (item.footprint.mount.kind === 'plug-in') return false
    const fixes = (axis: 'x' | 'y') =>
      item.place.some((e) => e.kind === 'at' || (e.kind === 'centred' && e.axis === axis))
    return (['x', 'y'] as const).some((axis) => p.at[axis] % problem.grid !== 0 && !fixes(axis))
  })
}

/** Runs slices to their end. */
export function finish<T>(run: Slices<T>): T {
  for (;;) {
    const next = run.next()
    if (next.done) return next.value
  }
}
