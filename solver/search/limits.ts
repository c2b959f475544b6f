/** Thresholds of a goal of which least is best, each behind a literal. */
import type { Engine } from './engine.ts'

export interface Limit {
  readonly most: number
  readonly guard: number
}

/** The tightest one whose literal is true; undefined where none is. */
export function tightest(e: Engine, limits: readonly Limit[]): Limit | undefined {
  let best: Limit | undefined
  for (const l of limits) if (e.isTrue(l.guard) && l.most < (best?.most ?? Number.POSITIVE_INFINITY)) best = l
  return best
}
