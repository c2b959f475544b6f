/** Layouts with the figures of the best one that are as different from it, and from one another, as the search can make them. */

import { figureOf } from '../check/figures.ts'
import { isMost } from '../objectives.ts'
import type { ObjectiveName, Placement, Problem } from '../problem.ts'
import type { Figures, Hold } from '../result.ts'
import { alike } from '../search/alike.ts'
import { longestShown, stepShown } from '../shown.ts'
import { type Like, matched, namings } from './same-places.ts'
import { SAME, Spread } from './spread.ts'
import { type Limit, measured, staged } from './staged.ts'
import { Budget, type Case, finish, type Slices, type WhatIfOptions } from './trial.ts'

export interface Different {
  readonly placements: readonly Placement[]
  readonly figures: Figures
  /** How far it is (`distanceOf`) from the layout before it that is most like it, Um; 0 for the first. */
  readonly distance: number
  /** No layout with these figures is farther from those before it than this, Um; absent where nothing bounds it. */
  readonly atMost?: number
}

export type DifferentResult =
  | {
      readonly status: 'found'
      /** The best layout first; without slack all have its figures, as they are shown. */
      readonly layouts: readonly Different[]
      /** The first layout's figures are proven best. */
      readonly best: boolean
      /** Proven that no further layout with these figures has any item elsewhere (by 0.01 mm or more), but for like ones that change places. */
      readonly exhausted: boolean
    }
  | { readonly status: 'infeasible' }
  | { readonly status: 'unknown' }

export interface DifferentOptions extends WhatIfOptions {
  readonly pins?: readonly Hold[]
  /** By what part lengths may be worse than the best, 0.05 = 5 %; default 0: none reads worse as it is shown. */
  readonly slack?: number
  /** A layout to start the search for the best from. */
  readonly hint?: readonly Placement[]
}

/** Runs `differing` to its end. */
export function different(problem: Problem, count: number, options: DifferentOptions = {}): DifferentResult {
  return finish(differing(problem, count, options))
}

/** One after the other, each as far as possible from all before it. Which first choice would spread them best is not searched. */
export function* differing(problem: Problem, count: number, options: DifferentOptions = {}): Slices<DifferentResult> {
  const budget = new Budget(options)
  const asked: Case = { problem, pins: options.pins ?? [] }
  const order = measured(problem, problem.objective)
  const first = yield* staged({ asked, order, limits: [], budget, share: 1 / 2, hint: options.hint })
  if (first.status === 'none') return { status: 'infeasible' }
  if (first.status === 'open') return { status: 'unknown' }
  const slack = options.slack ?? 0
  // whoever may lose a hundredth of a wire may gain a balance for it, and that has other figures: then nothing may be lost
  let exact = false
  const limits = (of: Figures): Limit[] => order.map((name) => limitOf(name, figureOf(name, of), slack, exact))
  let layouts: Different[] = [{ placements: first.placements, figures: first.figures, distance: 0 }]
  let best = first.proven
  // rules of whole layouts may tell items apart by their names, but not copies of one
  const like = alike(
    problem,
    asked.pins.map((p) => p.item),
    budget.lazy.length > 0,
  )
  let exhausted = false
  while (layouts.length <= count && !budget.over()) {
    const others = layouts.flatMap((l) => namings(l.placements, like))
    let spread: Spread | undefined
    const share = 1 / Math.max(1, count + 1 - layouts.length)
    const last = (model: ConstructorParameters<typeof Spread>[0]) => {
      spread = new Spread(model, others, like)
      return spread
    }
    const hint = layouts[layouts.length - 1]!.placements
    const out = yield* staged({ asked, order: [], limits: limits(layouts[0]!.figures), budget, share, hint, last })
    if (out.status !== 'found') break
    // limits bound one side only: what was not the best yet may be outdone on the way
    if (slack === 0 && !sameFigures(order, layouts[0]!.figures, out.figures)) {
      if (betterFigures(order, out.figures, layouts[0]!.figures)) {
        layouts = [{ placements: out.placements, figures: out.figures, distance: 0 }]
        best = false
      } else if (exact) break
      else exact = true
      continue
    }
    const distance = Math.min(...layouts.map((l) => distanceOf(problem, l.placements, out.placements, like)))
    if (distance < SAME) {
      exhausted = !exact && out.proven && out.bound <= 0
      break
    }
    const bound = !exact && Number.isFinite(out.bound) && spread ? { atMost: out.bound + spread.unseen } : {}
    // whoever builds it has the fewest to look for elsewhere
    const placements = matched(problem, layouts[0]!.placements, out.placements, like).named
    layouts.push({ placements, figures: out.figures, distance, ...bound })
  }
  return { status: 'found', layouts, best, exhausted }
}

function limitOf(name: ObjectiveName, value: number, slack: number, exact: boolean): Limit {
  // what is counted is held to the last one, whatever lengths may lose
  if (isMost(name) || name === 'new-holes' || exact) return { name, value }
  return { name, value: Math.max(value * (1 + slack), longestShown(name, value)) }
}

/** Whether two layouts have the same figures, as finely as they are proven and shown: whoever gains less on the best has not outdone it. */
export const sameFigures = (order: readonly ObjectiveName[], a: Figures, b: Figures): boolean =>
  order.every((name) => Math.abs(figureOf(name, a) - figureOf(name, b)) <= stepShown(name))

/** Whether the first is better than the second in the first goal in which they differ at all. */
export function betterFigures(order: readonly ObjectiveName[], a: Figures, b: Figures): boolean {
  for (const name of order) {
    const more = figureOf(name, a) - figureOf(name, b)
    if (Math.abs(more) > 1e-3) return more > 0 === isMost(name)
  }
  return false
}

/**
 * Σ |dx| + |dy| of the items' corners, Um; the largest deck's length and width for an item on another deck or in one layout only. Of items that
 * are `like` one another it does not matter which stands where: counted is the naming under which the two are nearest.
 */
export const distanceOf = (
  problem: Problem,
  a: readonly Placement[],
  b: readonly Placement[],
  like: Like = alike(problem),
): number => matched(problem, a, b, like).distance
