/** The linear programme over a layout's fixed relations. */
import type { Placement, Problem } from './problem.ts'
import type { Model } from './search/model.ts'

export function polish(
  _problem: Problem,
  _model: Model,
  _placements: readonly Placement[],
  _value: number,
): { placements: readonly Placement[]; value: number } | undefined {
  return undefined
}
